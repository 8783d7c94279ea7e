"""Reads the lists back: CSV files cell by cell, and the workshop book page by page.

Nothing comes from whoever wrote them: CSV is read by Python's own reader in its strict mode, the
book by what is seen on its pages. Spaces and what is not ASCII are passed over where a text is
looked for: lines are broken anywhere, and the font may lack a sign.
"""

import csv
import io
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from ...params.units import UnitError, parse
from .pdf import FAILING, read
from .pdf_page import Line, Page, Text

Row = tuple[str, ...]

FORMULA = "=+-@\t\r\n"
FIGURE = re.compile(r"[-+]?\d+( \d+/\d+|/\d+|\.\d+)?( (in|mm|deg))?")
WRITTEN_OUT = re.compile(r"<U\+[0-9A-F]{4,6}>")

MM = ", mm"
"""Ends the name of a column whose figures are those of the column before that comma, in mm."""

ROUNDED = 25.4 / 64 + 0.05 + 1e-6
"""How far figures in 1/32 in and in 0.1 mm of the same length can be apart, mm."""

LEFT, RIGHT, EDGE = 22.0, 14.0, 11.0
"""Clear at the book's left and right, and at its lower and upper edge, mm."""

BOX = 3.4
"""A box to tick, mm."""

FOOT = 17.0
"""Over the line at the book's foot, mm."""

NEAR = 0.05
LONG_WORD, LONG_CELL = 24, 200
"""Letters of a word, and of a cell, from which on it may end in an ellipsis."""


@dataclass(frozen=True, slots=True)
class List:
    """A list as it has to be found; ``told`` are the columns that stand in the book, from 0."""

    name: str
    header: Row
    rows: tuple[Row, ...]
    told: frozenset[int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Book:
    """What has to be found in the book.

    ``said`` are headings and sentences, one that is in it twice to be found twice; ``ticks`` is
    how many boxes there are; ``failures`` how many checks fail; ``width`` and ``height`` are the
    paper's, mm.
    """

    title: str
    sha256: str
    said: tuple[str, ...]
    ticks: int
    failures: int
    width: float
    height: float


def compare_csv(path: Path, wanted: List | None) -> list[str]:
    """Read a list's CSV file and say what in it is not as it should be."""
    if wanted is None:
        return [f"{path.name}: no such list was asked for"]
    try:
        text = path.read_bytes().decode("utf-8")
        rows = [tuple(row) for row in csv.reader(io.StringIO(text, newline=""), strict=True)]
    except (UnicodeDecodeError, csv.Error) as error:
        return [f"{path.name} cannot be read: {error}"]
    return [f"{path.name}: {each}" for each in _csv_faults(text, rows, wanted)]


def _csv_faults(text: str, rows: Sequence[Row], wanted: List) -> Iterator[str]:
    if not text.endswith("\n") or "\r" in text:
        yield "its lines do not end as they should"
    if not rows or rows[0] != wanted.header:
        yield f"its header is not {', '.join(wanted.header)}"
        return
    if len(rows) - 1 != len(wanted.rows):
        yield f"has {len(rows) - 1} rows, not {len(wanted.rows)}"
    for number, (found, row) in enumerate(zip(rows[1:], wanted.rows, strict=False), 2):
        if len(found) != len(row):
            yield f"line {number} has {len(found)} cells, not {len(row)}"
            continue
        for name, one, other in zip(wanted.header, found, row, strict=True):
            if one.lstrip(" ")[:1] in FORMULA and one.strip() and not FIGURE.fullmatch(one):
                yield f"line {number}, {name}: {one[:40]!r} would be run as a formula"
            elif not _same(one, other):
                yield f"line {number}, {name}: {one[:60]!r} is not {other[:60]!r}"
        yield from (f"line {number}, {each}" for each in _figures(wanted.header, found))


def _same(found: str, wanted: str) -> bool:
    if wanted.isascii() and wanted.isprintable():
        return found == wanted or found == f"'{wanted}"
    return _bare(found).removeprefix("'") == _bare(wanted).removeprefix("'")


def _figures(header: Row, row: Row) -> Iterator[str]:
    """Hold a column in mm against the column whose figures it repeats."""
    cells = dict(zip(header, row, strict=True))
    for name, cell in cells.items():
        told = cells.get(name.removesuffix(MM), "") if name.endswith(MM) else ""
        if not told or " x " in told:
            continue
        try:
            if abs(parse(told, "length") - float(cell)) > ROUNDED:
                yield f"{name}: {cell} is not {told}"
        except (UnitError, ValueError):
            yield f"{name}: {cell!r} is no figure for {told!r}"


def compare_book(path: Path, book: Book, lists: Sequence[List]) -> list[str]:
    """Read the workshop book and say what in it is not as it should be."""
    document = read(path)
    faults = [f"font {name} is not in the file" for name in document.missing_fonts]
    pages = document.pages
    for page in pages:
        faults += (f"page {page.number}: {each}" for each in _page_faults(page, book, len(pages)))
    told = _bare("".join(text.text for page in pages for text in _body(page, book)))
    for said, count in Counter(book.said).items():
        times = told.count(_bare(said))
        if times < count:
            often = "" if count == 1 else f" {count} times, but {times}"
            faults.append(f"does not say {said[:60]!r}{often}")
    for each in lists:
        if each.told:
            for whole in (each.header, *each.rows):
                row = tuple(whole[column] for column in sorted(each.told))
                if not _has(told, row):
                    faults.append(f"{each.name}: no row {' | '.join(row)[:80]!r}")
    boxes = sum(len(list(_boxes(page))) for page in pages)
    if boxes != book.ticks:
        faults.append(f"has {boxes} boxes to tick, not {book.ticks}")
    return [f"{path.name}: {each}" for each in faults]


def _body(page: Page, book: Book) -> Iterator[Text]:
    """Yield the texts between the failures at the top of a page and its foot."""
    top = page.height - EDGE - (10.0 + 4.0 * min(book.failures, 4) if book.failures else 0.0)
    for text in page.texts:
        if FOOT < text.y < top:
            yield text


def _bare(text: str) -> str:
    """Return what of a text is found on any page: ASCII, without spaces."""
    text = WRITTEN_OUT.sub("", text)
    return "".join(sign for sign in text if sign.isascii() and sign.isprintable() and sign != " ")


def _has(told: str, row: Row) -> bool:
    """Whether a row stands in the book, cell after cell, the long ones at least begun."""
    if _bare("".join(row)) in told:
        return True
    at = 0
    for cell in row:
        words = cell.split()
        long = len(cell) > LONG_CELL or any(len(word) > LONG_WORD for word in words)
        begun = _bare(words[0])[: LONG_WORD // 2] if long else _bare(cell)
        at = told.find(begun, at)
        if at < 0:
            return False
        at += len(begun)
    return any(len(word) > LONG_WORD for cell in row for word in cell.split()) or any(
        len(cell) > LONG_CELL for cell in row
    )


def _page_faults(page: Page, book: Book, count: int) -> Iterator[str]:
    if abs(page.width - book.width) > NEAR or abs(page.height - book.height) > NEAR:
        yield f"is {page.width:.2f} x {page.height:.2f} mm"
    if page.rotate:
        yield f"is turned by {page.rotate} degrees"
    if page.unread:
        yield f"holds what cannot be read back: {', '.join(page.unread)}"
    said = [text.text for text in page.texts]
    if f"page {page.number} of {count}" not in said:
        yield f"does not say that it is page {page.number} of {count}"
    if not any(text.startswith(f"build file {book.sha256[:12]}") for text in said):
        yield "does not say which build file it was made from"
    if book.failures and not any(text.startswith(f"{FAILING} {book.failures} ") for text in said):
        yield f"does not say {FAILING!r}"
    if len(said) <= (5 + min(book.failures, 4) if book.failures else 3):
        yield "is empty"
    for text in page.texts:
        if text.mirrored:
            yield f"{text.text[:40]!r} is mirrored"
        if not _inside(page, text.x, text.y, text.turn_deg, text.width):
            yield f"{text.text[:40]!r} runs into the margin"


def _inside(page: Page, x: float, y: float, turn_deg: float, width: float) -> bool:
    """Whether a text's baseline lies inside the margins, from its start to its end."""
    turned = round(turn_deg) % 360
    dx, dy = {0: (width, 0.0), 90: (0.0, width), 180: (-width, 0.0), 270: (0.0, -width)}.get(
        turned, (0.0, 0.0)
    )
    return all(
        LEFT - NEAR <= px <= page.width - RIGHT + NEAR and EDGE <= py <= page.height - EDGE
        for px, py in ((x, y), (x + dx, y + dy))
    )


def _boxes(page: Page) -> Iterator[Line]:
    """Yield the lower edge of each square of a box's size at the left margin."""
    sides = [line for line in page.lines if abs(line.length - BOX) < NEAR]
    ends = {_ends(line) for line in sides}
    for line in sides:
        (x0, y0), (x1, y1) = _ends(line)
        if y0 != y1 or x0 > LEFT + 2.0:
            continue
        top = next((e for e in ends if e[0][0] == x0 and abs(e[0][1] - y0 - BOX) < NEAR), None)
        if top is not None and any(
            abs(e[0][0] - x1) < NEAR and abs(e[0][1] - y0) < NEAR and e[1][1] > y0 + NEAR
            for e in ends
        ):
            yield line


def _ends(line: Line) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return a line's ends, the lower or left one first, to 0.01 mm."""
    one = round(line.x1, 2), round(line.y1, 2)
    other = round(line.x2, 2), round(line.y2, 2)
    return (one, other) if one <= other else (other, one)
