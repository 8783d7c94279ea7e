"""``new`` from start to end: what was said before, the talk, the file, the findings."""

import os
import tempfile
from collections.abc import Mapping
from pathlib import Path

import typer

from ...geometry.judge.evaluate import evaluate
from ...geometry.shape.layout import lay_out
from ...params.problem import BuildFileError, Problem
from ...params.reading import read
from ...params.starter import BY_KEY, QUESTIONS, answers_in, build_text
from ..text import report
from .talk import faults_of, talk

OK, MUST_FAILS, WRONG_INPUT = 0, 1, 2


def from_flags(pairs: list[str]) -> dict[str, str] | list[Problem]:
    """Return the answers given as ``KEY=VALUE``, or what is wrong with their form."""
    said: dict[str, str] = {}
    problems: list[Problem] = []
    for pair in pairs:
        key, equals, value = pair.partition("=")
        if not equals or not value.strip():
            wanted = "a key, an equals sign and a value"
            problems.append(
                Problem(
                    key="--set", read=repr(pair), wanted=wanted, example='--set lip.front="37 in"'
                )
            )
        said[key.strip()] = value.strip().strip('"')
    return problems or said


def refused(file: Path, *, complete: bool, overwrite: bool) -> Problem | None:
    """Say why a file cannot be written, before anything is asked."""
    there = os.path.lexists(file)
    if complete and not there:
        return Problem(
            key=str(file), read="nothing: there is no such file", wanted="a file to go on with"
        )
    if there and not (complete or overwrite):
        return Problem(
            key=str(file),
            read="a file that is there already",
            wanted="a new name, or --complete to go on with it, or --overwrite",
        )
    if file.parent.is_dir() and not os.access(file.parent, os.W_OK):
        return Problem(
            key=str(file), read="a folder that cannot be written", wanted="a name in one that can"
        )
    if file.is_dir() or file.is_symlink():
        return Problem(key=str(file), read="a folder or a link", wanted="the name of a file")
    if not file.parent.is_dir():
        return Problem(
            key=str(file), read="a folder that is not there", wanted="a name in one that is"
        )
    return None


def start(
    file: Path, said: Mapping[str, str], *, complete: bool, talking: bool
) -> int | list[Problem]:
    """Write the build file and return the exit status, or what is wrong with the answers.

    Without a person to ask, required readings that nobody gave are examples and say so; with
    no answers at all the whole file is one example.
    """
    answers: dict[str, str] = {}
    if complete:
        known = _known(file)
        if known is None:
            wanted = "a file as this command wrote it: go on with this one by hand"
            read = "keys or comments that are somebody's own"
            return [Problem(key=str(file), read=read, wanted=wanted)]
        answers.update(known)
    answers.update(said)
    problems = faults_of(answers, file)
    if problems:
        return problems
    if talking:
        return _talk(file, answers)
    keys = BY_KEY if not answers else [each.key for each in QUESTIONS if each.required]
    examples = frozenset(keys) - set(answers)
    _write(file, build_text(answers, examples))
    typer.echo(f"Wrote {file}")
    if examples:
        typer.echo(f"{len(examples)} of its values are examples, not readings: change them.")
    return OK


def _known(file: Path) -> dict[str, str] | None:
    try:
        return answers_in(file.read_text("utf-8"))
    except (OSError, UnicodeDecodeError):
        return None


def _talk(file: Path, answers: dict[str, str]) -> int:
    """Ask at the terminal; whatever ends the talk, what was said is written."""
    ending = "stopped"
    try:
        ending = talk(file, answers, input, typer.echo)
    except (EOFError, KeyboardInterrupt):
        typer.echo("")
    typer.echo("")
    if not answers:
        typer.echo("Nothing was said, nothing was written.")
        return OK
    _write(file, build_text(answers))
    if ending == "stopped":
        typer.echo(f"Wrote what was said so far to {file}.")
        typer.echo(f"Go on with: collarwright new {file} --complete")
        return OK
    typer.echo(f"Wrote {file}")
    typer.echo("")
    try:
        project, source = read(file, lay_out)
    except BuildFileError as error:
        typer.echo(str(error), err=True)
        return WRONG_INPUT
    evaluation = evaluate(project)
    typer.echo(report(project, evaluation, source.file), nl=False)
    return MUST_FAILS if evaluation.verdict == "fail" else OK


def _write(file: Path, text: str) -> None:
    """Write the file whole or not at all."""
    held, name = tempfile.mkstemp(prefix=f".{file.name}-", dir=file.parent)
    try:
        with os.fdopen(held, "w", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
        mask = os.umask(0)
        os.umask(mask)
        Path(name).chmod(0o666 & ~mask)
        Path(name).replace(file)
    except OSError:
        Path(name).unlink(missing_ok=True)
        raise
