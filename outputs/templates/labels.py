"""Text beside holes: what it says, and a free place for it.

A place is free where the text's box meets nothing else that is drawn. Places close to the hole go
before far ones, which get a thin line to their hole; wide lines go before narrow and small ones.
"""

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from ...geometry.shape.sheet import Circle
from ...params.units import Show, bit_text, fraction_text, length_text, mm_text
from ..paper.marks import Mark, Pen, Words, line
from ..paper.pdf import fitted, text_width

CROSS_PAST = 6.0
CROSS_PAST_SMALL = 3.0
SMALL = 10.0
"""How far a hole's cross runs past its circle, and below which diameter it does so less, mm
(common practice, no source)."""

CLEAR = 1.0
"""Least gap around a text, mm."""

APART = 4.0
"""Gap to another hole from which nobody takes a text for that one's, mm."""

FAR = 110.0
"""The farthest that a text may be from its hole, mm."""

NAME_SIZE, MAIN_SIZE, SMALL_SIZE = 3.6, 3.1, 2.3
LEADER = Pen(0.12, gray=0.35)

Form = Literal["wide", "narrow", "short", "tall", "flat"]
FORMS: tuple[tuple[Form, float], ...] = (
    ("wide", 1.0), ("narrow", 1.0), ("wide", 0.85), ("narrow", 0.85),
    ("wide", 0.7), ("narrow", 0.7), ("short", 0.85), ("short", 0.7),
    ("tall", 0.85), ("flat", 0.85), ("tall", 0.7), ("flat", 0.7), ("tall", 0.55), ("flat", 0.55),
)  # fmt: skip
"""How a text may be set, the best first: its form, and the scale of its letters."""

SMALLEST = FORMS[-2:]
"""Those that take least room."""

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]

Run = tuple[str, float]
Lines = tuple[tuple[Run, ...], ...]


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle on the board, mm."""

    x0: float
    y0: float
    x1: float
    y1: float

    def meets(self, other: "Box") -> bool:
        """Whether two boxes overlap; touching is not overlapping."""
        wide = min(self.x1, other.x1) - max(self.x0, other.x0)
        high = min(self.y1, other.y1) - max(self.y0, other.y0)
        return wide > 1e-6 and high > 1e-6

    def inside(self, other: "Box") -> bool:
        """Whether this box lies wholly in another."""
        return (
            other.x0 <= self.x0
            and self.x1 <= other.x1
            and other.y0 <= self.y0
            and self.y1 <= other.y1
        )

    def grown(self, by: float) -> "Box":
        """Return the box with ``by`` more on every side."""
        return Box(self.x0 - by, self.y0 - by, self.x1 + by, self.y1 + by)


def cross_reach(circle: Circle) -> float:
    """Return how far a hole's cross reaches from its center, mm."""
    past = CROSS_PAST_SMALL if circle.diameter < SMALL else CROSS_PAST
    return circle.diameter / 2 + past


def hole_box(circle: Circle) -> Box:
    """Return what a hole takes with its cross."""
    half = cross_reach(circle)
    return Box(circle.x - half, circle.y - half, circle.x + half, circle.y + half)


def free(box: Box, region: Box, taken: Iterable[Box]) -> bool:
    """Whether a box lies in the region and meets nothing."""
    return box.inside(region) and not any(box.meets(other) for other in taken)


def other_unit(mm: float, show: Show) -> str:
    """Write a length in the unit that is not asked for."""
    return mm_text(mm) if show == "in" else fraction_text(mm)


def hole_lines(
    circle: Circle,
    name: str,
    show: Show,
    form: Form = "wide",
    left: str = "left long point",
    also: str = "",
) -> Lines:
    """Return what stands beside a hole in a board: name, diameter, how deep, and where it is.

    ``left`` is what the end is called that its distance is measured from; ``also`` is said under
    the name where there is room.
    """
    sizes, place = (circle.diameter,), (circle.x, circle.y)
    edges = left, "bottom edge"
    return figure_lines(name, sizes, place, edges, show, form, also, circle.depth)


def figure_lines(
    name: str,
    sizes: Sequence[float],
    place: tuple[float, float],
    edges: tuple[str, str],
    show: Show,
    form: Form = "wide",
    also: str = "",
    depth: float | None = None,
) -> Lines:
    """Return what stands beside something that is cut: name, size, and where it is.

    ``short``, ``tall`` and ``flat`` leave out the other unit; they are for holes that stand too
    close for more, ``tall`` for upright gaps and ``flat`` for level ones.

    Args:
        name: what it is called.
        sizes: its diameter, or its length and height, mm.
        place: of its center, from the left and up, mm.
        edges: what that is measured from.
        show: the unit that comes first.
        form: how the text is set.
        also: what is said under the name where there is room.
        depth: how deep it is drilled, mm; None where it goes right through.
    """
    room = {"wide": 62.0, "narrow": 40.0, "short": 34.0, "tall": 18.0, "flat": 62.0}[form]

    def both(*mm: float, end: str = "") -> tuple[Run, ...]:
        main = f"{' x '.join(length_text(each, show) for each in mm)}{end}"
        other = " x ".join(other_unit(each, show) for each in mm)
        return (main, MAIN_SIZE), (f"  ({other})", SMALL_SIZE)

    if len(sizes) == 1:
        size = f"⌀ {bit_text(sizes[0], show)}"
        other = bit_text(sizes[0], "mm" if show == "in" else "in")
        whole = (size, MAIN_SIZE), (f"  ({other})", SMALL_SIZE)
    else:
        size, whole = " x ".join(length_text(each, show) for each in sizes), both(*sizes)
    if form in ("short", "tall", "flat"):
        name_line = ((fitted(name, MAIN_SIZE, room), MAIN_SIZE),)
        along, high = (length_text(each, show) for each in place)
        deep = [] if depth is None else [f"{length_text(depth, show)} deep"]
        if form == "tall":
            texts = (size, *deep, along, "from left", high, "up")
        else:
            texts = (size, *deep, f"{along} from left", f"{high} up")
        if form == "flat":
            runs = tuple(run for text in texts for run in ((text, MAIN_SIZE), (", ", MAIN_SIZE)))
            return name_line, runs[:-1]
        return name_line, *(((text, MAIN_SIZE),) for text in texts)
    under = [((also, MAIN_SIZE),)] if also else []
    deep = [] if depth is None else [both(depth, end=" deep")]
    head = (((fitted(name, NAME_SIZE, room), NAME_SIZE),), *under, whole, *deep)
    left, up = f"from {edges[0]}", f"up from {edges[1]}"
    if form == "narrow":
        return (
            *head,
            both(place[0]),
            ((left, MAIN_SIZE),),
            both(place[1]),
            ((up, MAIN_SIZE),),
        )
    return *head, both(place[0], end=f" {left}"), both(place[1], end=f" {up}")


TRIES = 6
"""How often figures are placed anew when some find no room."""


def figures(
    circles: Sequence[Circle],
    lines: Callable[[Circle, Form], Lines],
    region: Box,
    taken: Sequence[Box],
    holes: Sequence[Box],
    texts: Sequence[Box],
) -> tuple[list[Mark], list[Circle]]:
    """Place the figures of holes, and return those holes that found no room.

    Whoever found none is served first the next time; in the end all take the least room.
    ``lines`` says what stands beside a hole in a form; for the rest see ``label``.
    """
    best: tuple[list[Mark], list[Circle]] | None = None
    order = list(circles)
    for again in range(TRIES):
        forms = FORMS if again < TRIES / 2 else SMALLEST
        marks: list[Mark] = []
        left: list[Circle] = []
        full, written = [*taken], [*texts]
        for circle in order:
            found = placed(circle, lines, region, full, holes, written, forms)
            if found is None:
                left.append(circle)
                continue
            marks += found[0]
            full += found[1]
            written.append(found[1][0])
        if best is None or len(left) < len(best[1]):
            best = marks, [circle for circle in circles if circle in left]
        if not left:
            break
        order = left + [circle for circle in order if circle not in left]
    return best or ([], [])


def placed(
    circle: Circle,
    lines: Callable[[Circle, Form], Lines],
    region: Box,
    taken: Sequence[Box],
    holes: Sequence[Box],
    texts: Sequence[Box] = (),
    forms: Sequence[tuple[Form, float]] = FORMS,
) -> tuple[tuple[Mark, ...], list[Box]] | None:
    """Find a place for the text beside a hole.

    Args:
        circle: the hole.
        lines: what stands beside it, in each form.
        region: where the text may stand, mm on the board.
        taken: what it must not meet, beside the holes.
        holes: what all holes take. A place from which the text could be thought to speak of
            another hole is used only when there is no other.
        texts: what texts take, for a thin line to keep clear of.
        forms: how the text may be set, the best first.

    Returns:
        The marks and the boxes they take, in the board's mm; None where there is no room.
    """
    blocks = [_block(lines(circle, form), scale) for form, scale in forms]
    own = hole_box(circle)
    reach = own.grown(FAR)
    near = [each for each in (*taken, *holes) if each.meets(reach)]
    others = [each for each in holes if each != own and each.meets(reach)]
    other_edges, text_edges = _edges(others), _edges(texts)
    for doubtful in (False, True):
        away = [] if doubtful else [each.grown(APART) for each in others]
        for rows, width, height in blocks:
            for box in _beside(circle, width, height, region):
                if free(box, region, near) and not any(box.meets(each) for each in away):
                    return tuple(_set(rows, box)), [box]
    for over_arms in (False, True):  # a line over the arm of another's cross is better than none
        for rows, width, height in blocks:
            for box in _free_around(circle, width, height, region, near):
                lead = _leader(circle, box, other_edges, text_edges, over_arms)
                if lead is not None:
                    return (*_set(rows, box), lead[0]), [box, *lead[1]]
    return None


def _block(lines: Lines, scale: float) -> tuple[Lines, float, float]:
    """Return lines at a scale with the width and height of their box, the clear gap in it."""
    scaled = tuple(tuple((text, size * scale) for text, size in runs) for runs in lines)
    width = max(sum(text_width(*run) for run in runs) for runs in scaled)
    height = sum(_pitch(runs) for runs in scaled)
    return scaled, width + 2 * CLEAR, height + 2 * CLEAR


def _pitch(runs: Sequence[Run]) -> float:
    return max(size for _, size in runs) * 1.25


def _set(lines: Lines, box: Box) -> Iterator[Mark]:
    y = box.y1 - CLEAR
    for runs in lines:
        y -= _pitch(runs)
        x = box.x0 + CLEAR
        for text, size in runs:
            yield Words(x, y + size * 0.25, size, text)
            x += text_width(text, size)


def _beside(circle: Circle, width: float, height: float, region: Box) -> Iterator[Box]:
    """Yield the places right above, below, right and left; the first two pushed inside.

    Then those that are not centered, but still over, under or beside the hole.
    """
    hole = hole_box(circle)
    x, y = circle.x - width / 2, circle.y - height / 2
    pushed = min(max(x, region.x0), region.x1 - width)
    if abs(pushed - x) < width / 2:
        x = pushed
    for x0, y0 in ((x, hole.y1), (x, hole.y0 - height), (hole.x1, y), (hole.x0 - width, y)):
        yield Box(x0, y0, x0 + width, y0 + height)
    for part in (-0.2, 0.2, -0.4, 0.4):
        shift = part * (hole.x1 - hole.x0)
        x, y = circle.x - width / 2 + shift, circle.y - height / 2 + shift
        for x0, y0 in ((x, hole.y1), (x, hole.y0 - height), (hole.x1, y), (hole.x0 - width, y)):
            yield Box(x0, y0, x0 + width, y0 + height)


def _free_around(
    circle: Circle, width: float, height: float, region: Box, taken: Sequence[Box]
) -> Iterator[Box]:
    """Yield the free places around a hole, the nearest first."""
    edges = _edges(taken)
    for shift in _shifts():
        x0 = circle.x + shift[:, 0] - width / 2
        y0 = circle.y + shift[:, 1] - height / 2
        places = np.stack((x0, y0, x0 + width, y0 + height))
        open_ = _inside(places, region) & ~_meet(places, edges).any(axis=1)
        for place in places[:, open_].T.tolist():
            yield Box(*place)


@cache
def _shifts() -> tuple[FloatArray, ...]:
    """Return how far right and up of a hole to look, the nearest first, a few hundred at a time.

    Most texts find a place among the first.
    """
    steps = int(FAR // 5)
    every = [(i * 5.0, j * 5.0) for i in range(-steps, steps + 1) for j in range(-steps, steps + 1)]
    every.sort(key=lambda shift: (math.hypot(*shift), -shift[1], shift[0]))
    return tuple(np.array_split(np.array(every), len(every) // 200))


def _edges(boxes: Sequence[Box]) -> FloatArray:
    """Return boxes as four columns."""
    rows = [(each.x0, each.y0, each.x1, each.y1) for each in boxes]
    return np.array(rows, dtype=float).reshape(-1, 4).T


def _inside(places: FloatArray, region: Box) -> BoolArray:
    """Say of each box what ``Box.inside`` says of one."""
    x0, y0, x1, y1 = places
    return (region.x0 <= x0) & (x1 <= region.x1) & (region.y0 <= y0) & (y1 <= region.y1)


def _meet(places: FloatArray, taken: FloatArray) -> BoolArray:
    """Say of each box, a row, which of others, the columns, ``Box.meets`` holds with."""
    x0, y0, x1, y1 = places[:, :, np.newaxis]
    wide = np.minimum(x1, taken[2]) - np.maximum(x0, taken[0])
    high = np.minimum(y1, taken[3]) - np.maximum(y0, taken[1])
    return (wide > 1e-6) & (high > 1e-6)


def _leader(
    circle: Circle, box: Box, others: FloatArray, texts: FloatArray, over_arms: bool
) -> tuple[Mark, list[Box]] | None:
    """Return a thin line from a text's box to the circle's edge, and what it takes.

    None where it meets another hole or a text, both given by their edges.
    """
    x = min(max(circle.x, box.x0 + CLEAR / 2), box.x1 - CLEAR / 2)
    y = min(max(circle.y, box.y0 + CLEAR / 2), box.y1 - CLEAR / 2)
    away = math.hypot(x - circle.x, y - circle.y)
    radius = circle.diameter / 2
    if away <= radius:
        return None
    ex, ey = circle.x + (x - circle.x) / away * radius, circle.y + (y - circle.y) / away * radius
    half = math.hypot(ex - x, ey - y) / 80 + 0.1  # so wide that no gap is left between two
    px, py = x + (ex - x) * ALONG / 40, y + (ey - y) * ALONG / 40
    points = np.stack((px - half, py - half, px + half, py + half))
    if _meet(points, texts).any():
        return None
    in_the_way = _meet(points, others)
    if over_arms:
        in_the_way &= _on_circles(px, py, others)
    if in_the_way.any():
        return None
    return line(x, y, ex, ey, LEADER), [Box(*point) for point in points.T.tolist()]


ALONG = np.arange(41.0)
"""Where along a thin line it is asked what it meets, from 0 to 40."""


def _on_circles(x: FloatArray, y: FloatArray, holes: FloatArray) -> BoolArray:
    """Say which points lie on the circles of which holes, given by the edges of what those take."""
    x0, y0, x1, _ = holes
    half = (x1 - x0) / 2
    small = half < SMALL / 2 + CROSS_PAST_SMALL
    radius = half - np.where(small, CROSS_PAST_SMALL, CROSS_PAST)
    away = np.hypot(x[:, np.newaxis] - (x0 + half), y[:, np.newaxis] - (y0 + half))
    return away < radius + 0.1
