"""Walks around what is left of a rectangle when circles and rectangles are cut out of it.

Every boundary is split where another one meets it, the parts with material on one side are
kept, and they are walked with the material on the left: outlines come out counterclockwise, holes
clockwise. Where boundaries only touch, the walk turns as far left as it can. It then follows
one corner of the material and crosses over no point, so holes that touch are one line, and two
pieces that hang together by a point are two.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

Point = tuple[float, float]
Step = tuple[int, Point, Point, float]
"""One part of a boundary as it is walked: index of its shape (``PLATE`` for the rectangle that
is cut), start, end, and by how much it turns on the way (radians, + counterclockwise, 0
straight)."""

PLATE = -1


@dataclass(frozen=True, slots=True)
class Shape:
    """A circle (radius ``r``), or a rectangle (``r`` is 0), with its center and bounds, mm."""

    x: float
    y: float
    r: float
    x0: float
    y0: float
    x1: float
    y1: float

    def beyond(self, x: float, y: float) -> float:
        """Return a number that is positive outside, negative inside and 0 on the boundary."""
        if self.r:
            return math.hypot(x - self.x, y - self.y) - self.r
        return max(self.x0 - x, x - self.x1, self.y0 - y, y - self.y1)

    def apart(self, other: "Shape") -> float:
        """Return the gap between two shapes along the nearest way, mm; not positive if they meet.

        Of two rectangles: the wider of the gaps across and up.
        """
        if self.r and other.r:
            return math.hypot(self.x - other.x, self.y - other.y) - self.r - other.r
        if self.r or other.r:
            circle, box = (self, other) if self.r else (other, self)
            dx = max(box.x0 - circle.x, circle.x - box.x1, 0.0)
            dy = max(box.y0 - circle.y, circle.y - box.y1, 0.0)
            return math.hypot(dx, dy) - circle.r
        return max(self.x0 - other.x1, other.x0 - self.x1, self.y0 - other.y1, other.y0 - self.y1)


@dataclass(frozen=True, slots=True)
class _Edge:
    """A straight side: ``low`` to ``high`` on the line at ``at``, walked up or down."""

    owner: int
    level: bool
    at: float
    low: float
    high: float
    up: bool

    def point(self, along: float) -> Point:
        return (along, self.at) if self.level else (self.at, along)


class _Points:
    """Points that lie closer than ``near`` are one; the first one counts."""

    def __init__(self, near: float) -> None:
        self.near = near
        self.places: list[Point] = []

    def number(self, x: float, y: float) -> int:
        for i, (px, py) in enumerate(self.places):
            if abs(px - x) <= self.near and abs(py - y) <= self.near:
                return i
        self.places.append((x, y))
        return len(self.places) - 1


def trace(
    length: float, width: float, shapes: Sequence[Shape], near: float
) -> list[list[Step]] | None:
    """Return the closed walks around what is left, mm.

    Args:
        length: of the rectangle, from 0 along x.
        width: of the rectangle, from 0 along y.
        shapes: what is cut out; rectangles lie within, no shape lies wholly in another.
        near: what is closer than this touches.

    Returns:
        Closed walks; None where points lie so close together that the parts do not join.
    """
    points = _Points(near)
    plate = Shape(length / 2, width / 2, 0.0, 0.0, 0.0, length, width)
    edges = _sides(plate, PLATE)
    for i, shape in enumerate(shapes):
        if not shape.r:
            edges += _sides(shape, i)
    on_edge: list[set[int]] = [
        {points.number(*edge.point(edge.low)), points.number(*edge.point(edge.high))}
        for edge in edges
    ]
    on_circle: dict[int, set[int]] = {i: set() for i, each in enumerate(shapes) if each.r}
    _split(edges, shapes, points, on_edge, on_circle)

    def free(x: float, y: float, but: int) -> bool:
        return plate.beyond(x, y) < 0 and all(
            shape.beyond(x, y) > 0 for i, shape in enumerate(shapes) if i != but
        )

    steps: dict[tuple[int, int, int], Step] = {}
    walks: list[list[Step]] = []
    for edge, there in zip(edges, on_edge, strict=True):
        aside = (near / 2 if edge.up else -near / 2) * (1 if edge.level else -1)
        order = sorted(there, key=lambda n, k=0 if edge.level else 1: points.places[n][k])
        for a, b in pairwise(order):
            p, q = points.places[a], points.places[b]
            x, y = (p[0] + q[0]) / 2, (p[1] + q[1]) / 2
            # Half of what counts as touching, to the left: sides that coincide are told apart.
            x, y = (x, y + aside) if edge.level else (x + aside, y)
            if free(x, y, PLATE):
                a, b, p, q = (a, b, p, q) if edge.up else (b, a, q, p)
                steps.setdefault((a, b, PLATE), (edge.owner, p, q, 0.0))
    for i, there in on_circle.items():
        for a, b, sweep in _arcs(shapes[i], there, points):
            middle = _angle(shapes[i], points.places[a]) + sweep / 2
            x = shapes[i].x + shapes[i].r * math.cos(middle)
            y = shapes[i].y + shapes[i].r * math.sin(middle)
            if free(x, y, i):
                steps[(b, a, i)] = (i, points.places[b], points.places[a], -sweep)
        if not there and free(shapes[i].x + shapes[i].r, shapes[i].y, i):
            start = shapes[i].x + shapes[i].r, shapes[i].y
            walks.append([(i, start, start, -2 * math.pi)])
    # Boundaries that cross as deep as ``near`` meet at about sqrt(near / r); a point that fell
    # together with another turns a direction by near / r only.
    joined = _walks(steps, shapes, math.sqrt(near) / 50)
    return None if joined is None else walks + joined


def _sides(box: Shape, owner: int) -> list[_Edge]:
    """Return a rectangle's sides: the plate's walked counterclockwise, a hole's clockwise."""
    plate = owner == PLATE
    return [
        _Edge(owner, True, box.y0, box.x0, box.x1, plate),
        _Edge(owner, False, box.x1, box.y0, box.y1, plate),
        _Edge(owner, True, box.y1, box.x0, box.x1, not plate),
        _Edge(owner, False, box.x0, box.y0, box.y1, not plate),
    ]


def _split(
    edges: Sequence[_Edge],
    shapes: Sequence[Shape],
    points: _Points,
    on_edge: list[set[int]],
    on_circle: dict[int, set[int]],
) -> None:
    """Find every point where two boundaries meet; collinear sides meet at each other's ends."""
    near = points.near
    for i, one in enumerate(edges):
        for j in range(i):
            two = edges[j]
            if one.level != two.level and (
                one.low - near <= two.at <= one.high + near
                and two.low - near <= one.at <= two.high + near
            ):
                there = points.number(*one.point(two.at))
                on_edge[i].add(there)
                on_edge[j].add(there)
        for k, found in on_circle.items():
            for along in _on_line(shapes[k], one, near):
                if one.low - near <= along <= one.high + near:
                    there = points.number(*one.point(along))
                    on_edge[i].add(there)
                    found.add(there)
    round_ones = list(on_circle)
    for n, i in enumerate(round_ones):
        for j in round_ones[:n]:
            for x, y in _on_both(shapes[i], shapes[j], near):
                there = points.number(x, y)
                on_circle[i].add(there)
                on_circle[j].add(there)


def _on_line(circle: Shape, edge: _Edge, near: float) -> tuple[float, ...]:
    """Return where a circle meets the line of a side, along the side."""
    middle, off = (circle.x, edge.at - circle.y) if edge.level else (circle.y, edge.at - circle.x)
    if abs(off) > circle.r + near:
        return ()
    if abs(off) >= circle.r - near:
        return (middle,)
    half = math.sqrt((circle.r - off) * (circle.r + off))
    return middle - half, middle + half


def _on_both(one: Shape, two: Shape, near: float) -> tuple[Point, ...]:
    """Return where two circles meet; one point where they touch from outside."""
    dx, dy = two.x - one.x, two.y - one.y
    d = math.hypot(dx, dy)
    if d > one.r + two.r + near or d < abs(one.r - two.r):
        return ()
    dx, dy = dx / d, dy / d
    along = (d + (one.r - two.r) * (one.r + two.r) / d) / 2
    x, y = one.x + dx * along, one.y + dy * along
    if d >= one.r + two.r - near:
        return ((x, y),)
    half = math.sqrt(max(0.0, (one.r - along) * (one.r + along)))
    return (x - dy * half, y + dx * half), (x + dy * half, y - dx * half)


def _angle(circle: Shape, point: Point) -> float:
    return math.atan2(point[1] - circle.y, point[0] - circle.x)


def _arcs(circle: Shape, there: Iterable[int], points: _Points) -> list[tuple[int, int, float]]:
    """Return (start, end, angle) of a circle's parts, counterclockwise."""
    turned = sorted((_angle(circle, points.places[n]), n) for n in there)
    return [
        (a, b, (end - start) if k + 1 < len(turned) else (end - start + 2 * math.pi))
        for k, (start, a) in enumerate(turned)
        for end, b in [turned[(k + 1) % len(turned)]]
    ]


def _walks(
    steps: dict[tuple[int, int, int], Step], shapes: Sequence[Shape], same_way: float
) -> list[list[Step]] | None:
    """Join steps end to start; None where as many do not leave a point as come to it.

    Directions that differ by less than ``same_way`` (radians) are one: where boundaries touch,
    their curvature tells which is further left.
    """
    leaving: dict[int, list[tuple[int, int, int]]] = {}
    balance: dict[int, int] = {}
    for key in steps:
        leaving.setdefault(key[0], []).append(key)
        balance[key[0]] = balance.get(key[0], 0) + 1
        balance[key[1]] = balance.get(key[1], 0) - 1
    if any(balance.values()):
        return None
    walks: list[list[Step]] = []
    left = dict.fromkeys(steps)
    while left:
        key = first = next(iter(left))
        walk: list[Step] = []
        while key in left:
            del left[key]
            walk.append(steps[key])
            onward = leaving[key[1]]
            key = onward[0] if len(onward) == 1 else _leftmost(steps, key, onward, shapes, same_way)
        if key != first:
            return None
        walks.append(walk)
    return walks


def _leftmost(
    steps: dict[tuple[int, int, int], Step],
    arrived: tuple[int, int, int],
    onward: list[tuple[int, int, int]],
    shapes: Sequence[Shape],
    same_way: float,
) -> tuple[int, int, int]:
    """Return the step that turns furthest left: the first one clockwise from the way back."""
    back, back_bend = _heading(steps[arrived], shapes, at_end=True)
    back, back_bend = back + math.pi, -back_bend

    def turn(key: tuple[int, int, int]) -> float:
        """Return the angle clockwise from the way back, radians."""
        way, bend = _heading(steps[key], shapes, at_end=False)
        angle = (back - way) % (2 * math.pi)
        if same_way < angle < 2 * math.pi - same_way:
            return angle
        return 0.0 if bend < back_bend else 2 * math.pi

    return min(onward, key=turn)


def _heading(step: Step, shapes: Sequence[Shape], *, at_end: bool) -> tuple[float, float]:
    """Return direction (radians) and curvature (1/mm, + to the left) at an end of a step."""
    owner, start, end, sweep = step
    if not sweep:
        return math.atan2(end[1] - start[1], end[0] - start[0]), 0.0
    way = 1 if sweep > 0 else -1
    at = end if at_end else start
    return _angle(shapes[owner], at) + way * math.pi / 2, way / shapes[owner].r
