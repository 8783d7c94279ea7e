"""Finds places: fix directions, solve a linear program, take the new directions.

With the direction u of each pair fixed, ``u.(p_j - p_i) >= d + gap`` is linear, and since
``u.v <= |v|`` every round is a true placement and the gap never falls. Many starts and small
upsets look for better ones; what is found depends on nothing but the problem.
"""

from dataclasses import dataclass
from random import Random

import numpy as np

from .lp import BIG, Floats, Optimum, Rows, Solver
from .mode import Mode

ROUNDS = 60
"""Rounds of one climb at most."""
RISE = 0.01
"""A climb that gains less in a round is over; the best one goes on to ``FINE``, mm."""
FINE = 1e-7
PATIENCE = 12
"""Hops in vain after which a chain ends."""


@dataclass(frozen=True, slots=True)
class Try:
    """A placement of one mode: axes (x, y by vessel) and the gap that the program keeps."""

    at: Floats
    gap: float


class Finder:
    """Climbs in one mode."""

    def __init__(self, mode: Mode, solver: Solver) -> None:
        self.mode, self.solver = mode, solver
        n = len(mode.homes)
        self.n = n
        self.pairs = sorted(mode.apart)
        self.i = np.array([i for i, _ in self.pairs], int)
        self.j = np.array([j for _, j in self.pairs], int)
        self.d = np.array([mode.apart[pair] for pair in self.pairs], float)
        blocks = [(i, b) for i, home in enumerate(mode.homes) for b in home.blocks]
        self.who = np.array([i for i, _ in blocks], int)
        self.rect = np.array(
            [(b.rect.x0, b.rect.y0, b.rect.x1, b.rect.y1) for _, b in blocks], float
        ).reshape(-1, 4)
        self.r = np.array([b.radius for _, b in blocks], float)
        m, k, last = len(self.pairs), len(blocks), 2 * n
        columns = [c for i, j in self.pairs for c in (2 * i, 2 * i + 1, 2 * j, 2 * j + 1, last)]
        columns += [c for i, _ in blocks for c in (2 * i, 2 * i + 1, last)]
        lengths = [5] * m + [3] * k
        start = np.zeros(m + k + 1, np.int32)
        start[1:] = np.cumsum(lengths)
        self.shape = (start, np.array(columns, np.int32))
        walls = solver.maximize(mode.rows, mode.lower, mode.upper)
        self.most = walls.value if walls else -BIG
        """The largest gap that the walls leave."""

    def _turned(self, at: Floats) -> Rows:
        """Return the rows of pairs and obstacles with the directions of a placement."""
        p = at.reshape(-1, 2)
        delta = p[self.j] - p[self.i]
        size = np.hypot(delta[:, 0], delta[:, 1])
        u = np.where(size[:, None] > 1e-9, delta / np.maximum(size, 1e-9)[:, None], (1.0, 0.0))
        pairs = np.column_stack([-u, u, -np.ones(len(u))])
        v, corner = self._from_blocks(p)
        blocks = np.column_stack([v, -np.ones(len(v))])
        factor = np.concatenate([pairs.ravel(), blocks.ravel()])
        least = np.concatenate([self.d, self.r + (v * corner).sum(axis=1)])
        return Rows(*self.shape, factor, least)

    def _from_blocks(self, p: Floats) -> tuple[Floats, Floats]:
        """Return for each obstacle the way out of it and a point of its border there."""
        at, rect = p[self.who], self.rect
        low, high = rect[:, :2] - at, at - rect[:, 2:]
        out = np.maximum(low, high)  # along x and y; negative inside
        sign = np.where(low > high, -1.0, 1.0)
        step = np.maximum(out, 0.0)
        size = np.hypot(step[:, 0], step[:, 1])
        inside = size < 1e-9
        near = out[:, 0] >= out[:, 1]
        axis = np.column_stack([near, ~near]).astype(float)
        u = np.where(inside[:, None], axis, step / np.maximum(size, 1e-9)[:, None])
        return sign * u, np.where(sign < 0, rect[:, :2], rect[:, 2:])

    def climb(self, at: Floats, rise: float = RISE) -> Try:
        """Return the placement at the top of the slope that a start lies on."""
        best, gap, start = at, -BIG, None
        for _ in range(ROUNDS):
            rows = self.mode.rows.then(self._turned(best))
            found = self._solve(rows, start)
            if found is None:
                break
            gained = found.value - gap
            if gained > 0:
                best, gap, start = found.at[:-1], found.value, found
            if gained < rise:
                break
        return Try(best, gap)

    def _solve(self, rows: Rows, start: Optimum | None) -> Optimum | None:
        try:
            return self.solver.maximize(rows, self.mode.lower, self.mode.upper, start)
        except ArithmeticError:
            return None

    def anywhere(self, chance: Random) -> Floats:
        """Return axes thrown at random into their homes."""
        return np.array([c for i in range(self.n) for c in self._throw(i, chance)])

    def _throw(self, i: int, chance: Random) -> tuple[float, float]:
        box = self.mode.homes[i].box(0.0)
        return (
            box.x0 + chance.random() * (box.x1 - box.x0),
            box.y0 + chance.random() * (box.y1 - box.y0),
        )

    def hop(self, at: Floats, chance: Random) -> Floats:
        """Return a placement upset: two swapped, one thrown elsewhere, or all pushed."""
        p, luck = at.copy(), chance.random()
        if luck < 0.4 and self.n > 1:
            i = int(chance.random() * self.n)
            j = (i + 1 + int(chance.random() * (self.n - 1))) % self.n
            p[[2 * i, 2 * i + 1, 2 * j, 2 * j + 1]] = p[[2 * j, 2 * j + 1, 2 * i, 2 * i + 1]]
        elif luck < 0.7:
            i = int(chance.random() * self.n)
            p[2 * i : 2 * i + 2] = self._throw(i, chance)
        else:
            for i, home in enumerate(self.mode.homes):
                push = 0.5 * home.vessel.radius
                p[2 * i] += push * (2 * chance.random() - 1)
                p[2 * i + 1] += push * (2 * chance.random() - 1)
        return p

    def chain(self, start: Try, hops: int, chance: Random, enough: float) -> Try:
        """Hop from the best so far until enough, ``hops`` are done, or patience is."""
        best, vain = start, 0
        for _ in range(hops):
            if best.gap >= enough or vain >= PATIENCE:
                break
            found = self.climb(self.hop(best.at, chance))
            vain = 0 if found.gap > best.gap + RISE else vain + 1
            best = max(best, found, key=lambda each: each.gap)
        return best
