"""What is left of a rectangle with holes, as closed lines with exact arcs.

Holes that overlap or touch become one line, and a hole that runs over the edge becomes a notch
in the outline. A hole that stands alone stays what it is.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from .hole import Hole
from .trace import PLATE, Shape, Step, trace

TOUCH = 1e-7
"""What is closer than this touches, mm: far above what floats make of equal numbers, far below
what any tool can cut."""

OTHERWISE = (1.0, 0.5, 2.0, 0.25, 4.0, 10.0, 100.0)
"""What nearness is multiplied by, one after the other, where points lie so that lines cannot be
joined: with another one, other points fall together."""

HALF_CIRCLE = math.pi + 1e-9


class ContourError(ValueError):
    """Holes lie so that their edges cannot be told apart."""


@dataclass(frozen=True, slots=True)
class Vertex:
    """A corner of a contour; ``bulge`` bends the way to the next one.

    The bulge is the tangent of a quarter of the arc's angle, positive where the arc turns
    counterclockwise (DXF reference, LWPOLYLINE group 42); 0 is a straight line.
    """

    x: float
    y: float
    bulge: float = 0.0


Loop = tuple[Vertex, ...]
"""A closed line; the first vertex is not repeated. No arc turns by more than half a circle."""


@dataclass(frozen=True, slots=True)
class Ring:
    """A closed line and the holes whose edges it follows.

    ``circle`` is the hole where the line is that round hole and nothing else.
    """

    vertices: Loop
    holes: tuple[Hole, ...]
    circle: Hole | None = None


@dataclass(frozen=True, slots=True)
class Outlines:
    """What is left of a rectangle: ``outer`` runs counterclockwise, ``inner`` clockwise.

    There may be several outer lines (the rectangle fell apart), or none (nothing is left).
    """

    outer: tuple[Ring, ...]
    inner: tuple[Ring, ...]

    @property
    def area(self) -> float:
        """What is left, mm2, in closed form."""
        return sum(area(ring.vertices) for ring in (*self.outer, *self.inner))


def area(loop: Loop) -> float:
    """Return the area inside a closed line, mm2; negative where it runs clockwise.

    Corners by the shoelace formula, and for each arc its circular segment
    ``r^2 (a - sin a)/2``, ``a`` the arc's angle and ``r`` its radius (textbook formulas).
    """
    doubled = 0.0
    for start, end in zip(loop, loop[1:] + loop[:1], strict=True):
        doubled += start.x * end.y - end.x * start.y
        if start.bulge:
            angle = 4 * math.atan(start.bulge)
            radius = _radius(start, end)
            doubled += radius**2 * (angle - math.sin(angle))
    return doubled / 2


def _radius(start: Vertex, end: Vertex) -> float:
    chord = math.hypot(end.x - start.x, end.y - start.y)
    return chord * (1 + start.bulge**2) / (4 * abs(start.bulge))


def outlines(length: float, width: float, holes: Iterable[Hole], near: float = TOUCH) -> Outlines:
    """Cut holes out of a rectangle whose lower left corner is at 0, 0.

    Args:
        length: of the rectangle along u, mm.
        width: of the rectangle along v, mm.
        holes: single shapes; they may overlap, touch, repeat, run over the edge or miss the
            rectangle. Depth and face are left out of account.
        near: what is closer than this touches, mm; no line is off by more.

    Raises:
        ContourError: edges lie so close together that no order can be found among them.
    """
    given = tuple(holes)
    for factor in OTHERWISE:
        found = _outlines(length, width, given, near * factor)
        if found is not None:
            return found
    raise ContourError(f"the edges of {', '.join(hole.name for hole in given)} almost coincide")


def _outlines(length: float, width: float, given: Sequence[Hole], near: float) -> Outlines | None:
    plate = Shape(length / 2, width / 2, 0.0, 0.0, 0.0, length, width)
    pairs = _not_swallowed(_shapes(plate, given, near), plate, near)
    holes, shapes = [hole for hole, _ in pairs], [shape for _, shape in pairs]
    alone = [i for i in range(len(shapes)) if _alone(i, shapes, plate, near)]
    meeting = [i for i in range(len(shapes)) if i not in alone]
    walks = trace(length, width, [shapes[i] for i in meeting], near)
    if walks is None:
        return None
    rings: list[tuple[int, Ring]] = [(i, _ring_of_one(holes[i], shapes[i])) for i in alone]
    outer: list[Ring] = []
    for walk in walks:
        numbers = sorted({meeting[step[0]] for step in walk if step[0] != PLATE})
        there = tuple(holes[i] for i in numbers)
        loop = _loop(walk, [shapes[i] for i in meeting])
        if loop is None:
            rings.append((numbers[0], _ring_of_one(there[0], shapes[numbers[0]])))
        elif area(loop) > 0:
            outer.append(Ring(loop, there))
        else:
            rings.append((numbers[0], Ring(loop, there)))
    outer.sort(key=lambda ring: (ring.vertices[0].x, ring.vertices[0].y))
    rings.sort(key=lambda each: (each[0], each[1].vertices[0].x, each[1].vertices[0].y))
    return Outlines(tuple(outer), tuple(ring for _, ring in rings))


def _shapes(plate: Shape, given: Sequence[Hole], near: float) -> list[tuple[Hole, Shape]]:
    """Return the holes that meet the plate; rectangles are cut off at its edges.

    Sides of rectangles that are as good as level with one another, or with the plate's edge,
    are made exactly so.
    """
    across, up = [plate.x0, plate.x1], [plate.y0, plate.y1]
    found: list[tuple[Hole, Shape]] = []
    for hole in given:
        x0, x1 = hole.u - hole.half_length, hole.u + hole.half_length
        y0, y1 = hole.v - hole.half_height, hole.v + hole.half_height
        r = (hole.diameter or 0.0) / 2
        if not r:
            x0, x1 = (_level(min(max(x, plate.x0), plate.x1), across, near) for x in (x0, x1))
            y0, y1 = (_level(min(max(y, plate.y0), plate.y1), up, near) for y in (y0, y1))
        shape = Shape(hole.u, hole.v, r, x0, y0, x1, y1)
        if x1 > x0 and y1 > y0 and (not r or shape.apart(plate) < -near):
            found.append((hole, shape))
    return found


def _level(value: float, known: list[float], near: float) -> float:
    for each in known:
        if abs(each - value) <= near:
            return each
    known.append(value)
    return value


def _not_swallowed(
    pairs: Sequence[tuple[Hole, Shape]], plate: Shape, near: float
) -> list[tuple[Hole, Shape]]:
    """Leave out what lies wholly in another hole; of equal holes the first one stays."""
    return [
        pair
        for i, pair in enumerate(pairs)
        if not any(
            _inside(pair[1], other, plate, near)
            and not (i < j and _inside(other, pair[1], plate, near))
            for j, (_, other) in enumerate(pairs)
            if j != i
        )
    ]


def _inside(small: Shape, big: Shape, plate: Shape, near: float) -> bool:
    """Whether a shape, or what of it meets the plate, lies wholly in another one."""
    x0, x1 = max(small.x0, plate.x0), min(small.x1, plate.x1)
    y0, y1 = max(small.y0, plate.y0), min(small.y1, plate.y1)
    if not big.r:
        return all(big.beyond(x, y) <= near for x, y in ((x0, y0), (x1, y1)))
    if small.r:
        return math.hypot(small.x - big.x, small.y - big.y) + small.r <= big.r + near
    return all(big.beyond(x, y) <= near for x in (x0, x1) for y in (y0, y1))


def _alone(i: int, shapes: Sequence[Shape], plate: Shape, near: float) -> bool:
    """Whether a shape touches neither another one nor the plate's edge."""
    shape = shapes[i]
    return (
        plate.x0 + near < shape.x0
        and shape.x1 < plate.x1 - near
        and plate.y0 + near < shape.y0
        and shape.y1 < plate.y1 - near
        and not any(shape.apart(other) <= near for j, other in enumerate(shapes) if j != i)
    )


def _ring_of_one(hole: Hole, shape: Shape) -> Ring:
    """Return a lone hole's edge, clockwise: a circle as two halves."""
    if shape.r:
        left, right = Vertex(shape.x0, shape.y, -1.0), Vertex(shape.x1, shape.y, -1.0)
        return Ring((left, right), (hole,), hole)
    corners = ((shape.x0, shape.y0), (shape.x0, shape.y1), (shape.x1, shape.y1))
    return Ring(tuple(Vertex(*c) for c in (*corners, (shape.x1, shape.y0))), (hole,))


def _loop(walk: Sequence[Step], shapes: Sequence[Shape]) -> Loop | None:
    """Return a walk as vertices, with no corner where nothing turns; None for a whole circle.

    Arcs of more than half a circle are halved: a chord that is short against its arc does not
    hold the arc's place once its ends are rounded.
    """
    starts = [i for i in range(len(walk)) if not _goes_on(walk[i - 1], walk[i])]
    if not starts:
        return None
    joined: list[Step] = []
    for step in (*walk[starts[0] :], *walk[: starts[0]]):
        if joined and _goes_on(joined[-1], step):
            owner, start, _, sweep = joined.pop()
            joined.append((owner, start, step[2], sweep + step[3]))
        else:
            joined.append(step)
    found: list[Vertex] = []
    for owner, (x, y), _, sweep in joined:
        if abs(sweep) <= HALF_CIRCLE:
            found.append(Vertex(x, y, math.tan(sweep / 4)))
            continue
        bulge, center = math.tan(sweep / 8), shapes[owner]
        cos, sin = math.cos(sweep / 2), math.sin(sweep / 2)
        dx, dy = x - center.x, y - center.y
        halfway = center.x + dx * cos - dy * sin, center.y + dy * cos + dx * sin
        found += [Vertex(x, y, bulge), Vertex(*halfway, bulge)]
    lowest = min(range(len(found)), key=lambda i: (found[i].y, found[i].x))
    return (*found[lowest:], *found[:lowest])


def _goes_on(step: Step, after: Step) -> bool:
    """Whether a step and the one after it are parts of one line, or of one circle."""
    if step[3] or after[3]:
        return step[0] == after[0] and step[3] * after[3] > 0
    return _way(step) == _way(after)


def _way(step: Step) -> tuple[bool, bool]:
    """Return whether a straight step is level, and whether it goes up its axis."""
    _, (x0, y0), (x1, y1), _ = step
    level = abs(x1 - x0) > abs(y1 - y0)
    return level, (x1 > x0 if level else y1 > y0)
