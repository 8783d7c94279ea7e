"""Reads a foam panel's template back and compares it with what is cut into the panel.

Thick lines are cut along, thin ones are not: every point of the boundary of what is left of the
panel has to be on a thick line, and no thick line may be anywhere else on it. Each single hole has
a cross at its center, also where several are one line.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from ...geometry.shape.hole import BRACKET_SET_OUT, HINGE_SET_OUT, Hole, about_assumed
from ...geometry.shape.lining import Panel
from ...params.units import Show, bit_text, both_text, length_text
from .pdf import Size, figure_faults, mark_faults, paper_faults, read, words
from .pdf_page import Circle, Curve, Page, Point, Rect
from .pdf_parts import TOLERANCE, Assembly, assemble, zero
from .printer import Printer
from .region import Cut, Edge, Region

ON_EVERY_PAGE = (
    "face on the board up, seen from outside",
    "up: lid",
    "print at actual size, 100 %",
    "measure this before cutting: 100 mm and 4 in",
)
THICK = 0.3
"""A line that is cut along is at least so thick, mm; all others are thinner."""

APART = 2.0
"""How far apart points of the boundary are looked at, at most, mm."""

REACH = 2.0
"""So far each arm of a cross reaches at least, mm."""

WHEN = {HINGE_SET_OUT: "the bolts are in", BRACKET_SET_OUT: "the brackets are on"}
"""What has to be said of pockets whose names begin so, after ``cut when``."""

CELL = 10.0
"""Drawn lines are looked up by columns of this width, mm."""


@dataclass(frozen=True, slots=True)
class Stroke:
    """A thick line or arc in the panel's mm, and where of it anything can be seen."""

    edge: Edge
    seen: Rect
    dashed: bool

    def shows(self, x: float, y: float) -> bool:
        """Whether a point is in the part that can be seen."""
        x0, y0, x1, y1 = self.seen
        return x0 - TOLERANCE <= x <= x1 + TOLERANCE and y0 - TOLERANCE <= y <= y1 + TOLERANCE


def compare(
    path: Path,
    panel: Panel,
    start: float,
    *,
    show: Show,
    paper: Sequence[Size] | None = None,
    sha256: str = "",
    failures: int = 0,
    printer: Printer | None = None,
) -> list[str]:
    """Read a panel's template and say what on it is not as it should be.

    Args:
        path: the PDF.
        panel: the panel with its holes.
        start: how far its left end lies from its board's left long point, mm.
        show: the unit whose figures have to stand at each hole.
        paper: see ``pdf.compare``.
        sha256: the build file's hash, of which the first 12 digits are printed.
        failures: how many failures every page has to speak of.
        printer: what it has to be true on.

    Returns:
        One sentence for each fault; none when all is well.
    """
    document = read(path, printer)
    wanted = words((*ON_EVERY_PAGE, f"{panel.side} foam panel"), sha256, failures)
    faults = [*paper_faults(document, wanted, (panel.length, panel.width), paper)]
    together = assemble(document.pages)
    faults += together.problems
    faults += mark_faults(together, len(document.pages))
    region = Region(panel.length, panel.width, tuple(_cut(hole) for hole in panel.holes))
    strokes = [stroke for page in document.pages for stroke in _strokes(page)]
    assumed = {hole.name for hole in panel.holes if about_assumed(hole.name, hole.purpose)}
    faults += _line_faults(region, strokes, assumed)
    holes = [hole for hole in _different(panel.holes) if _on(panel, hole)]
    faults += _cross_faults(together, holes)
    for hole in holes:
        faults += figure_faults(document.pages, hole.name, (hole.u, hole.v), _figures(hole, show))
    said = [f"left end {both_text(start, show)} from the board's left long point"]
    said += [text for first, text in WHEN.items() if any(n.startswith(first) for n in assumed)]
    faults += _word_faults(document.pages, said)
    return [f"{path.name}: {fault}" for fault in faults]


def _cut(hole: Hole) -> Cut:
    name, sizes = hole.name, (hole.length or 0.0, hole.height or 0.0)
    return Cut(name, hole.purpose, hole.u, hole.v, hole.diameter, *sizes)


def _different(holes: Sequence[Hole]) -> list[Hole]:
    """Leave out holes that are others once more."""
    found: list[Hole] = []
    for hole in holes:
        if not any(_cut(hole).same(_cut(other)) for other in found):
            found.append(hole)
    return found


def _on(panel: Panel, hole: Hole) -> bool:
    return 0 <= hole.u <= panel.length and 0 <= hole.v <= panel.width


def _strokes(page: Page) -> Iterator[Stroke]:
    """Yield the thick lines in a page's window; none on a page that does not say where it is."""
    origin = zero(page)
    if origin is None:
        return
    ox, oy = origin

    def moved(rect: Rect) -> Rect:
        return rect[0] - ox, rect[1] - oy, rect[2] - ox, rect[3] - oy

    def at(point: Point) -> Point:
        return point[0] - ox, point[1] - oy

    whole = 0.0, 0.0, page.width, page.height
    for line in page.lines:
        middle = (line.x1 + line.x2) / 2, (line.y1 + line.y2) / 2
        if line.pen >= THICK and any(_within(middle, window) for window in page.windows):
            edge = Edge(at((line.x1, line.y1)), at((line.x2, line.y2)))
            yield Stroke(edge, moved(whole), line.dashed)
    for circle in page.circles:
        if circle.pen >= THICK and not circle.filled and _seen(circle, page.windows):
            for edge in _halves(circle):
                placed = replace(edge, start=at(edge.start), end=at(edge.end))
                yield Stroke(placed, moved(circle.seen), circle.dashed)
    for curve in page.curves:
        if curve.pen >= THICK and any(_within(curve.at(i / 8), curve.seen) for i in range(9)):
            for edge in arcs(curve):
                placed = replace(edge, start=at(edge.start), end=at(edge.end))
                yield Stroke(placed, moved(curve.seen), curve.dashed)


def _within(point: Point, rect: Rect) -> bool:
    return rect[0] <= point[0] <= rect[2] and rect[1] <= point[1] <= rect[3]


def _seen(circle: Circle, windows: Sequence[Rect]) -> bool:
    """Whether anything of a circle's box can be seen in a window."""
    r = circle.diameter / 2
    return any(
        max(circle.x - r, circle.seen[0], window[0]) < min(circle.x + r, circle.seen[2], window[2])
        and max(circle.y - r, circle.seen[1], window[1])
        < min(circle.y + r, circle.seen[3], window[3])
        for window in windows
    )


def _halves(circle: Circle) -> Iterator[Edge]:
    left, right = (
        (circle.x - circle.diameter / 2, circle.y),
        (
            circle.x + circle.diameter / 2,
            circle.y,
        ),
    )
    yield Edge(left, right, 1.0)
    yield Edge(right, left, 1.0)


def arcs(curve: Curve) -> Iterator[Edge]:
    """Yield the arcs that a curve is drawn for: by its ends and middle, halved till they fit.

    What fits no arc comes out as short straight lines, each where the curve is.
    """
    yield from _fitted(curve, 0.0, 1.0, 5)


def _fitted(curve: Curve, low: float, high: float, deep: int) -> Iterator[Edge]:
    a, b, middle = curve.at(low), curve.at(high), curve.at((low + high) / 2)
    chord = math.dist(a, b)
    if chord < 1e-9:
        return
    # How far the middle lies to the right of the way from a to b, over half the chord.
    aside = (b[0] - a[0]) * (middle[1] - a[1]) - (b[1] - a[1]) * (middle[0] - a[0])
    bulge = -2 * aside / chord**2
    edge = Edge(a, b, bulge if abs(bulge) > 1e-9 else 0.0)
    off = max(
        edge.distance(*curve.at(low + (high - low) * share)) for share in (0.125, 0.25, 0.75, 0.875)
    )
    if off <= TOLERANCE / 10 or not deep:
        yield edge
        return
    half = (low + high) / 2
    yield from _fitted(curve, low, half, deep - 1)
    yield from _fitted(curve, half, high, deep - 1)


def _line_faults(region: Region, strokes: Sequence[Stroke], assumed: set[str]) -> Iterator[str]:
    """Hold the thick lines against the boundary of what is left, both ways, and their dashes."""
    stray = [
        point
        for stroke in strokes
        for point in stroke.edge.points(max(9, int(stroke.edge.length / APART)))
        if stroke.shows(*point) and not region.bounds(*point, TOLERANCE)
    ]
    yield from _some("nothing is to be cut at", stray)
    columns: dict[int, list[Stroke]] = {}
    for stroke in strokes:
        xs = [x for x, _ in stroke.edge.points(9)]
        # An arc of half a circle may reach farther than the points on it that are looked at.
        slack = 1.0 + (stroke.edge.length / 8 if stroke.edge.bulge else 0.0)
        for i in range(int((min(xs) - slack) // CELL), int((max(xs) + slack) // CELL) + 1):
            columns.setdefault(i, []).append(stroke)
    lacking: list[Point] = []
    wrong: dict[bool, list[Point]] = {True: [], False: []}
    for side, (x, y) in region.boundary(APART):
        found = [
            stroke
            for stroke in columns.get(int(x // CELL), ())
            if stroke.shows(x, y) and stroke.edge.distance(x, y) <= TOLERANCE
        ]
        if not found:
            lacking.append((x, y))
            continue
        set_out = side.name in assumed
        if all(stroke.dashed == set_out for stroke in found):
            continue
        # Where two edges run together, the other one may be no set-out.
        if sum(abs(cut.beyond(x, y)) < 1.0 for cut in (region.plate, *region.cuts)) == 1:
            wrong[set_out].append((x, y))
    yield from _some("nothing is drawn at", lacking)
    yield from _some("should be dashed, as its place is assumed, at", wrong[True])
    yield from _some("is dashed, though its place is certain, at", wrong[False])


def _some(what: str, points: Sequence[Point]) -> Iterator[str]:
    if points:
        x, y = points[0]
        more = f" and {len(points) - 1} more places" if len(points) > 1 else ""
        yield f"{what} {x:.2f}, {y:.2f} mm{more}"


def _cross_faults(together: Assembly, holes: Sequence[Hole]) -> Iterator[str]:
    """Look for a level and an upright thin line through each hole's center."""
    thin = [line for line in together.lines if line.pen < THICK]
    for hole in holes:
        level = upright = False
        for line in thin:
            (x0, x1), (y0, y1) = sorted((line.x1, line.x2)), sorted((line.y1, line.y2))
            if y1 - y0 <= TOLERANCE and abs(y0 - hole.v) <= TOLERANCE:
                level |= x0 <= hole.u - REACH and hole.u + REACH <= x1
            elif x1 - x0 <= TOLERANCE and abs(x0 - hole.u) <= TOLERANCE:
                upright |= y0 <= hole.v - REACH and hole.v + REACH <= y1
        if not (level and upright):
            yield f"{hole.name}: no cross at its center"


def _figures(hole: Hole, show: Show) -> tuple[str, ...]:
    """Return what has to stand beside a hole: its size, and where its center is."""
    size = f"⌀ {bit_text(hole.diameter or 0.0, show)}"
    if hole.diameter is None:
        sides = (length_text(mm or 0.0, show) for mm in (hole.length, hole.height))
        size = " x ".join(sides)
    return size, length_text(hole.u, show), length_text(hole.v, show)


def _word_faults(pages: Sequence[Page], said: Sequence[str]) -> Iterator[str]:
    """Look on every page for what may run over several lines of print."""
    for page in pages:
        texts = " ".join(text.text for text in page.texts)
        for phrase in said:
            if phrase not in texts:
                yield f"page {page.number}: does not say {phrase!r}"
