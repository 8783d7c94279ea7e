"""What a page of a template says about itself, and all pages put together.

Bars are found by the text printed at them, register marks by the name beside their crossing;
each page says in print where the board's lower left corner lies on it.
"""

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from .pdf_page import Circle, Line, Page, Point, Text

TOLERANCE = 0.05
"""How far anything on paper may be from where it should be, mm."""

BARS = {"check 100 mm": 100.0, "check 4 in": 101.6}
"""What a bar says, and its length, mm (1 in = 25.4 mm)."""

ZERO = re.compile(r"board zero at (-?\d+\.\d+) (-?\d+\.\d+) mm")
MARK = re.compile(r"[A-Z]{1,2}\d+")
MARK_LENGTH = 10.0


@dataclass(frozen=True, slots=True)
class Bar:
    """A check bar on one page: what it says, which way it runs, and its length, mm."""

    text: str
    upright: bool
    length: float


@dataclass(frozen=True, slots=True)
class Assembly:
    """All pages put together, in the board's mm.

    ``circles`` holds one entry for each different circle with all the places where it is seen;
    ``dots`` are filled circles, ``marks`` every register mark on every page.
    """

    circles: tuple[tuple[Circle, ...], ...]
    dots: tuple[Point, ...]
    lines: tuple[Line, ...]
    marks: tuple[tuple[str, int, Point], ...]
    problems: tuple[str, ...]


def zero(page: Page) -> Point | None:
    """Return where the page says that the board's lower left corner lies on it, mm."""
    found = [match for text in page.texts if (match := ZERO.fullmatch(text.text))]
    return (float(found[0][1]), float(found[0][2])) if len(found) == 1 else None


def bars(page: Page, known: Mapping[str, float] = BARS) -> list[Bar]:
    """Return the check bars of a page: lines with a tick at each end, by the text along them.

    ``known`` has the texts of the bars that are looked for.
    """
    found: list[Bar] = []
    for text in page.texts:
        if text.text not in known:
            continue
        near = [
            (off, each)
            for each in page.lines
            if (off := _beside(text, each)) is not None and _ticked(each, page.lines)
        ]
        if near:
            bar = min(near, key=lambda pair: pair[0])[1]
            upright = abs(bar.y2 - bar.y1) > abs(bar.x2 - bar.x1)
            found.append(Bar(text.text, upright, bar.length))
    return found


def _beside(text: Text, line: Line) -> float | None:
    """Return how far a line runs beside a text, mm; None where it does not."""
    if line.length < 20:
        return None
    turn = math.radians(text.turn_deg)
    ux, uy = (line.x2 - line.x1) / line.length, (line.y2 - line.y1) / line.length
    if abs(ux * math.sin(turn) - uy * math.cos(turn)) > 0.01:
        return None
    dx, dy = text.x - line.x1, text.y - line.y1
    off, along = abs(ux * dy - uy * dx), ux * dx + uy * dy
    return off if off < 4 and 0 < along < line.length else None


def _ticked(line: Line, lines: Sequence[Line]) -> bool:
    """Whether a short line crosses each end of a line squarely, with its middle."""
    ends = ((line.x1, line.y1), (line.x2, line.y2))
    short = [each for each in lines if 2 < each.length < 6]
    return all(
        any(
            math.dist(end, ((each.x1 + each.x2) / 2, (each.y1 + each.y2) / 2)) < TOLERANCE
            and abs((each.x2 - each.x1) * (line.x2 - line.x1)
                    + (each.y2 - each.y1) * (line.y2 - line.y1)) < TOLERANCE
            for each in short
        )
        for end in ends
    )  # fmt: skip


def register_marks(page: Page) -> dict[str, Point]:
    """Return the register marks of a page: where two lines cross at their middles, by name."""
    middles: list[tuple[Point, bool]] = []
    for line in page.lines:
        if abs(line.length - MARK_LENGTH) < 1:
            middle = (line.x1 + line.x2) / 2, (line.y1 + line.y2) / 2
            middles.append((middle, abs(line.x2 - line.x1) > abs(line.y2 - line.y1)))
    crosses = [
        a for a, level in middles if level and any(
            not other and math.dist(a, b) < TOLERANCE for b, other in middles
        )
    ]  # fmt: skip
    found: dict[str, Point] = {}
    for text in page.texts:
        near = [cross for cross in crosses if math.dist(cross, (text.x, text.y)) < 9]
        if MARK.fullmatch(text.text) and near:
            found[text.text] = min(near, key=lambda c: math.dist(c, (text.x, text.y)))
    return found


def assemble(pages: Sequence[Page]) -> Assembly:
    """Put all pages together in the board's mm, each where it says it belongs."""
    circles: list[list[Circle]] = []
    dots: list[Point] = []
    lines: list[Line] = []
    marks: list[tuple[str, int, Point]] = []
    problems: list[str] = []
    for page in pages:
        origin = zero(page)
        if origin is None:
            problems.append(f"page {page.number}: does not say where the board's corner lies")
            continue
        ox, oy = origin
        for each in page.circles:
            x0, y0, x1, y1 = each.seen
            seen = x0 - ox, y0 - oy, x1 - ox, y1 - oy
            moved = Circle(each.x - ox, each.y - oy, each.diameter, each.filled, seen)
            if _disjoint(moved):
                continue
            if moved.filled:
                dots.append((moved.x, moved.y))
                continue
            same = [known for known in circles if same_circle(known[0], moved)]
            (same[0] if same else _new(circles)).append(moved)
        lines += [
            Line(e.x1 - ox, e.y1 - oy, e.x2 - ox, e.y2 - oy, e.pen, e.dashed) for e in page.lines
        ]
        marks += [
            (name, page.number, (x - ox, y - oy)) for name, (x, y) in register_marks(page).items()
        ]
    return Assembly(
        tuple(tuple(each) for each in circles),
        tuple(dots),
        tuple(lines),
        tuple(marks),
        tuple(problems),
    )


def _new(circles: list[list[Circle]]) -> list[Circle]:
    circles.append([])
    return circles[-1]


def _disjoint(circle: Circle) -> bool:
    """Whether nothing of a circle can be seen."""
    x0, y0, x1, y1 = circle.seen
    r = circle.diameter / 2
    return circle.x + r <= x0 or circle.x - r >= x1 or circle.y + r <= y0 or circle.y - r >= y1


def same_circle(a: Circle, b: Circle) -> bool:
    """Whether two circles have the same center and diameter."""
    return (
        math.dist((a.x, a.y), (b.x, b.y)) <= TOLERANCE and abs(a.diameter - b.diameter) <= TOLERANCE
    )


def first_gap(lines: Sequence[Line], a: Point, b: Point) -> float | None:
    """Return where the first part of a -> b is that no line covers, None where all is covered."""
    length = math.dist(a, b)
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    spans: list[tuple[float, float]] = []
    for line in lines:
        ends = [(line.x1 - a[0], line.y1 - a[1]), (line.x2 - a[0], line.y2 - a[1])]
        if all(abs(ux * y - uy * x) <= TOLERANCE for x, y in ends):
            low, high = sorted(ux * x + uy * y for x, y in ends)
            spans.append((low, high))
    reached = 0.0
    for low, high in sorted(spans):
        if low > reached + TOLERANCE:
            break
        reached = max(reached, high)
    return None if reached >= length - TOLERANCE else reached
