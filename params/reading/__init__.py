"""A build file -> ``Project``, or everything that is wrong with it, each with file and line.

``document`` makes values and lines of the file, ``tables`` and ``limits`` make types of them,
``parts`` fetches the catalogue rows, and ``cross`` looks at what one key asks of another.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, cast

from .. import catalogue
from ..catalogue import Row
from ..problem import BuildFileError, Problem
from ..project import Limits, Project
from .cross import cross_check
from .document import Document, document_of, open_document
from .keys import REQUIRED, find
from .limits import read_limits
from .notes import Notes
from .parts import Catalogues, resolve, supplies
from .paths import parent, shown
from .refusals import refuse
from .tables import frozen, tables

_FIT = {
    "lip",
    "board",
    *(f"lip.{key}" for key in ("front", "right", "back", "left", "tape")),
    "lip.front_left_to_back_right",
    "lip.front_right_to_back_left",
    *(f"board.{key}" for key in ("stock", "thickness", "width", "overhang", "follow")),
}
"""What every place in the layout hangs on: without one of these nothing can be said of it."""

_PLACING = {"count", "spacing", "positions", "offset"}
"""Keys of a row of taps that stand in for one another."""


@dataclass(frozen=True, slots=True)
class Source:
    """What was read, kept for messages.

    ``file`` is the path as given; ``lines`` maps keys as messages write them
    (``taps[2].height``) to lines counted from 1; ``examples`` counts the values that ``new``
    wrote as examples and nobody has changed.
    """

    file: str
    sha256: str
    lines: Mapping[str, int]
    examples: int = 0

    def catalogue(self, name: str) -> Mapping[str, Row]:
        """Return a catalogue's rows, with what lies beside the build file.

        Raises:
            BuildFileError: the file beside it cannot be used any more.
        """
        return catalogue.load(name, Path(self.file).parent)

    def line(self, key: str) -> int | None:
        """Return the line of a key, of its table where it has none itself, else None."""
        while key:
            if key in self.lines:
                return self.lines[key]
            key = parent(key)
        return None

    def place(self, problem: Problem) -> Problem:
        """Return a problem with file and line; one that has a file already stays as it is."""
        return problem if problem.file else problem.at(self.file, self.line(problem.key))


@dataclass(frozen=True, slots=True)
class Draft:
    """A build file as far as it can be used.

    ``project`` lacks the keys named in ``dropped``, which cannot be used as written; it is
    None where not even lip and board can.
    """

    source: Source
    project: Project | None
    problems: tuple[Problem, ...]
    dropped: frozenset[str]


def read(path: Path, also: Callable[[Project], object] | None = None) -> tuple[Project, Source]:
    """Read a build file and the catalogue files beside it.

    Args:
        path: the file.
        also: is called with the project, for more that can be wrong with it; what it raises
            as ``BuildFileError`` is reported along with the rest.

    Raises:
        BuildFileError: with every problem, in the order of the lines.
    """
    found = draft(path)
    problems = list(found.problems)
    if also is not None and found.project is not None and not _FIT & found.dropped:
        notes = Notes(dropped=set(found.dropped))
        try:
            also(found.project)
        except BuildFileError as error:
            problems += [
                found.source.place(each)
                for each in error.problems
                if not notes.doubtful(each.key, *each.keys) and not _placed(each, notes)
            ]
        except Exception:
            # A project with keys left out may ask too much; what is known already is said.
            if not problems:
                raise
    if problems or found.project is None:
        raise BuildFileError(_in_order(problems, found.source.file))
    return found.project, found.source


def _placed(problem: Problem, notes: Notes) -> bool:
    """Return whether a problem with a tap's place may come from a key that was dropped."""
    row, _, last = problem.key.rpartition(".")
    if not row.startswith("taps") or last not in _PLACING:
        return False
    return notes.doubtful(*(f"{row}.{key}" for key in _PLACING))


def draft(path: Path, raw: bytes | None = None) -> Draft:
    """Read a build file as far as possible; whatever a person can do wrong becomes a problem.

    ``raw`` is read in place of the file where it is given, as if it stood there.
    """
    document = open_document(path) if raw is None else document_of(raw, str(path))
    source = Source(document.file, document.sha256, document.lines, document.examples)
    notes = Notes(dropped=set(document.doubtful))
    catalogues = Catalogues(path.parent, notes)
    project = None
    if document.values is not None:
        project = _project(document, catalogues, notes)
    if document.sha256:
        catalogues.read_all_beside()
    problems = _merged(document, [source.place(each) for each in notes.problems])
    return Draft(
        source=source,
        project=project,
        problems=tuple(_in_order(problems, source.file)),
        dropped=frozenset(notes.dropped),
    )


def _in_order(problems: list[Problem], file: str) -> list[Problem]:
    """Sort by file, the build file first, and by line; what has no line comes last."""
    return sorted(
        problems, key=lambda each: (each.file != file, each.file, each.line or float("inf"))
    )


def _project(document: Document, catalogues: Catalogues, notes: Notes) -> Project | None:
    """Make a project of a document's values, noting all that is wrong."""
    data = cast("dict[str, object]", frozen(document.values))
    refuse(data, notes)
    found = tables(data, notes)
    parts = resolve(found, catalogues, notes)
    for name in REQUIRED:
        key = find(name)
        if name not in data and key is not None and not notes.doubtful(name):
            notes.add(name, "nothing", f"{key.wanted}: {_NEEDS[name]}", key.filled)
            notes.drop(name)
    cross_check(found, parts, notes)
    limits = _limits(data.get("limits", {}), notes)
    if "lip" not in found or "board" not in found:
        return None
    if "taps" in notes.dropped:
        found["taps"] = ()
    manifold: Any = found.get("manifold")
    if manifold and not (manifold.kind or (manifold.length and manifold.height and manifold.depth)):
        del found["manifold"]
    known = cast("dict[str, Any]", found)
    return Project(**known, limits=limits, parts=parts, supplies=supplies(catalogues))


_NEEDS = {
    "lip": "front, right, back and left of the freezer's rim",
    "board": "stock, or thickness and width",
    "taps": "count (and spacing, if more than one) or positions, and bore",
}


def _limits(value: object, notes: Notes) -> Limits:
    if isinstance(value, dict):
        return read_limits(cast("dict[str, object]", value), notes)
    notes.add("limits", shown(value), "the table [limits]", "[limits]")
    return Limits()


def _merged(document: Document, problems: list[Problem]) -> list[Problem]:
    """Join what is wrong with a value to the slip in the same line: one error each."""
    left: list[Problem] = []
    for slip in document.problems:
        known = document.slips.get(slip.line or 0)
        place = next((i for i, each in enumerate(problems) if _same(slip, each)), None)
        if known is None or known.mended is None or place is None:
            left.append(slip)
            continue
        old = problems[place]
        alone = known.read == "nothing" or (known.quotes and '"' not in old.example)
        wanted = old.wanted if alone else f"{known.wanted}; {old.wanted}"
        read = known.read if old.key == slip.key else old.read
        problems[place] = replace(old, read=read, wanted=wanted)
    return left + problems


def _same(slip: Problem, other: Problem) -> bool:
    """Return whether a problem is about the value in a slip's line."""
    if (slip.file, slip.line) != (other.file, other.line) or slip.read.startswith("["):
        return False
    rest = other.key.removeprefix(slip.key)
    return other.key.startswith(slip.key) and (not rest or rest[0] in ".[")
