"""Reads the printer's test page back: every bar, the square, the circle, the edges' lines."""

import math
from collections.abc import Iterator, Sequence
from pathlib import Path

from .pdf import Size, paper_faults, read
from .pdf_page import Line, Page
from .pdf_parts import TOLERANCE, bars
from .printer import Printer

ALL_BARS = {"check 100 mm": 100.0, "check 4 in": 101.6, "check 200 mm": 200.0, "check 8 in": 203.2}
"""What a bar says, and its length, mm (1 in = 25.4 mm)."""

LONG_FROM = 245.0
"""A side of a page from which on it has to have the long bars too, mm."""

SIDE, CIRCLE, REACH = 100.0, 50.0, 15
"""The square's side, the circle, and how many lines stand at each edge, mm apart."""

SAYS = (
    "printer's test page",
    "print this page at actual size, 100 %",
    "turn off fit to page, shrink and scale",
    "98 to 102",
    "--printed",
    "measure all bars from tick to tick",
)


def compare(
    path: Path,
    *,
    paper: Sequence[Size] | None = None,
    sha256: str = "",
    printer: Printer | None = None,
) -> list[str]:
    """Read the test page and say what on it is not true; see ``pdf.compare``."""
    document = read(path, printer)
    faults = [*paper_faults(document, (), (0.0, 0.0), paper, numbered=False, tells_printer=False)]
    if len(document.pages) != 1:
        faults.append(f"has {len(document.pages)} pages, not one")
    for page in document.pages:
        faults += _page_faults(page, sha256, printer)
        sheet = page.sheet or (page.width, page.height)
        if paper and all(None not in size for size in paper) and sheet[0] > sheet[1]:
            faults.append("lies on its long side: level bars would go up the sheet")
    return [f"{path.name}: {fault}" for fault in faults]


def _page_faults(page: Page, sha256: str, printer: Printer | None) -> Iterator[str]:
    said = " ".join(text.text for text in page.texts).lower()
    wanted = [*SAYS, *([f"build file {sha256[:12]}"] if sha256 else [])]
    wanted += [printer.says] if printer else []
    yield from (f"does not say {text!r}" for text in wanted if text.lower() not in said)
    for upright, way, room in ((False, "level", page.width), (True, "upright", page.height)):
        for name, length in ALL_BARS.items():
            lengths = [
                bar.length
                for bar in bars(page, ALL_BARS)
                if (bar.text, bar.upright) == (name, upright)
            ]
            if not lengths and (length < 150 or room >= LONG_FROM):
                yield f"no {way} bar {name!r}"
            for found in lengths:
                if abs(found - length) > TOLERANCE:
                    yield f"the {way} bar {name!r} is {found:.2f} mm long"
    yield from _square_faults(page)
    yield from _reach_faults(page)


def _square_faults(page: Page) -> Iterator[str]:
    """Look for the circle, and about its middle for the square's sides and diagonals."""
    rings = [each for each in page.circles if abs(each.diameter - CIRCLE) <= TOLERANCE]
    if len(rings) != 1:
        yield f"{len(rings)} circles of {CIRCLE:g} mm, not one"
        return
    x, y, half = rings[0].x, rings[0].y, SIDE / 2
    ways = ((-half, -half), (half, -half), (half, half), (-half, half))
    corners = [(x + dx, y + dy) for dx, dy in ways]
    for a, b in ((0, 1), (1, 2), (2, 3), (3, 0), (0, 2), (1, 3)):
        if not any(_is(line, corners[a], corners[b]) for line in page.lines):
            yield f"the square lacks its line from corner {a + 1} to corner {b + 1}"


def _is(line: Line, a: tuple[float, float], b: tuple[float, float]) -> bool:
    ends = (line.x1, line.y1), (line.x2, line.y2)
    return any(
        math.dist(one, a) <= TOLERANCE and math.dist(other, b) <= TOLERANCE
        for one, other in (ends, ends[::-1])
    )


def _reach_faults(page: Page) -> Iterator[str]:
    """Look for a short line at every mm inside each edge, with its number in line with it."""
    short = [line for line in page.lines if 3 < line.length < 4]
    for name, edge, way, level in (
        ("left", 0.0, 1, False), ("right", page.width, -1, False),
        ("lower", 0.0, 1, True), ("upper", page.height, -1, True),
    ):  # fmt: skip
        for i in range(1, REACH + 1):
            at = edge + way * i
            there = [
                line
                for line in short
                if all(abs((y if level else x) - at) <= TOLERANCE
                       for x, y in ((line.x1, line.y1), (line.x2, line.y2)))
            ]  # fmt: skip
            if not any(_numbered(page, line, i, level, edge) for line in there):
                yield f"no line {i} mm from the {name} edge with its number"


def _numbered(page: Page, line: Line, number: int, level: bool, edge: float) -> bool:
    middle = (line.x1 + line.x2) / 2, (line.y1 + line.y2) / 2
    for text in page.texts:
        if text.text != str(number):
            continue
        x, y = text.x + text.width / 2, text.y + text.size * 0.36
        beside = abs((x - middle[0]) if level else (y - middle[1]))
        if beside < 1.0 and abs((y if level else x) - edge) < REACH + 5:
            return True
    return False
