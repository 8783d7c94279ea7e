"""Catalogues of things that can be bought, each figure with its low, high, basis and source.

The built-in rows are CSV files in ``data/``, read on first use and kept for the process. A file
of the same name beside the build file adds rows, or replaces figures of rows with the same id::

    board = load("lumber")["board-1x6"]
    board.value("thickness")  # 19.05, in mm
"""

import os
import re
from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path

from ..problem import BuildFileError, Problem
from .csv_file import read_rows
from .rows import CatalogueError, Figure, Row
from .schema import SCHEMAS, Column, Schema

__all__ = [
    "NAMES",
    "SCHEMAS",
    "CatalogueError",
    "Column",
    "Figure",
    "Row",
    "Schema",
    "as_json",
    "load",
    "near",
    "read_text",
]

NAMES: tuple[str, ...] = tuple(SCHEMAS)
"""Every catalogue, in the order in which they are listed."""

MAX_BYTES = 1 << 20
"""A catalogue file larger than this (1 MiB) was meant for something else."""

_DATA = Path(__file__).parent / "data"
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069]")
"""What no cell may hold: it breaks a line, or makes a text read as something else."""


def load(name: str, beside: Path | None = None) -> dict[str, Row]:
    """Return the rows of one catalogue by id, built-in rows first.

    Args:
        name: One of ``NAMES``.
        beside: The build file's folder; a file ``NAME.csv`` there adds and replaces rows.

    Raises:
        CatalogueError: No catalogue has that name, or a built-in file is wrong.
        BuildFileError: The file in ``beside`` cannot be used; it has every problem found.
    """
    if name not in SCHEMAS:
        raise CatalogueError(f"no catalogue is called {name!r}; there are " + ", ".join(NAMES))
    rows = dict(_built_in(name))
    if beside is None:
        return rows
    path = beside / f"{name}.csv"
    text = read_text(path)
    if text is None:
        return rows
    if isinstance(text, Problem):
        raise BuildFileError([text])
    own, problems = read_rows(SCHEMAS[name], str(path), text, rows)
    if problems:
        raise BuildFileError(problems)
    return rows | own


@cache
def _built_in(name: str) -> Mapping[str, Row]:
    text = read_text(_DATA / f"{name}.csv")
    if not isinstance(text, str):
        raise CatalogueError(str(text or f"{name}.csv is missing: the installation is incomplete"))
    rows, problems = read_rows(SCHEMAS[name], f"{name}.csv", text)
    if problems:
        raise CatalogueError("\n".join(map(str, problems)))
    return rows


def read_text(path: Path) -> str | Problem | None:
    """Return the text of a CSV file, what keeps it from being one, or None if it is not there.

    It is at most ``MAX_BYTES`` of UTF-8 without control characters.
    """
    file = str(path)

    def refuse(read: str, wanted: str) -> Problem:
        return Problem(key="", read=read, wanted=wanted, file=file)

    try:
        if not os.path.lexists(path):
            return None
        if not path.is_file():
            return refuse("something that is not a file", "a CSV file")
        with path.open("rb") as stream:
            raw = stream.read(MAX_BYTES + 1)
    except OSError as error:
        return refuse(f"nothing ({error.strerror})", "a file that can be read")
    if len(raw) > MAX_BYTES:
        return refuse("more than 1 MiB", "a CSV file of at most 1 MiB")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        return refuse(f"byte 0x{raw[error.start]:02x}", "text saved as UTF-8").at(file, line)
    found = _CONTROL.search(text)
    if found:
        line = text.count("\n", 0, found.start()) + 1
        read = f"control character U+{ord(found.group()):04X}"
        return refuse(read, "plain text, values separated by commas").at(file, line)
    return text


def near(name: str, id: str, rows: Iterable[str] | None = None) -> list[str]:  # noqa: A002
    """Return up to three ids that somebody who wrote ``id`` may have meant, the likeliest first.

    Args:
        name: One of ``NAMES``.
        id: What was written.
        rows: The ids to choose from; the built-in rows of the catalogue if left out.
    """
    from difflib import SequenceMatcher  # only a mistake pays for it

    written = "-".join(id[:60].lower().replace("/", "-").replace("_", "-").split())
    matcher = SequenceMatcher(b=written, autojunk=False)
    marks: list[tuple[float, str]] = []
    for known in _built_in(name) if rows is None else rows:
        matcher.set_seq1(known)
        # what was written may be the end of an id ("1x6"), which difflib alone rates low
        mark = matcher.ratio() + (0.5 if written and f"-{known}-".find(f"-{written}-") >= 0 else 0)
        if mark >= 0.6:
            marks.append((-mark, known))
    return [known for _, known in sorted(marks)[:3]]


def as_json(row: Row) -> dict[str, object]:
    """Return a row as ``catalog NAME --json`` prints it; blank figures and texts are left out."""
    figures: dict[str, object] = {
        name: {
            "value": figure.value,
            "low": figure.low,
            "high": figure.high,
            "unit": figure.unit,
            "basis": figure.basis,
            "source": figure.source,
        }
        for name, figure in row.figures.items()
    }
    return {"id": row.id, "name": row.name, **figures, **row.texts}
