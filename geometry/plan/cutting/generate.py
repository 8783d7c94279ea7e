"""What no plan can cost less than, without whole numbers; and the patterns that come of it.

New patterns are thought up by what a piece is worth (column generation, after P. Gilmore and R.
Gomory, A linear programming approach to the cutting-stock problem, Operations Research 9, 1961;
from memory): first quickly on a coarse grid, then by the search that leaves nothing out, which
also gives the bound.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from .grid import Grid
from .job import Room
from .pattern import Floats, Pattern, Search, Type
from .program import Column, Relaxed

ROUNDS = 400
"""Rounds of new patterns; by then what they still save is slight."""
QUICK, THOROUGH = 400, 30_000
"""Part patterns kept at a time: to find one that helps, and to be sure that there is none."""
SLIGHT = 1e-3
"""Share of the cost that further patterns may leave unsaved."""
ROUNDING = 1e-6
"""Share of a price that floats may be off, far above theirs and far below a hundredth."""
SMOOTH = 0.5
"""Share of the best worths yet in those that patterns are looked for with."""


@dataclass(frozen=True, slots=True)
class Kind:
    """Equal rooms: how many there are (None: as many as needed), and what one costs."""

    room: Room
    supply: int | None
    cost: int


@dataclass(frozen=True, slots=True)
class Bound:
    """What no plan can be below, exactly and in whole steps; the worths and costs that show it."""

    value: float
    least: int
    worth: Floats
    cost: Floats


class Generator:
    """Types of pieces and kinds of rooms, and all patterns thought up for them so far."""

    def __init__(self, types: Sequence[Type], kinds: Sequence[Kind]) -> None:
        self._types, self._kinds = types, kinds
        self.demands = [each.count for each in types]
        self.limited = [k for k, kind in enumerate(kinds) if kind.supply is not None]
        self.supplies = [1] * len(self.limited)
        self.row = {k: len(types) + i for i, k in enumerate(self.limited)}
        lengths = [kind.room.length for kind in kinds]
        self.search, self._grid = Search(types, lengths), Grid(types, lengths)
        costs = [kind.cost for kind in kinds if kind.cost]
        self.step = math.gcd(*costs) if costs else 1
        self.patterns: dict[Pattern, None] = {}
        # What stands for a piece that no stick is left for: dearer than any plan.
        missing = float((max(costs, default=0) + 1) * (sum(self.demands) + 1))
        self.relaxed = Relaxed(self.demands, self.supplies)
        for t in range(len(types)):
            self.relaxed.add(missing, ((t,), (1,)))
        self._start()
        for pattern in self.patterns:
            self.relaxed.add(float(kinds[pattern.room].cost), self.column(pattern))

    def _start(self) -> None:
        """Take patterns of one type for each room, and one of each type after the other."""
        for k, kind in enumerate(self._kinds):
            for t, each in enumerate(self._types):
                fits = (kind.room.length + each.kerf) // each.weight
                if fits:
                    times = [0] * len(self._types)
                    times[t] = min(fits, each.count)
                    self.patterns[Pattern(k, tuple(times))] = None
            if kind.supply is None:
                for pattern in self._first_fit(k):
                    self.patterns[pattern] = None

    def _first_fit(self, k: int) -> list[Pattern]:
        """Fill rooms of one kind with the longest piece that still fits, until none is left."""
        left, found = list(self.demands), list[Pattern]()
        length = self._kinds[k].room.length
        while True:
            times, wood, kerf = [0] * len(left), 0, 0
            for t, each in enumerate(self._types):
                while times[t] < left[t] and (wood + each.weight - max(kerf, each.kerf) <= length):
                    times[t], wood, kerf = times[t] + 1, wood + each.weight, max(kerf, each.kerf)
            if not any(times):
                return found
            left = [a - b for a, b in zip(left, times, strict=True)]
            found.append(Pattern(k, tuple(times)))

    def bound(self) -> Bound:
        """Add patterns until none helps, and return the bound."""
        value, dual = self.relaxed.solve()
        base = np.array([float(kind.cost) for kind in self._kinds])
        best = self._by_length()
        middle: Floats | None = None
        for _ in range(ROUNDS):
            worth, cost = self._worths(dual, base)
            middle = worth if middle is None else worth + SMOOTH * (middle - worth)
            new, bound = self._quickly(middle, cost)
            if self._up(max(bound, best[0])) >= self._up(value * (1 - SLIGHT)):
                break
            if not new:
                new, _ = self._quickly(worth, cost)
            if not new:
                break
            self._take(new)
            value, dual = self.relaxed.solve()
        most, smooth = QUICK, 0.0
        for _ in range(ROUNDS):
            worth, cost = self._worths(dual, base)
            # Worths leap to and fro; halfway to the best ones yet, fewer rounds are needed.
            worth += smooth * (best[1] - worth)
            cost += smooth * (best[2] - cost)
            found, all_kept = self.search.best(worth, cost, most)
            if all_kept:
                best = max(best, self._bounded(found, worth, cost, base), key=lambda b: b[0])
            new = [each for each, _ in found if each not in self.patterns]
            if self._up(best[0]) >= self._up(value * (1 - SLIGHT)):
                break
            if not new and smooth:
                smooth = 0.0
                continue
            if not new:
                if all_kept or most == THOROUGH:
                    break
                most = THOROUGH
            smooth = SMOOTH
            self._take(new)
            value, dual = self.relaxed.solve()
        return Bound(best[0], self._up(best[0]), best[1], best[2])

    def more(self, dual: Floats) -> bool:
        """Add the patterns that a quick look finds by what pieces are worth; tell if there are."""
        base = np.array([float(kind.cost) for kind in self._kinds])
        new, _ = self._quickly(*self._worths(dual, base))
        self._take(new)
        return bool(new)

    def _worths(self, dual: Floats, base: Floats) -> tuple[Floats, Floats]:
        """Return what a piece of each type is worth, and what each room then costs."""
        cost = base.copy()
        for k, row in self.row.items():
            cost[k] -= min(dual[row], 0.0)
        return np.maximum(dual[: len(self._types)], 0.0), cost

    def _quickly(self, worth: Floats, cost: Floats) -> tuple[list[Pattern], float]:
        """Return new patterns from the grid, and about what no plan can be below."""
        found, over = self._grid.best(worth, cost)
        new = [each for each in found if each not in self.patterns]
        return new, float(np.dot(worth, self.demands)) / max(over, 1.0)

    def _take(self, new: Sequence[Pattern]) -> None:
        for pattern in new:
            self.patterns[pattern] = None
            self.relaxed.add(float(self._kinds[pattern.room].cost), self.column(pattern))

    def _up(self, value: float) -> int:
        """Return the least that a plan can come to which is not below a figure."""
        return max(0, math.ceil((value - ROUNDING * (1 + abs(value))) / self.step)) * self.step

    def _bounded(
        self, found: list[tuple[Pattern, float]], worth: Floats, cost: Floats, base: Floats
    ) -> tuple[float, Floats, Floats]:
        """Return what no plan is below, by worths that no pattern exceeds its room's cost in.

        The worths are scaled down until the best pattern of a stick on sale pays just its price
        (A. Farley, A note on bounding a class of linear programming problems, 1990; from
        memory); an owned stick costs what its best pattern is worth.
        """
        worths = {pattern.room: value for pattern, value in reversed(found)}  # the best one stays
        ratio = max(
            (
                worths.get(k, 0.0) / kind.cost
                for k, kind in enumerate(self._kinds)
                if kind.supply is None and kind.cost
            ),
            default=1.0,
        )
        if any(
            k in worths
            for k, kind in enumerate(self._kinds)
            if kind.supply is None and not kind.cost
        ):
            return 0.0, np.zeros(len(self._types)), base
        ratio = max(ratio, 1.0) * (1 + 1e-9)
        scaled, at = worth / ratio, base.copy()
        for k in self.limited:
            at[k] = max(worths.get(k, 0.0), cost[k]) / ratio
        value = float(np.dot(scaled, self.demands)) - sum(at[k] for k in self.limited)
        return value, scaled, at

    def _by_length(self) -> tuple[float, Floats, Floats]:
        """Return the bound by the wood alone: each piece at the cheapest rate of the shop."""
        widest = max(each.kerf for each in self._types)
        rate = min(
            (
                kind.cost / (kind.room.length + widest)
                for kind in self._kinds
                if kind.supply is None
            ),
            default=0.0,
        )
        worth = np.array([each.weight * rate for each in self._types])
        at = np.array(
            [
                float(kind.cost) if kind.supply is None else rate * (kind.room.length + widest)
                for kind in self._kinds
            ]
        )
        value = float(np.dot(worth, self.demands)) - sum(at[k] for k in self.limited)
        return value, worth, at

    def column(self, pattern: Pattern) -> Column:
        """Return a pattern as the program has it: its pieces, and the owned stick that it takes."""
        pairs = [(t, n) for t, n in enumerate(pattern.times) if n]
        if pattern.room in self.row:
            pairs.append((self.row[pattern.room], 1))
        return tuple(t for t, _ in pairs), tuple(n for _, n in pairs)
