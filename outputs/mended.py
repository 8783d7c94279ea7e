"""``check --mend``: a copy of a build file in which no *must* fails, and what was changed in it."""

import os
import tempfile
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from ..geometry.judge import levers
from ..geometry.judge.answer import answer
from ..geometry.judge.evaluate import Evaluation
from ..geometry.judge.finding import Finding
from ..geometry.judge.mend import mend
from ..geometry.judge.packed import Question
from ..geometry.judge.standing import Standing
from ..geometry.judge.trials import Trials
from ..geometry.shape.layout import lay_out
from ..params.problem import BuildFileError, Problem, visible
from ..params.project import Project
from ..params.reading import Source, draft
from ..params.rewrite import rewritten


@dataclass(frozen=True, slots=True, kw_only=True)
class Mended:
    """What was changed, value by key as written, and what still fails (then no copy is there).

    ``source``, ``project``, ``evaluation`` and ``standing`` are the copy's.
    """

    says: tuple[str, ...]
    changes: Mapping[str, str | int | bool]
    left: tuple[Finding, ...]
    project: Project
    source: Source
    evaluation: Evaluation
    standing: Standing | None = None


def refused(new: Path) -> Problem | None:
    """Return why a copy cannot be written to a path, or None."""
    wanted = "a new file: nothing is overwritten"
    name = visible(str(new))
    if os.path.lexists(new):
        plain = f"{name} is there already, and nothing is overwritten; give a new name"
        return Problem(key="--mend", read=str(new), wanted=wanted, plain=plain)
    if not new.parent.is_dir():
        wanted = "a file in a folder that is there"
        plain = f"there is no folder {visible(str(new.parent))} to write {visible(new.name)} in"
        return Problem(key="--mend", read=str(new), wanted=wanted, plain=plain)
    return None


def mended(project: Project, source: Source, new: Path) -> Mended:
    """Write a copy of the build file to ``new`` in which no *must* fails.

    The copy is read and judged like any other build file before it is put in its place.

    Raises:
        BuildFileError: the copy cannot be read where it is to be, such as where its own
            catalogue files are not beside it; or it cannot be written.
    """
    question = Question()
    before = answer(project, source.catalogue, question)
    trials = Trials(project, before, source.catalogue, question)
    found = mend(trials)
    says = tuple(_says(trials, key, value) for key, value in found.changes.items())
    if found.left:
        left = tuple(each for place, each in trials.before.items() if place in found.left)
        return Mended(
            says=says,
            changes=found.changes,
            left=left,
            project=project,
            source=source,
            evaluation=before,
            standing=question.standing(project, before.layout),
        )
    raw = _copy(Path(source.file), found.changes)
    copy = draft(new, raw)
    if copy.problems or copy.project is None:
        raise BuildFileError(copy.problems)
    lay_out(copy.project)
    after = answer(copy.project, copy.source.catalogue, question)
    left = tuple(f for f in after.findings if f.verdict == "fail" and f.weight == "must")
    if not left:
        _put(new, raw)
    return Mended(
        says=says,
        changes=found.changes,
        left=left,
        project=copy.project,
        source=copy.source,
        evaluation=after,
        standing=question.standing(copy.project, after.layout),
    )


def _says(trials: Trials, key: str, value: str | int | bool) -> str:
    old = levers.now(trials.project, trials.base.layout, key)
    was = "" if old is None else f" (was {levers.written(trials.project, key, old)})"
    return f"{key} = {value}{was}"


def _copy(file: Path, changes: Mapping[str, str | int | bool]) -> bytes:
    """Return the bytes of the copy; the file's own line ends stay."""
    raw = file.read_bytes()
    text = rewritten(raw.decode("utf-8-sig"), changes)
    return text.encode()


def _put(new: Path, raw: bytes) -> None:
    """Write a file whole or not at all, and never over another one."""
    try:
        handle, name = tempfile.mkstemp(prefix=f".{new.name[:80]}-", dir=new.parent)
        try:
            with os.fdopen(handle, "wb") as stream:
                stream.write(raw)
            umask = os.umask(0)
            os.umask(umask)
            Path(name).chmod(0o666 & ~umask)
            os.link(name, new)
        finally:
            Path(name).unlink()
    except OSError as error:
        wanted = "a place where a file can be written"
        read = f"{new} ({error.strerror})"
        raise BuildFileError([Problem(key="--mend", read=read, wanted=wanted)]) from None
