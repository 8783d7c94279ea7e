"""What a plane from front to back, or square to one board, cuts of the collar.

A part is cut where its outline in plan is, and is open there at the heights of its holes.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from ...geometry.shape.envelope import Envelope
from ...geometry.shape.frame import Board
from ...geometry.shape.hole import Hole
from ...geometry.shape.layout import Layout
from ...geometry.shape.lining import Panel
from ...geometry.shape.plane import Point
from ...geometry.shape.taps import Tap
from ...params.project import SIDES

What = Literal["board", "cover", "foam", "cap"]

LINE_ACROSS = 11.1
"""Outside diameter of a line on a tailpiece, mm (common practice)."""


@dataclass(frozen=True, slots=True)
class Cut:
    """A rectangle that is cut through: from where to where, and what it is of, mm."""

    what: What
    near: float
    far: float
    low: float
    high: float


def from_front_to_back(layout: Layout, x: float, *, bored: bool = True) -> Iterator[Cut]:
    """Yield what the upright plane at ``x`` cuts of the front and back sides: y and z.

    Without ``bored`` every part is taken as whole.
    """
    for what, outline, holes, bottom, height in _parts(layout):
        cut = _crossed(outline, x)
        if cut is None:
            continue
        u = _along(outline, x)
        for low, high in _left(holes if bored else (), u, height):
            yield Cut(what, *cut, bottom + low, bottom + high)


def _parts(layout: Layout) -> Iterator[tuple[What, Sequence[Point], Sequence[Hole], float, float]]:
    """Yield outline in plan (outer face first), holes, bottom and height of what is cut."""
    for side in ("front", "back"):
        board = layout.board(side)
        yield "board", board.plan, board.holes, board.bottom, board.width
        cover = layout.cover(side)
        if cover is not None:
            yield "cover", cover.plan, cover.holes, cover.bottom, cover.width
        panel = layout.panel(side)
        if panel is not None:
            yield "foam", panel_plan(board, panel), panel.holes, 0.0, panel.width
        for strip in layout.strips:
            if strip.side == side:
                plan = strip.outer[0], strip.outer[1], strip.inner[1], strip.inner[0]
                yield "cap", plan, (), strip.bottom, strip.thickness


def panel_plan(board: Board, panel: Panel) -> tuple[Point, Point, Point, Point]:
    """Return a foam panel's outline seen from above, its face on the board first."""
    start = board.inner_left + panel.start
    near, far = board.thickness, board.thickness + panel.thickness
    corners = (
        (start, near), (start + panel.length, near), (start + panel.length, far), (start, far)
    )  # fmt: skip
    a, b, c, d = (board.place(u, 0.0, inward)[:2] for u, inward in corners)
    return a, b, c, d


def _crossed(outline: Sequence[Point], x: float) -> tuple[float, float] | None:
    """Return where the line at ``x`` enters and leaves an outline in plan; None if it misses."""
    found: list[float] = []
    for (x0, y0), (x1, y1) in zip(outline, (*outline[1:], outline[0]), strict=True):
        if (x0 <= x) != (x1 <= x):
            found.append(y0 + (x - x0) / (x1 - x0) * (y1 - y0))
    return (min(found), max(found)) if len(found) >= 2 else None


def _along(outline: Sequence[Point], x: float) -> float:
    """Return how far along its outer edge, from its left end, a part is cut."""
    (x0, y0), (x1, y1) = outline[0], outline[1]
    return math.hypot(x1 - x0, y1 - y0) * (x - x0) / (x1 - x0)


def _left(holes: Iterable[Hole], u: float, height: float) -> list[tuple[float, float]]:
    """Return the heights between which a part is whole at ``u``, from below."""
    open_: list[tuple[float, float]] = []
    for hole in holes:
        if hole.purpose == "pilot":
            continue
        away = abs(hole.u - u)
        if hole.diameter is not None and away < hole.diameter / 2:
            half = math.sqrt(hole.diameter**2 / 4 - away**2)
        elif hole.diameter is None and away < hole.half_length:
            half = hole.half_height
        else:
            continue
        open_.append((hole.v - half, hole.v + half))
    found: list[tuple[float, float]] = []
    reached = 0.0
    for low, high in sorted(open_):
        if low > reached:
            found.append((reached, min(low, height)))
        reached = max(reached, high)
    if reached < height:
        found.append((reached, height))
    return [(low, high) for low, high in found if high > low]


def through(layout: Layout, tap: Tap) -> Iterator[Cut]:
    """Yield what is cut square to a tap's board: inward from its outer face, and z."""
    board = layout.board(tap.side)
    parts: list[tuple[What, Sequence[Hole], float, float, float, float, float]] = []
    parts.append(("board", board.holes, tap.u, 0.0, board.thickness, 0.0, board.width))
    cover = layout.cover(tap.side)
    if cover is not None:
        u = tap.u + cover.inner_left
        size = cover.bottom, cover.width
        parts.append(("cover", cover.holes, u, -cover.thickness, 0.0, *size))
    panel = layout.panel(tap.side)
    if panel is not None:
        u = tap.u - board.inner_left - panel.start
        far = board.thickness + panel.thickness
        parts.append(("foam", panel.holes, u, board.thickness, far, 0.0, panel.width))
    for what, holes, u, near, far, bottom, height in parts:
        for low, high in _left(holes, u, height):
            yield Cut(what, near, far, bottom + low, bottom + high)
    for strip in layout.strips:
        if strip.side == tap.side and layout.cap is not None:
            near = layout.cap.inset
            high = strip.bottom + strip.thickness
            yield Cut("cap", near, near + strip.width, strip.bottom, high)


def tail(tap: Tap) -> Iterator[tuple[str, float, float, float, float]]:
    """Yield a shank's inside in section: what, from and to inward, low and high, mm.

    Nut and tail nut are drawn as wide as they are across their corners and flats.
    """
    shank = tap.shank
    if shank is None:
        return
    half = shank.thread_diameter / 2
    clamp = tap.wall - tap.cover
    end = shank.length - tap.cover
    pipe = LINE_ACROSS / 2
    yield "tailpiece", end, end + shank.tailpiece_length, tap.v - pipe, tap.v + pipe
    yield "shank", -tap.cover, end, tap.v - half, tap.v + half
    if tap.washers and tap.washer_diameter:
        r = tap.washer_diameter / 2
        yield "washer", clamp, clamp + tap.washers, tap.v - r, tap.v + r
    nut = shank.nut_across_flats / math.sqrt(3)
    inner = clamp + tap.washers
    yield "shank nut", inner, inner + shank.nut_thickness, tap.v - nut, tap.v + nut
    near = end - shank.tail_engagement
    far = near + shank.tail_nut_length
    r = shank.nut_across_flats / 2
    yield "tail nut", near, far, tap.v - r, tap.v + r


def in_section(layout: Layout, tap: Tap, envelope: Envelope) -> tuple[Point, ...]:
    """Return an envelope's corners seen along its board: inward, z."""
    bottom = layout.board(tap.side).bottom
    return tuple((-out, bottom + up) for out, up in envelope.section)


def cut_x(layout: Layout) -> tuple[float, Tap | None]:
    """Return where the collar is cut from front to back: through a tap on front or back."""
    for side in ("front", "back"):
        taps = layout.taps_on(side)
        if taps:
            tap = taps[len(taps) // 2]
            return layout.board(side).place(tap.u, tap.v)[0], tap
    xs = [corner.x for corner in layout.frame.corners]
    return (min(xs) + max(xs)) / 2, None


def any_tap(layout: Layout) -> Tap | None:
    """Return the tap that is drawn in section: one with a shank, from the front on."""
    for side in SIDES:
        taps = [tap for tap in layout.taps_on(side) if tap.shank is not None]
        if taps:
            return taps[len(taps) // 2]
    return None
