"""The printer's test page: bars to measure, a square with diagonals, a circle, the edges' reach.

It stands upright on the build's paper, so that its level bars lie across the sheet and its upright
ones go up it. All is true mm, as on a template.
"""

from collections.abc import Iterator

from ..paper.marks import Mark, Page, Pen, Ring, Words, line, rectangle
from ..paper.printed import EXAMPLE, LEAST, MOST, upright
from ..paper.sizes import ROLLS, SHEET
from .furniture import BARS, MARGIN, Job
from .plain import heading, paragraphs

NAME = "test-page"
TITLE = "printer's test page"

LONG_BARS = (("check 200 mm", 200.0), ("check 8 in", 8 * 25.4))
"""Beside those of every template, where the paper has room for them."""

SIDE, CIRCLE = 100.0, 50.0
"""Of the square, and across the circle, mm."""

REACH = 15
"""From how far inside the page's edge on lines tell how far the printer reaches, mm."""

EDGE = 18.0
"""Clear of what else is drawn, for those lines, mm."""

SIDE_REACH = 96.0
"""Height of the middle of those lines at the left and right edge, mm: clear of bars and texts."""

BOLD, THIN = Pen(0.6), Pen(0.2)
PITCH = 10.0
SIZE, ROW = 3.1, 4.3
LEAST_PAGE = 300.0, 300.0
"""A page that may be as large as it likes, mm."""


def page(paper: str, job: Job) -> Page:
    """Lay out the test page.

    Raises:
        ValueError: no such paper.
    """
    sheet = upright(paper, job.printed, LEAST_PAGE)
    marks = [
        *_upright_bars(sheet.height),
        *_level_bars(sheet.width),
        *_square(EDGE + 4 * PITCH + 13.0, EDGE + PITCH * len(fitting(sheet.width)) + 6.0),
        *_reach(sheet.width, sheet.height),
        *_texts(sheet.width, sheet.height, paper, job),
    ]
    return Page(sheet.width, sheet.height, tuple(marks), sheet.scale)


def fitting(room: float) -> list[tuple[str, float]]:
    """Return the bars that a page takes along a side of it, the shortest first."""
    return [*BARS, *(bar for bar in LONG_BARS if bar[1] + 2 * EDGE <= room)]


def _upright_bars(height: float) -> Iterator[Mark]:
    for i, (text, length) in enumerate(fitting(height)):
        x, y = EDGE + 8.0 + PITCH * i, EDGE + 2.0
        yield line(x, y, x, y + length, BOLD)
        for end in (y, y + length):
            yield line(x - 2.5, end, x + 2.5, end, THIN)
        yield Words(x - 1.6, y + length / 2, 3.6, text, "middle", 90)


def _level_bars(width: float) -> Iterator[Mark]:
    for i, (text, length) in enumerate(fitting(width)):
        x, y = EDGE + 4 * PITCH + 13.0, EDGE + 4.0 + PITCH * i
        x = min(x, width - EDGE - length)
        yield line(x, y, x + length, y, BOLD)
        for end in (x, x + length):
            yield line(end, y - 2.5, end, y + 2.5, THIN)
        yield Words(x + length / 2, y + 1.6, 3.6, text, "middle")


def _square(x: float, y: float) -> Iterator[Mark]:
    """Draw the square with both diagonals, and the circle about its middle."""
    yield rectangle(x, y, SIDE, SIDE, BOLD)
    yield line(x, y, x + SIDE, y + SIDE, THIN)
    yield line(x, y + SIDE, x + SIDE, y, THIN)
    yield Ring(x + SIDE / 2, y + SIDE / 2, CIRCLE, BOLD)
    yield Words(x + SIDE / 2, y + SIDE / 2 + CIRCLE / 2 + 9.0, 3.0, "circle 50 mm across", "middle")
    yield Words(x + SIDE / 2, y + 4.0, 3.0, "square 100 mm, diagonals 141.4 mm", "middle")


def _reach(width: float, height: float) -> Iterator[Mark]:
    """Draw a stair of lines at each edge, each so many mm inside it as its number says."""
    for i in range(1, REACH + 1):
        along = 4.6 * (i - (REACH + 1) / 2)
        x, y = width / 2 + along, SIDE_REACH + along
        number, far = str(i), REACH + 0.8
        for edge, way in ((0.0, 1), (height, -1)):
            yield line(x - 1.8, edge + way * i, x + 1.8, edge + way * i, THIN)
            yield Words(x, edge + way * far - (1.7 if way < 0 else 0.0), 2.2, number, "middle")
        for edge, way in ((0.0, 1), (width, -1)):
            yield line(edge + way * i, y - 1.8, edge + way * i, y + 1.8, THIN)
            yield Words(edge + way * (far + 1.8), y - 0.8, 2.2, number, "middle")


def which_way(paper: str) -> str:
    """Say which bars go with which number of the pair."""
    if paper in ROLLS:
        return (
            "Level bars lie across the roll, upright bars along it. A page wider than the roll is"
            " turned; it is scaled to match by itself."
        )
    if paper == SHEET:
        return (
            "Level bars tell the first number, upright bars the second, as this page is seen. For"
            " pages this large no rule is known of how the printer turns them: see that it prints"
            " this page and the templates the same way round."
        )
    return (
        "Level bars lie across the sheet, upright bars go up it. A template that lies on its long"
        " side is turned by the printer; it is scaled to match by itself."
    )


def _said(paper: str, job: Job) -> Iterator[str]:
    yield "Print this page at actual size, 100 %, as you print the templates."
    if job.printed:
        yield (
            f"This page is {job.printed.says}: its bars must now be true. If they are not, measure"
            " a test page that was made without --printed, and give that."
        )
    yield (
        "1. Measure all bars from tick to tick with a steel rule. "
        + which_way(paper)
        + " 0.1 mm off in 100 mm is 1 mm off in 1 m of board."
    )
    yield (
        "2. If bars differ from what they say: turn off fit to page, shrink and scale in the print"
        " window, and print again."
    )
    yield (
        "3. If they still differ, give what 100 mm came out as, level bar first, upright bar"
        f" second: collarwright build FILE --printed {EXAMPLE} ({LEAST:g} to {MOST:g}; more is fit"
        " to page or a wrong paper size: turn scaling off and measure again)."
    )
    yield (
        "Longer bars read finer: of the 200 mm bar give half. Inches: the 4 in bar times 25, the"
        " 8 in bar times 12.5."
    )
    yield (
        "4. Both diagonals of the square are alike, or the paper ran skew: 1 mm apart is 0.4 deg."
        " The circle is 50 mm every way. No setting here mends skew: feed the paper straight."
    )
    yield (
        "5. At each edge the lowest number whose line you can see is how many mm the printer"
        f" leaves clear. Templates leave {MARGIN:g} mm."
    )


def _texts(width: float, height: float, paper: str, job: Job) -> Iterator[Mark]:
    x = EDGE + 4 * PITCH + 13.0
    room = min(width - EDGE - x, 230.0)
    y = height - EDGE - 6.0
    yield from heading(x, y, room, "Printer's test page", job)
    texts, _ = paragraphs((x, y - 15.5), room, list(_said(paper, job)), SIZE, ROW)
    yield from texts
