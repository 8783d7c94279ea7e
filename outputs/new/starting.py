"""``new`` from start to end: what the file says already, the talk, the file, the findings."""

import os
import signal
from collections.abc import Callable, Mapping
from contextlib import suppress
from pathlib import Path

import typer

from ...geometry.judge.answer import answer
from ...geometry.judge.packed import Question
from ...geometry.shape.layout import lay_out
from ...params.problem import BuildFileError, Problem
from ...params.reading import read
from ...params.starter import (
    BY_KEY,
    EXAMPLES,
    NEEDED,
    QUESTIONS,
    EditError,
    answered,
    answers_in,
    build_text,
    edit,
    makes_sense,
)
from ...params.starter.answers import Said
from ..stops import Stop
from ..terminal import painted, slow
from ..text import report, wrapped
from . import words
from .checking import faults_of
from .keeping import Keeper, unfit
from .opens import opens
from .paper import Paper
from .talk import talk

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
    there, plain = os.path.lexists(file), ""
    if complete and not there:
        plain = "there is no such file to go on with"
        said = "nothing: there is no such file", "a file to go on with"
    else:
        said = unfit(file)
    if there and said is None and not (complete or overwrite):
        wanted = "a new name, or --complete to go on with it, or --overwrite"
        said = "a file that is there already", wanted
        plain = f"there is such a file already; give {wanted}"
    if said is None:
        return None
    return Problem(key=str(file), read=said[0], wanted=said[1], plain=plain)


def start(
    file: Path, said: Mapping[str, str], *, complete: bool, talking: bool
) -> int | list[Problem]:
    """Write the build file and return the exit status, or what is wrong with the answers.

    Without a person to ask, required readings that nobody gave are examples and say so; with
    no answers at all the whole file is one example.
    """
    keeper = Keeper(file, fresh=not os.path.lexists(file))
    with suppress(OSError):
        keeper.sweep()
    text = build_text({}, opens=opens())
    if complete:
        try:
            text = keeper.read()
        except (OSError, UnicodeDecodeError):
            return [_unreadable(file)]
        if answers_in(text) is None:
            return [_unreadable(file)]
    problems = faults_of(said, file, text)
    if problems:
        return problems
    try:
        if said:
            text = edit(text, said, opens())
        if talking:
            return _talk(file, text, keeper, begun=complete or bool(said))
        return _write(file, text, said, keeper, complete=complete)
    except EditError as error:
        return [Problem(key="--set", read="", wanted=f"other keys: {error}")]
    except OSError as error:
        why = error.strerror or "it was made by somebody else meanwhile"
        return [Problem(key=str(file), read=f"nothing written ({why})", wanted="a file to write")]


def _unreadable(file: Path) -> Problem:
    wanted = f"a build file to go on with; `collarwright check {file}` says what is wrong"
    return Problem(key=str(file), read="a file that cannot be made sense of", wanted=wanted)


def _write(
    file: Path, text: str, said: Mapping[str, str], keeper: Keeper, *, complete: bool
) -> int:
    """Write without a person to ask, and say what in the file is no reading."""
    if complete:
        keeper.write(text)
        typer.echo(f"Wrote {file}")
        left = _left(text)
        if left:
            for line in wrapped(f"Still open: {', '.join(left)}.", "", "  "):
                typer.echo(line)
        return OK
    examples = _examples(said)
    keeper.write(build_text(said, examples, opens()))
    typer.echo(f"Wrote {file}")
    if examples:
        typer.echo(f"{len(examples)} of its values are examples, not readings: change them.")
        typer.echo("`collarwright new FILE` at a terminal asks for them one after another.")
    return OK


def _examples(said: Mapping[str, str]) -> frozenset[str]:
    """Return the keys whose examples stand in: all of them, or what no collar goes without."""
    keys = EXAMPLES if not said else frozenset(NEEDED)
    known = {key: BY_KEY[key].example for key in EXAMPLES} | dict(said)
    return frozenset(
        key for key in keys if not answered(BY_KEY[key], said) and makes_sense(BY_KEY[key], known)
    )


def _left(text: str) -> list[str]:
    """Return the keys that a file does not have and that a question would be put for."""
    found = answers_in(text) or Said({})
    return [
        each.key
        for each in QUESTIONS
        if not answered(each, found.answers)
        and makes_sense(each, found.answers)
        and each.key not in found.own
    ]


def _talk(file: Path, text: str, keeper: Keeper, *, begun: bool) -> int:
    """Ask at the terminal; each answer is in the file before the next question is put."""
    paper = Paper(file, text, keeper.write, keeper.changed)
    ending = "stopped"
    try:
        if begun:
            keeper.write(text)
        for line in words.beginning(str(file), new=not begun):
            typer.echo(line)
        ending = talk(paper, _listener(), typer.echo)
    except EOFError:
        typer.echo("")
    except KeyboardInterrupt as stop:
        if isinstance(stop, Stop) and stop.number != signal.SIGINT:
            return 128 + stop.number  # the terminal was closed: there is nobody to say anything to
        typer.echo("")
    typer.echo("")
    if not paper.answers:
        typer.echo("Nothing was said, nothing was written.")
        return OK
    lacking = [key for key in _left(paper.text) if BY_KEY[key].needed]
    if ending == "stopped" and lacking:
        typer.echo(f"What was said is in {file}.")
        for line in wrapped(f"Before anything can be cut it needs: {', '.join(lacking)}.", ""):
            typer.echo(line)
        typer.echo(f"Go on with: collarwright new {file} --complete")
        return OK
    return _findings(file, paper)


def _listener() -> Callable[[str], str]:
    """Return ``input``, with arrow keys that work where that is possible."""
    with suppress(ImportError):
        import readline

        readline.parse_and_bind("set enable-bracketed-paste off")
        readline.set_auto_history(False)
    return input


def _findings(file: Path, paper: Paper) -> int:
    """Print what the checks say, and what to do next."""
    typer.echo(f"Wrote {file}. What the checks say:")
    typer.echo("")
    try:
        project, source = read(file, lay_out)
    except BuildFileError as error:
        typer.echo(str(error), err=True)
        typer.echo(f"Put that right in the file, or with: collarwright new {file} --complete")
        return WRONG_INPUT
    with slow("judging the design"):
        evaluation = answer(project, source.catalogue, Question())
    text = report(project, evaluation, source.file, examples=source.examples, paint=painted)
    typer.echo(text, nl=False)
    typer.echo("")
    fails = evaluation.verdict == "fail"
    stem = file.stem or "collar"
    for line in words.after(str(file), project.show, _left(paper.text), fails=fails, stem=stem):
        typer.echo(line)
    return MUST_FAILS if fails else OK
