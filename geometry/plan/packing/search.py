"""Proves how large a gap can be: a search over sectors of direction, best bound first.

A node gives some pairs a sector [a, b] for the direction from one axis to the other: the step
between them lies between the two rays, and its part along the middle is at least
``(d + gap) cos((b - a) / 2)``. Both are linear and follow from the true condition, so the linear
program's gap is a sound upper bound. Beside an obstacle an axis is left of it, right, before,
behind, or near one of its corners within such a sector. What is left out is left out because its
bound is below the threshold: the list of those leaves is the proof.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from heapq import heappop, heappush
from math import atan2, cos, hypot, pi, sin

import numpy as np

from .lp import Floats, Optimum, Row, Rows, Solver
from .mode import Mode

VIOLATED = 1e-6
"""Less than this is rounding, mm."""
NARROW = 1e-6
"""A sector narrower than this is not split again, rad."""
BETWEEN = 0.3
"""The least share of a sector that either half gets."""
LOOKS = 20
"""The first nodes from which a climb is started, and then one in that many."""

Sector = tuple[float, float]
Key = tuple[int, int, bool]
"""Two vessels, or (if the last is true) a vessel and one of its obstacles."""


@dataclass(frozen=True, slots=True)
class Node:
    """A part of the search: its rows, its bound, and the sectors given so far."""

    mode: Mode
    rows: Rows
    best: Optimum
    sectors: dict[Key, Sector | None]


@dataclass(frozen=True, slots=True)
class Proof:
    """No placement keeps more than ``bound``; ``closed`` if nothing above the threshold is open."""

    bound: float
    nodes: int
    closed: bool


def _sector_rows(
    plus: tuple[int, int], minus: tuple[int, int] | Floats, gap: int, d: float, sector: Sector
) -> list[Row]:
    """Return the rows for the step to ``plus`` from ``minus``: columns, or a fixed point."""
    a, b = sector
    mid, part = (a + b) / 2, cos((b - a) / 2)
    ways = [(cos(mid), sin(mid), d * part), (-sin(a), cos(a), 0.0), (sin(b), -cos(b), 0.0)]
    rows: list[Row] = []
    for k, (u, v, least) in enumerate(ways):
        columns, factors = plus, (u, v)
        if isinstance(minus, tuple):
            columns, factors = (*minus, *plus), (-u, -v, u, v)
        else:
            least += u * float(minus[0]) + v * float(minus[1])
        if k == 0:
            columns, factors = (*columns, gap), (*factors, -part)
        rows.append((columns, factors, least))
    return rows


def _start_sectors(phi: float, like: bool) -> Iterator[Sector]:
    """Yield the first sectors: three where the order halves the circle, else four."""
    if like:
        yield from ((k * pi / 3 - pi / 2, (k + 1) * pi / 3 - pi / 2) for k in range(3))
    else:
        yield from ((phi + k * pi / 2, phi + (k + 1) * pi / 2) for k in range(4))


def _halves(sector: Sector, phi: float) -> Iterator[Sector]:
    """Yield two parts of a sector, split at a direction or as near to it as is useful."""
    a, b = sector
    at = a + (phi - a) % (2 * pi)
    if at > b + (2 * pi - (b - a)) / 2:
        at = a
    at = min(max(at, a + BETWEEN * (b - a)), b - BETWEEN * (b - a))
    yield a, at
    yield at, b


class Search:
    """The search over all modes at once."""

    def __init__(
        self,
        modes: list[Mode],
        solver: Solver,
        look: Callable[[Mode, Floats], float],
        threshold: Callable[[float], float],
    ) -> None:
        """Prepare; ``look`` climbs from a point and returns the best gap found so far.

        ``threshold`` turns the best gap found into the bound below which a part is closed.
        """
        self.solver, self.look, self.threshold = solver, look, threshold
        self.heap: list[tuple[float, int, Node]] = []
        self.count = 0
        self.ceiling = -np.inf
        self.best = -np.inf
        for mode in modes:
            self._push(mode, mode.rows.then(mode.order), None, {})

    @property
    def bound(self) -> float:
        """The largest gap that is not ruled out, mm."""
        open_part = -self.heap[0][0] if self.heap else -np.inf
        return float(max(self.ceiling, open_part))

    def _push(
        self, mode: Mode, rows: Rows, start: Optimum | None, sectors: dict[Key, Sector | None]
    ) -> None:
        self.count += 1
        try:
            found = self.solver.maximize(rows, mode.lower, mode.upper, start)
        except ArithmeticError:
            # not solved: as good as the part it was split off from, and never split again
            self.ceiling = max(self.ceiling, start.value if start else np.inf)
            return
        if found is None:
            return
        if found.value < self.threshold(self.best):
            self.ceiling = max(self.ceiling, found.value)
            return
        heappush(self.heap, (-found.value, self.count, Node(mode, rows, found, sectors)))

    def run(self, limit: int, best: float) -> Proof:
        """Split until every part is closed or ``limit`` nodes were made."""
        self.best = max(self.best, best)
        looked = 0
        while self.heap:
            value = -self.heap[0][0]
            if value < self.threshold(self.best):
                self.ceiling, self.heap = max(self.ceiling, value), []
                break
            if self.count >= limit:
                break
            node = heappop(self.heap)[2]
            looked += 1
            if looked <= LOOKS or looked % LOOKS == 0:
                self.best = max(self.best, self.look(node.mode, node.best.at))
            if not self._split(node):
                self.best = max(self.best, self.look(node.mode, node.best.at))
                self.ceiling = max(self.ceiling, node.best.value)
        return Proof(self.bound, self.count, not self.heap)

    def _split(self, node: Node) -> bool:
        """Split at the worst violation; return False if there is none."""
        mode, at = node.mode, node.best.at
        worst, key = 0.0, None
        gap = node.best.value
        for (i, j), d in mode.apart.items():
            short = d + gap - hypot(at[2 * j] - at[2 * i], at[2 * j + 1] - at[2 * i + 1])
            if short > VIOLATED:
                # the narrower of the two decides how much a sector can tell
                weight = short * min(mode.homes[i].vessel.radius, mode.homes[j].vessel.radius) ** 3
                if weight > worst and self._splits(node, (i, j, False)):
                    worst, key = weight, (i, j, False)
        for i, home in enumerate(mode.homes):
            for k, block in enumerate(home.blocks):
                dx, dy = block.rect.away(at[2 * i], at[2 * i + 1])
                short = block.radius + gap - hypot(dx, dy)
                if short > VIOLATED:
                    weight = short * block.radius**3
                    if weight > worst and self._splits(node, (i, k, True)):
                        worst, key = weight, (i, k, True)
        if key is None:
            return False
        parts = self._beside(node, key) if key[2] else self._pair(node, key)
        for sector, rows in parts:
            self._push(
                mode, node.rows.then(Rows.of(rows)), node.best, {**node.sectors, key: sector}
            )
        return True

    @staticmethod
    def _splits(node: Node, key: Key) -> bool:
        sector = node.sectors.get(key, (0.0, 2 * pi))
        return sector is not None and sector[1] - sector[0] > NARROW

    def _pair(self, node: Node, key: Key) -> Iterator[tuple[Sector, list[Row]]]:
        i, j, _ = key
        mode, at = node.mode, node.best.at
        dx, dy = at[2 * j] - at[2 * i], at[2 * j + 1] - at[2 * i + 1]
        phi = atan2(dy, dx) if hypot(dx, dy) > VIOLATED else 0.0
        sector = node.sectors.get(key)
        like = (i, j) in mode.same
        for part in _halves(sector, phi) if sector else _start_sectors(phi, like):
            plus, minus = (2 * j, 2 * j + 1), (2 * i, 2 * i + 1)
            yield part, _sector_rows(plus, minus, 2 * len(mode.homes), mode.apart[i, j], part)

    def _beside(self, node: Node, key: Key) -> Iterator[tuple[Sector | None, list[Row]]]:
        i, k, _ = key
        mode, at = node.mode, node.best.at
        block = mode.homes[i].blocks[k]
        x, y, gap = 2 * i, 2 * i + 1, 2 * len(mode.homes)
        rect, r = block.rect, block.radius
        sector = node.sectors.get(key)
        if sector:
            # the corner that the sector's middle points out of
            mid = (sector[0] + sector[1]) / 2
            corner = np.array(
                [rect.x1 if cos(mid) > 0 else rect.x0, rect.y1 if sin(mid) > 0 else rect.y0]
            )
            phi = atan2(at[y] - corner[1], at[x] - corner[0])
            for part in _halves(sector, phi):
                yield part, _sector_rows((x, y), corner, gap, r, part)
            return
        yield None, [((x, gap), (1.0, -1.0), rect.x1 + r)]
        yield None, [((x, gap), (-1.0, -1.0), r - rect.x0)]
        yield None, [((y, gap), (1.0, -1.0), rect.y1 + r)]
        yield None, [((y, gap), (-1.0, -1.0), r - rect.y0)]
        for quarter, (cx, cy, sx, sy) in enumerate(
            (
                (rect.x1, rect.y1, 1.0, 1.0),
                (rect.x0, rect.y1, -1.0, 1.0),
                (rect.x0, rect.y0, -1.0, -1.0),
                (rect.x1, rect.y0, 1.0, -1.0),
            )
        ):
            part = (quarter * pi / 2, (quarter + 1) * pi / 2)
            rows = _sector_rows((x, y), np.array([cx, cy]), gap, r, part)
            # beyond that it is one of the four above
            rows.append(((x, gap), (-sx, 1.0), -sx * cx - r))
            rows.append(((y, gap), (-sy, 1.0), -sy * cy - r))
            yield part, rows
