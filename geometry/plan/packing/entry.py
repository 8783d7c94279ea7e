"""How the vessels get in: straight down through the openings, then sideways at the bottom.

Each vessel comes down upright at one place in plan and is slid to its own along floor or step;
those already in stand at their places. The order is found backward: from the full well, take out
any vessel that can leave. Taking one out only makes room, so which goes first never matters, and
no order is missed for that reason. Ways along the floor are looked for on a grid and by straight
slides: a way that is found is one, but a way that needs less than a grid's step of room may be
missed. So the words are "an order was found" and "no order found by this search".
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
class Entry:
    """One vessel going in: down at the first point of ``path``, then along it to its place."""

    vessel: str
    path: tuple[Point, ...]

    @property
    def lowered_at(self) -> Point:
        """Where it goes straight down, mm in plan."""
        return self.path[0]

    @property
    def straight_down(self) -> bool:
        """Whether it comes down on its place and is not slid."""
        return len(self.path) == 1


@dataclass(frozen=True, slots=True)
class EntryOrder:
    """The order in which they go in, or who is stuck.

    ``entries`` are in order; complete if ``stuck`` is empty. ``stuck`` are vessels for none of
    which a way in was found with the others of them standing; ``blocked_by`` names for each
    those of whom a single one would have to be away, none if that would not be enough.
    """

    entries: tuple[Entry, ...]
    stuck: tuple[str, ...] = ()
    blocked_by: tuple[tuple[str, tuple[str, ...]], ...] = ()
    alone: tuple[str, ...] = ()
    """Those of the stuck for which no way in was found even into the empty well."""

    @property
    def found(self) -> bool:
        """Whether every vessel gets in."""
        return not self.stuck

    def say(self) -> str:
        """Return the answer in words."""
        if self.found:
            return "an order was found: " + ", ".join(entry.vessel for entry in self.entries)
        words = [f"no order found by this search; left over: {', '.join(self.stuck)}"]
        words += [f"no way in found for {name} even into the empty well" for name in self.alone]
        words += [
            f"{' or '.join(by)} stands in the way of {name}" for name, by in self.blocked_by if by
        ]
        return "; ".join(words)


@dataclass(frozen=True, slots=True)
class _Room:
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


def _room(
    problem: Problem, vessel: Vessel, at: Place, others: list[tuple[Vessel, Place]], lowering: bool
) -> _Room:
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
        boxes = [(b.rect, b.bottom, b.top) for b in problem.obstacles]
        if well.step_rect and not at.on_step:
            boxes.append((well.step_rect, well.bottom, well.step_top))
        blocks += [
            (rect.x0, rect.y0, rect.x1, rect.y1, r)
            for rect, bottom, top in boxes
            if bottom < high and low < top
        ]
        circles += [
            (there.x, there.y, r + d.radius)
            for other, there in others
            for d in other.discs
            if there.z + d.bottom < high and low < there.z + d.top
        ]
    return _Room(
        _shrunk(inside),
        np.array(sorted(set(circles)), float).reshape(-1, 3),
        np.array(sorted(set(blocks)), float).reshape(-1, 5),
        tuple(corners),
    )


def _way(stand: _Room, down: _Room, end: Point) -> tuple[Point, ...] | None:
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


def _pulled(stand: _Room, path: list[Point]) -> tuple[Point, ...]:
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


def way_in(
    problem: Problem, vessel: Vessel, at: Place, others: list[tuple[Vessel, Place]]
) -> tuple[Point, ...] | None:
    """Return a way in for one vessel while others stand: lowering place first, its own last."""
    stand = _room(problem, vessel, at, others, lowering=False)
    down = _room(problem, vessel, at, others, lowering=True)
    return _way(stand, down, (at.x, at.y))


def entry_order(problem: Problem, places: tuple[Place, ...]) -> EntryOrder:
    """Return an order in which the vessels get to their places, and each one's way.

    Small ones are taken out first where there is a choice, so that the large ones go in first.

    Args:
        problem: What the places were found for.
        places: Where they stand in the end, one for each vessel.

    Raises:
        KeyError: A vessel has no place.
    """
    at = {place.vessel: place for place in places}
    inside = sorted(problem.vessels, key=lambda v: (v.radius, v.height, v.name))
    leaving: list[Entry] = []
    while inside:
        for vessel in inside:
            others = [(v, at[v.name]) for v in inside if v is not vessel]
            path = way_in(problem, vessel, at[vessel.name], others)
            if path is not None:
                leaving.append(Entry(vessel.name, path))
                inside.remove(vessel)
                break
        else:
            break
    entries = tuple(reversed(leaving))
    if not inside:
        return EntryOrder(entries)
    alone: list[str] = []
    blocked: list[tuple[str, tuple[str, ...]]] = []
    for vessel in inside:
        place = at[vessel.name]
        if way_in(problem, vessel, place, []) is None:
            alone.append(vessel.name)
            continue
        others = [(v, at[v.name]) for v in inside if v is not vessel]
        by = [
            v.name
            for k, (v, _) in enumerate(others)
            if way_in(problem, vessel, place, others[:k] + others[k + 1 :]) is not None
        ]
        blocked.append((vessel.name, tuple(by)))
    stuck = tuple(sorted(v.name for v in inside))
    return EntryOrder(entries, stuck, tuple(sorted(blocked)), tuple(sorted(alone)))
