"""Simple bodies for what is put in place and for what turns it, seen from one side of the collar.

A side's view: ``u`` from its board's left long point along the board, ``v`` up from its bottom
edge, ``d`` inward from its outer face (outside is negative), mm. A tool is looked at in the view
of the side that it works on. What is on another side comes into that view as an upright prism over
its outline in plan; a round part's outline is the rectangle about it, on the safe side.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ...shape.frame import Board
from ...shape.hole import Hole
from ...shape.plane import Point, along

FAR = 1000.0
"""Farther than any tool reaches, mm: how deep a thing is whose own depth does not matter."""


@dataclass(frozen=True, slots=True)
class Rod:
    """A round bar square to the board: its axis at (u, v), from ``near`` to ``far`` along d."""

    u: float
    v: float
    radius: float
    near: float
    far: float


@dataclass(frozen=True, slots=True)
class Prism:
    """A convex outline, straight through: upright over a plan, or level over a section.

    ``outline`` are points (d, u) with ``low`` to ``high`` along v; ``level`` swaps u and v.
    """

    outline: tuple[Point, ...]
    low: float
    high: float
    level: bool = False


@dataclass(frozen=True, slots=True)
class Lining:
    """A foam panel before its own board, with all that is cut out of it (``holes`` in u, v)."""

    left: float
    right: float
    top: float
    near: float
    far: float
    holes: tuple[Hole, ...]


@dataclass(frozen=True, slots=True)
class Room:
    """A box that a hand or a part needs free: its sides in the view, ``near`` to ``far``."""

    left: float
    right: float
    low: float
    high: float
    near: float
    far: float


Body = Rod | Prism | Lining
Box = tuple[float, float, float, float]
"""Left, right, low, high in a view."""


def box(u: Point, v: Point, d: Point) -> Prism:
    """Return a box from its three spans, each as (from, to)."""
    (left, right), (near, far) = u, d
    return Prism(((near, left), (near, right), (far, right), (far, left)), *v)


def within(body: Prism, near: float, far: float) -> Box | None:
    """Return the rectangle in the view that a prism takes between two depths, None if none.

    Touching the layer is not being in it.
    """
    depths = [depth for depth, _ in body.outline]
    if max(depths) <= near + 1e-9 or min(depths) >= far - 1e-9:
        return None
    found: list[float] = []
    before = body.outline[-1]
    for after in body.outline:
        (d0, x0), (d1, x1) = before, after
        if near <= d1 <= far:
            found.append(x1)
        found += [
            x0 + (x1 - x0) * (cut - d0) / (d1 - d0)
            for cut in (near, far)
            if d0 < cut < d1 or d1 < cut < d0
        ]
        before = after
    if not found:  # the outline is wider than the layer on both sides, and has no point in it
        return None
    least, most = min(found), max(found)
    return (body.low, body.high, least, most) if body.level else (least, most, body.low, body.high)


def away(u: float, v: float, rectangle: Box) -> float:
    """Return how far a point is from a rectangle, mm; negative inside it."""
    left, right, low, high = rectangle
    across, up = max(left - u, u - right), max(low - v, v - high)
    outside = math.hypot(max(across, 0.0), max(up, 0.0))
    return outside if outside > 0.0 else max(across, up)


def clear_of_foam(u: float, v: float, panel: Lining) -> float:
    """Return the radius about a point that is clear of the foam, mm; 0 in the foam.

    The widest single cut-out decides: two pockets that run together clear at least that much.
    """
    beyond = away(u, v, (panel.left, panel.right, 0.0, panel.top))
    clear = max(0.0, beyond)
    for hole in panel.holes:
        if hole.diameter is not None:
            clear = max(clear, hole.diameter / 2 - math.hypot(u - hole.u, v - hole.v))
        else:
            inside = (hole.half_length - abs(u - hole.u), hole.half_height - abs(v - hole.v))
            # An opening that runs over the panel's edge ends where the foam does.
            clear = max(clear, min(inside))
    return clear


def gap(tool: Rod | Room, body: Body) -> float | None:
    """Return the gap from a straight tool to a body beside it, mm; negative where they meet.

    None where they lie in different layers.
    """
    return _rod_gap(tool, body) if isinstance(tool, Rod) else _room_gap(tool, body)


def _rod_gap(rod: Rod, body: Body) -> float | None:
    if isinstance(body, Prism):
        found = within(body, rod.near, rod.far)
        return None if found is None else away(rod.u, rod.v, found) - rod.radius
    if _apart(rod, body):
        return None
    if isinstance(body, Rod):
        return math.hypot(rod.u - body.u, rod.v - body.v) - rod.radius - body.radius
    return clear_of_foam(rod.u, rod.v, body) - rod.radius


def _room_gap(room: Room, body: Body) -> float | None:
    """Return the gap from a box to a body; a foam panel is the box about it, pockets and all."""
    if not isinstance(body, Rod):
        found = (
            within(body, room.near, room.far)
            if isinstance(body, Prism)
            else (body.left, body.right, 0.0, body.top)
        )
        if found is None or (isinstance(body, Lining) and _apart(room, body)):
            return None
        left, right, low, high = found
        across = max(room.left - right, left - room.right)
        up = max(room.low - high, low - room.high)
        outside = math.hypot(max(across, 0.0), max(up, 0.0))
        return outside if outside > 0.0 else max(across, up)
    if _apart(room, body):
        return None
    return away(body.u, body.v, (room.left, room.right, room.low, room.high)) - body.radius


def _apart(one: Rod | Room, other: Rod | Lining) -> bool:
    """Tell whether two things lie in different layers; touching is not being in the same."""
    return one.near >= other.far - 1e-9 or other.near >= one.far - 1e-9


def about(body: Body) -> Room:
    """Return the box about a body in its view."""
    if isinstance(body, Rod):
        u, v, r = body.u, body.v, body.radius
        return Room(u - r, u + r, v - r, v + r, body.near, body.far)
    if isinstance(body, Lining):
        return Room(body.left, body.right, 0.0, body.top, body.near, body.far)
    depths, across = zip(*body.outline, strict=True)
    sides = min(across), max(across)
    ends = body.low, body.high
    wide, tall = (ends, sides) if body.level else (sides, ends)
    return Room(*wide, *tall, min(depths), max(depths))


def seen_from(body: Body, own: Board, other: Board) -> Body:
    """Return a body of one board's view as it stands in another board's view."""
    if own is other:
        return body
    if isinstance(body, Rod):
        plan: Sequence[Point] = _rectangle(
            body.near, body.far, body.u - body.radius, body.u + body.radius
        )
        low, high = body.v - body.radius, body.v + body.radius
    elif isinstance(body, Lining):
        plan, low, high = _rectangle(body.near, body.far, body.left, body.right), 0.0, body.top
    elif body.level:
        depths, heights = zip(*body.outline, strict=True)
        plan = _rectangle(min(depths), max(depths), body.low, body.high)
        low, high = min(heights), max(heights)
    else:
        plan, low, high = body.outline, body.low, body.high
    ux, uy = along(*other.outer)
    x0, y0 = other.outer[0]
    moved: list[Point] = []
    for d, u in plan:
        x, y, _ = own.place(u, 0.0, d)
        moved.append(((y - y0) * ux - (x - x0) * uy, (x - x0) * ux + (y - y0) * uy))
    rise = own.bottom - other.bottom
    return Prism(tuple(moved), low + rise, high + rise)


def _rectangle(near: float, far: float, left: float, right: float) -> tuple[Point, ...]:
    return (near, left), (near, right), (far, right), (far, left)
