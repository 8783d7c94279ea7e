"""The largest circle that passes straight down: between the boards, past nuts and manifold.

Exact to ``CLOSE``: cells of the plan are split, and a cell is given up when no point in it can
hold a larger circle. The distance to a rectangle is a convex function, so in a cell it is nowhere
more than at the cell's corners; and where a circle is held between two things, half the sum of
its two distances bounds it, which settles the strip between two parallel edges at once.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from math import ceil, hypot, sqrt

import numpy as np
from numpy.typing import NDArray

from .problem import Rect

CLOSE = 0.005
"""How near to the largest radius the answer comes, mm."""
LEVELS = 30
"""Times that cells are quartered at most: from 30 mm, 13 come to a hundredth."""
FIRST = 16
"""Cells along the longer side to begin with."""

Floats = NDArray[np.float64]

SIGN_X, SIGN_Y = (
    np.array([-1.0, 1.0, 1.0, -1.0])[:, None],
    np.array([-1.0, -1.0, 1.0, 1.0])[:, None],
)
"""To the corners of a cell from its middle."""


@dataclass(frozen=True, slots=True)
class Circle:
    """The circle found; none larger than ``at_most`` passes. Radii in mm."""

    x: float
    y: float
    radius: float
    at_most: float

    @property
    def diameter(self) -> float:
        """The greatest diameter that was found to pass, mm."""
        return 2 * self.radius


def _distances(area: Rect, blocks: Floats, x: Floats, y: Floats) -> Floats:
    """Return distances to the four walls and each rectangle as the last axis; inside, minus."""
    x, y = x[..., None], y[..., None]
    walls = [x - area.x0, area.x1 - x, y - area.y0, area.y1 - y]
    dx = np.maximum(blocks[:, 0] - x, x - blocks[:, 2])
    dy = np.maximum(blocks[:, 1] - y, y - blocks[:, 3])
    outside = np.hypot(np.maximum(dx, 0.0), np.maximum(dy, 0.0))
    to_blocks = np.where(outside > 0, outside, np.maximum(dx, dy))
    return np.concatenate([*walls, to_blocks], axis=-1)


def _most(corners: Floats, center: Floats) -> Floats:
    """Return for each cell a radius that no circle with its center in it exceeds.

    ``corners`` are distances by corner, cell and thing, ``center`` those by cell and thing.
    """
    alone = corners.max(axis=0).min(axis=-1)
    # the two that are nearest at the middle are most likely to hold a circle from two sides
    two = np.argpartition(center, 1, axis=-1)[:, :2]
    both = np.take_along_axis(corners, two[None], axis=-1).sum(axis=-1).max(axis=0) / 2
    return np.minimum(alone, both)


def _halfway(area: Rect, blocks: Floats, x: float, y: float) -> tuple[float, float]:
    """Return the point halfway between the nearest thing and the one that faces it."""
    things = [(area.x0, -np.inf, area.x0, np.inf), (area.x1, -np.inf, area.x1, np.inf)]
    things += [(-np.inf, area.y0, np.inf, area.y0), (-np.inf, area.y1, np.inf, area.y1)]
    steps = [Rect(*map(float, thing)).away(x, y) for thing in (*things, *blocks)]
    dx, dy = min(steps, key=lambda step: hypot(*step))
    near = hypot(dx, dy)
    facing = [hypot(*step) for step in steps if near and step[0] * dx + step[1] * dy < 0]
    push = (min(facing, default=near) - near) / 2 / near if near else 0.0
    return x + push * dx, y + push * dy


def _at_full_width(area: Rect, rects: tuple[Rect, ...]) -> Circle | None:
    """Return the circle that fills the area from side to side, if it passes somewhere."""
    wide = area.x1 - area.x0 >= area.y1 - area.y0
    low, high, across0, across1 = (
        (area.x0, area.x1, area.y0, area.y1) if wide else (area.y0, area.y1, area.x0, area.x1)
    )
    r, middle = (across1 - across0) / 2, (across0 + across1) / 2
    taken: list[tuple[float, float]] = []
    for b in rects:
        start, end, near, far = (b.x0, b.x1, b.y0, b.y1) if wide else (b.y0, b.y1, b.x0, b.x1)
        off = max(near - middle, middle - far, 0.0)
        if off < r:
            half = sqrt(r * r - off * off)
            taken.append((start - half, end + half))
    at = low + r
    for start, end in sorted(taken):
        if start < at < end:
            at = end
    if at > high - r:
        return None
    x, y = (at, middle) if wide else (middle, at)
    return Circle(x, y, r, r)


@lru_cache(maxsize=512)
def _largest(area: Rect, rects: tuple[Rect, ...]) -> Circle:
    full = _at_full_width(area, rects)
    if full:
        return full
    blocks = np.array([(b.x0, b.y0, b.x1, b.y1) for b in rects], float).reshape(-1, 4)
    width, depth = area.x1 - area.x0, area.y1 - area.y0
    side = max(width, depth) / FIRST
    nx, ny = ceil(width / side), ceil(depth / side)
    hx, hy = width / nx / 2, depth / ny / 2
    x: Floats = np.repeat(area.x0 + hx * (2 * np.arange(nx, dtype=float) + 1), ny)
    y: Floats = np.tile(area.y0 + hy * (2 * np.arange(ny, dtype=float) + 1), nx)
    best, at, ceiling = -np.inf, (0.0, 0.0), -np.inf
    for _ in range(LEVELS):
        center = _distances(area, blocks, x, y)
        k = int(center.min(axis=-1).argmax())
        for spot in ((float(x[k]), float(y[k])), _halfway(area, blocks, float(x[k]), float(y[k]))):
            radius = float(_distances(area, blocks, *(np.array([c]) for c in spot)).min())
            if radius > best:
                best, at = radius, spot
        most = _most(_distances(area, blocks, x + hx * SIGN_X, y + hy * SIGN_Y), center)
        stays = most > best + CLOSE
        # what is given up here may still hold a little more than the best
        ceiling = max(ceiling, float(most[~stays].max(initial=-np.inf)))
        if not stays.any():
            break
        x, y, hx, hy = x[stays], y[stays], hx / 2, hy / 2
        x, y = (x + hx * SIGN_X).ravel(), (y + hy * SIGN_Y).ravel()
    else:
        ceiling = np.inf
    return Circle(at[0], at[1], max(best, 0.0), max(best, min(ceiling, best + CLOSE)))


def largest_opening(ways_through: Iterable[Rect], blocks: Iterable[Rect] = ()) -> Circle | None:
    """Return the largest circle that passes vertically at one place in plan, or None.

    Args:
        ways_through: What it passes through, one below the other: the collar's openings and the
            well's mouth, mm. Rounded corners are left out: they stop no circle that is wider.
        blocks: What stands or hangs in its way, at any height: shank nuts, shanks, tailpieces,
            manifold.
    """
    rects = list(ways_through)
    area = Rect(
        max(r.x0 for r in rects),
        max(r.y0 for r in rects),
        min(r.x1 for r in rects),
        min(r.y1 for r in rects),
    )
    if area.x1 <= area.x0 or area.y1 <= area.y0:
        return None
    clipped = {
        Rect(max(b.x0, area.x0), max(b.y0, area.y0), min(b.x1, area.x1), min(b.y1, area.y1))
        for b in blocks
        if b.x1 > area.x0 and b.x0 < area.x1 and b.y1 > area.y0 and b.y0 < area.y1
    }
    alone = tuple(sorted(b for b in clipped if not any(o != b and o.holds(b) for o in clipped)))
    found = _largest(area, alone)
    return found if found.radius > 0 else None
