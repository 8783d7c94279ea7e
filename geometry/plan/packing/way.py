"""Where the axis of one vessel may be while others stand, and ways along the floor for it.

Ways are looked for on a grid and by straight slides; each piece of a way is tested exactly.
"""

from collections import deque
from dataclasses import dataclass
from math import ceil, hypot

import numpy as np
from numpy.typing import NDArray

from .answer import Place
from .problem import Problem, Rect, Vessel, Well

GRID = 10.0
"""Distance between the grid's points, mm."""
TOUCH = 1e-6
"""Rounding, mm."""

Floats = NDArray[np.float64]
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Room:
    """Where an axis may be: inside ``area``, clear of circles (x, y, r) and of rectangles.

    Rounded rectangles: the third of ``blocks`` is the radius that keeps off.
    """

    area: Rect
    circles: Floats
    blocks: Floats
    corners: tuple[tuple[Rect, float], ...]

    def free(self, x0: Floats, y0: Floats, x1: Floats, y1: Floats) -> NDArray[np.bool_]:
        """Say for each level or upright piece of way (x0 <= x1, y0 <= y1) whether it is free."""
        a = self.area
        ok = (x0 >= a.x0 - TOUCH) & (x1 <= a.x1 + TOUCH) & (y0 >= a.y0 - TOUCH)
        ok &= y1 <= a.y1 + TOUCH
        for cx, cy, r in self.circles:
            dx, dy = np.maximum(x0 - cx, cx - x1), np.maximum(y0 - cy, cy - y1)
            ok &= np.hypot(np.maximum(dx, 0), np.maximum(dy, 0)) >= r - TOUCH
        for bx0, by0, bx1, by1, r in self.blocks:
            dx, dy = np.maximum(x0 - bx1, bx0 - x1), np.maximum(y0 - by1, by0 - y1)
            inside = (dx < 0) & (dy < 0)
            ok &= ~inside & (np.hypot(np.maximum(dx, 0), np.maximum(dy, 0)) >= r - TOUCH)
        for rect, reach in self.corners:
            for x in (x0, x1):
                for y in (y0, y1):
                    dx = np.maximum(np.maximum(rect.x0 - x, x - rect.x1), 0)
                    dy = np.maximum(np.maximum(rect.y0 - y, y - rect.y1), 0)
                    ok &= np.hypot(dx, dy) <= reach + TOUCH
        return ok

    def slides(self, p: Point, q: Point) -> bool:
        """Say whether the straight way between two points is free."""
        ends = np.array([p, q])
        if not self.free(ends[:, 0], ends[:, 1], ends[:, 0], ends[:, 1]).all():
            return False
        return all(_to_segment((cx, cy), p, q) >= r - TOUCH for cx, cy, r in self.circles) and all(
            _from_rect(Rect(*b[:4]), p, q) >= b[4] - TOUCH for b in self.blocks.tolist()
        )


def _to_segment(c: Point, p: Point, q: Point) -> float:
    """Return the distance from a point to a segment."""
    dx, dy = q[0] - p[0], q[1] - p[1]
    long = dx * dx + dy * dy
    t = ((c[0] - p[0]) * dx + (c[1] - p[1]) * dy) / long if long else 0.0
    t = min(max(t, 0.0), 1.0)
    return hypot(c[0] - p[0] - t * dx, c[1] - p[1] - t * dy)


def _from_rect(rect: Rect, p: Point, q: Point) -> float:
    """Return the distance from a segment to a rectangle; 0 where they cross."""
    low, high = 0.0, 1.0
    for start, end, a, b in ((p[0], q[0], rect.x0, rect.x1), (p[1], q[1], rect.y0, rect.y1)):
        run = end - start
        if run == 0:
            if not a < start < b:
                low, high = 1.0, 0.0
            continue
        s, e = sorted(((a - start) / run, (b - start) / run))
        low, high = max(low, s), min(high, e)
    if low < high:
        return 0.0
    corners = [(x, y) for x in (rect.x0, rect.x1) for y in (rect.y0, rect.y1)]
    return min(
        *(_to_segment(c, p, q) for c in corners),
        hypot(*rect.away(*p)),
        hypot(*rect.away(*q)),
    )


def _shrunk(rects: list[tuple[Rect, float]]) -> Rect:
    return Rect(
        max(r.x0 + by for r, by in rects),
        max(r.y0 + by for r, by in rects),
        min(r.x1 - by for r, by in rects),
        min(r.y1 - by for r, by in rects),
    )


def _ends(well: Well, low: float, high: float) -> tuple[float, ...]:
    return (low, min(high, well.top)) if low < well.top else ()


def room_for(
    problem: Problem, vessel: Vessel, at: Place, others: list[tuple[Vessel, Place]], lowering: bool
) -> Room:
    """Return where the axis may be: standing at its height, or (``lowering``) at every height.

    A disc that comes down passes all heights above the one at which it ends.
    """
    well = problem.well
    inside: list[tuple[Rect, float]] = []
    circles: list[tuple[float, float, float]] = []
    blocks: list[tuple[float, ...]] = []
    corners: list[tuple[Rect, float]] = []
    for disc in vessel.discs:
        r, low = disc.radius, at.z + disc.bottom
        high = np.inf if lowering else at.z + disc.top
        for z in _ends(well, low, high):
            rect, rc = well.at(z), well.corner_radius
            inside.append((rect, r))
            if r < rc:
                corners.append((_shrunk([(rect, rc)]), rc - r))
        inside += [(o.rect, r) for o in problem.openings if o.bottom < high and low < o.top]
        boxes = [(b.rect, b.bottom, b.top, b.reach) for b in problem.obstacles]
        if well.step_rect and not at.on_step:
            boxes.append((well.step_rect, well.bottom, well.step_top, 0.0))
        blocks += [
            (rect.x0, rect.y0, rect.x1, rect.y1, r + reach)
            for rect, bottom, top, reach in boxes
            if bottom < high and low < top
        ]
        circles += [
            (there.x, there.y, r + d.radius)
            for other, there in others
            for d in other.discs
            if there.z + d.bottom < high and low < there.z + d.top
        ]
    return Room(
        _shrunk(inside),
        np.array(sorted(set(circles)), float).reshape(-1, 3),
        np.array(sorted(set(blocks)), float).reshape(-1, 5),
        tuple(corners),
    )


def way(stand: Room, down: Room, end: Point) -> tuple[Point, ...] | None:
    """Return a way from a place of lowering to the end, by the fewest steps of the grid."""

    def comes_down(p: Point) -> bool:
        x, y = np.array([p[0]]), np.array([p[1]])
        return bool(down.free(x, y, x, y)[0])

    if comes_down(end):
        return (end,)
    area = stand.area
    if area.x1 < area.x0 or area.y1 < area.y0:
        return None
    nx = max(ceil((area.x1 - area.x0) / GRID), 1) + 1
    ny = max(ceil((area.y1 - area.y0) / GRID), 1) + 1
    xs, ys = np.linspace(area.x0, area.x1, nx), np.linspace(area.y0, area.y1, ny)
    x, y = np.meshgrid(xs, ys, indexing="ij")
    across = stand.free(x[:-1], y[:-1], x[1:], y[1:])
    along = stand.free(x[:, :-1], y[:, :-1], x[:, 1:], y[:, 1:])
    lands = down.free(x, y, x, y)
    near = sorted(
        (hypot(xs[i] - end[0], ys[j] - end[1]), i, j) for i in range(nx) for j in range(ny)
    )
    queue: deque[tuple[int, int]] = deque()
    back: dict[tuple[int, int], tuple[int, int] | None] = {}
    for distance, i, j in near:
        if distance > 1.5 * GRID:
            break
        if stand.slides(end, (float(xs[i]), float(ys[j]))):
            queue.append((i, j))
            back[i, j] = None
    while queue:
        i, j = spot = queue.popleft()
        if lands[i, j]:
            path: list[Point] = []
            step: tuple[int, int] | None = spot
            while step is not None:
                path.append((float(xs[step[0]]), float(ys[step[1]])))
                step = back[step]
            return _pulled(stand, [*path, end])
        for k, m, open_way in (
            (i + 1, j, i + 1 < nx and across[i, j]),
            (i - 1, j, i > 0 and across[i - 1, j]),
            (i, j + 1, j + 1 < ny and along[i, j]),
            (i, j - 1, j > 0 and along[i, j - 1]),
        ):
            if open_way and (k, m) not in back:
                back[k, m] = spot
                queue.append((k, m))
    return None


def _pulled(stand: Room, path: list[Point]) -> tuple[Point, ...]:
    """Return the way with every corner left out that a straight slide saves."""
    kept = [path[0]]
    k = 0
    while k < len(path) - 1:
        far = next(
            (m for m in range(len(path) - 1, k + 1, -1) if stand.slides(path[k], path[m])), k + 1
        )
        kept.append(path[far])
        k = far
    return tuple(kept)
