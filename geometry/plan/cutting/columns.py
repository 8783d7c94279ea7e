"""Many pieces: patterns are thought up as they are needed, then counted in whole numbers.

Without whole numbers first (column generation, after P. Gilmore and R. Gomory, A linear
programming approach to the cutting-stock problem, Operations Research 9, 1961; from memory): its
least cost is below that of every plan. In whole numbers every pattern of a plan cheaper than the
one in hand is worth its room's cost less at most the gap between the two; all such patterns are
listed, and the whole program over the list is exact. Further aims are settled the same way.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from . import table
from .improve import cost as aims
from .improve import improve
from .item import Filled, Item, need
from .job import Job, NoPlanError, Room
from .pattern import Floats, Pattern, Search, Type
from .program import Column, Relaxed, whole

ROUNDS = 400
"""Rounds of new patterns; by then what they still save is slight."""
QUICK, THOROUGH = 400, 30_000
"""Part patterns kept at a time: to find one that helps, and to be sure that there is none."""
LISTED = 20_000
"""Part patterns on the way to the list of the proof."""
FEW = 24
"""Pieces up to which the whole program is quick with the patterns at hand."""
COUNTED, MANY_COUNTED = 400, 80
"""Patterns up to which it is quick for few pieces, and for more."""
REST = 11
"""Pieces that are left to the table at the end."""
OWNED_LAST = 4
"""Owned sticks that the table tries for them."""
SLIGHT = 1e-3
"""Share of the cost that further patterns may leave unsaved."""
ROUNDING = 1e-6
"""Share of a price that floats may be off, far above theirs and far below a hundredth."""
SMOOTH = 0.5
"""Share of the best worths yet in those that patterns are looked for with."""
SMALLEST = 1e-6
"""What is taken less often than that is not taken."""


@dataclass(frozen=True, slots=True)
class Counted:
    """Filled rooms; what no plan can cost less than; what of the aims is proved."""

    filled: list[Filled]
    least: int
    first_proved: bool
    proved: bool


@dataclass(frozen=True, slots=True)
class _Kind:
    """Equal rooms: how many there are (None: as many as needed), and what one costs."""

    room: Room
    supply: int | None
    cost: int


def solve(
    job: Job,
    items: Sequence[Item],
    shop: tuple[Room, ...],
    owned: tuple[Room, ...],
    *,
    priced: bool,
) -> Counted:
    """Return how to cut items; the first aim is price, or without prices length bought.

    Raises:
        NoPlanError: The sticks do not suffice.
        ArithmeticError: The solver came to no end.
    """
    return _Columns(job, items, shop, owned, priced).solve()


class _Columns:
    def __init__(
        self,
        job: Job,
        items: Sequence[Item],
        shop: tuple[Room, ...],
        owned: tuple[Room, ...],
        priced: bool,
    ) -> None:
        self._job, self._shop, self._owned, self._priced = job, shop, owned, priced
        self._items: dict[tuple[int, int], list[Item]] = {}
        for item in sorted(items, key=lambda each: (-each.span, each.kerf, each.pieces)):
            self._items.setdefault((item.span, item.kerf), []).append(item)
        self._types = [Type(*key, len(each)) for key, each in self._items.items()]
        self._kinds = [
            _Kind(room, None, room.price if priced else room.bought) for room in shop
        ] + [_Kind(room, 1, 0) for room in owned]
        self._demands = [each.count for each in self._types]
        self._limited = [k for k, kind in enumerate(self._kinds) if kind.supply is not None]
        self._supplies = [1] * len(self._limited)
        self._row = {k: len(self._types) + i for i, k in enumerate(self._limited)}
        self._search = Search(self._types, [kind.room.length for kind in self._kinds])
        self._patterns: dict[Pattern, None] = {}
        costs = [kind.cost for kind in self._kinds if kind.cost]
        self._step = math.gcd(*costs) if costs else 1
        self._few = len(items) <= FEW
        self._most = COUNTED if self._few else MANY_COUNTED
        # What stands for a piece that no stick is left for: dearer than any plan.
        self._missing = (max(costs, default=0) + 1) * (len(items) + 1)

    def solve(self) -> Counted:
        self._start()
        relaxed = Relaxed(self._demands, self._supplies)
        for t in range(len(self._types)):
            relaxed.add(float(self._missing), ((t,), (1,)))
        for pattern in self._patterns:
            relaxed.add(float(self._kinds[pattern.room].cost), self._column(pattern))
        least, worth, cost = self._generate(relaxed)
        filled = self._dive(relaxed)
        if filled is not None:
            filled = improve(self._job, filled, self._shop, self._owned, least, priced=self._priced)
        return self._exactly(filled, worth, cost, least)

    def _within(self, worth: Floats, cost: Floats, price: int) -> list[Pattern] | None:
        """Return all patterns that a plan of at most that price can have; None for too many.

        In such a plan each pattern falls short of its room's cost by no more than the plan is
        above the bound; the rounding of all its patterns together comes on top.
        """
        short = max(0.0, price - self._bound) + ROUNDING * (1 + price)
        return self._search.within(worth, cost, short, LISTED)

    def _first(self, filled: Sequence[Filled]) -> int:
        return aims(filled)[0 if self._priced else 1]

    def _exactly(
        self, filled: list[Filled] | None, worth: Floats, cost: Floats, least: int
    ) -> Counted:
        """Settle by the whole program: few pieces over the patterns at hand, then over all."""
        patterns = list(self._patterns)
        done = filled is not None and self._first(filled) <= least
        times = self._count(patterns) if filled is None or (self._few and not done) else None
        if times is None and filled is None:
            raise NoPlanError(None, max(kind.room.length for kind in self._kinds))
        counted = filled if times is None else self._filled(patterns, times)
        if filled is None or (counted is not None and aims(counted) < aims(filled)):
            filled = counted
        assert filled is not None
        price = self._first(filled)
        first = price <= least
        if not first:
            found = self._within(worth, cost, price - self._step)
            if found is not None and len(found) <= self._most:
                better = self._count(found)
                # Nothing in the list serves, or the best of it is known: either way all is seen.
                if self._exact or (better is None and self._impossible):
                    first = True
                if better is not None:
                    listed = self._filled(found, better)
                    if self._first(listed) < price:
                        filled, price = listed, self._first(listed)
                if first:
                    least = price
        return self._rest(filled, worth, cost, price, least, first)

    def _dive(self, relaxed: Relaxed) -> list[Filled] | None:
        """Take what the relaxed program cuts most of, again and again; the last few by the table.

        None where the last few come out of no stick that is left.
        """
        left = list(self._demands)
        supplies = list(self._supplies)
        pool = [list(each) for each in self._items.values()]
        filled: list[Filled] = []
        free = list(self._owned)
        patterns = list(self._patterns)
        while sum(left) > REST:
            relaxed.ask(left, supplies)
            relaxed.solve()
            amounts = relaxed.amounts()[len(self._types) :]
            chosen = int(np.argmax(amounts))
            if amounts[chosen] < SMALLEST:
                break
            pattern = patterns[chosen]
            for _ in range(max(1, math.floor(amounts[chosen] + 1e-6))):
                inside = [
                    pool[t].pop(0)
                    for t, n in enumerate(pattern.times)
                    for _ in range(min(n, len(pool[t])))
                ]
                if not inside:
                    break
                room = self._kinds[pattern.room].room
                filled.append((room, tuple(inside)))
                if pattern.room in self._row:
                    supplies[self._limited.index(pattern.room)] = 0
                    free.remove(room)
            left = [len(each) for each in pool]
        rest = tuple(item for each in pool for item in each)
        if len(rest) > table.MOST:
            return None
        if rest:
            free.sort(key=lambda room: -room.length)
            try:
                filled += table.solve(self._job, rest, self._shop, tuple(free[:OWNED_LAST]))
            except NoPlanError:
                return None
        return filled

    def _start(self) -> None:
        """Take patterns of one type for each room, and one of each type after the other."""
        for k, kind in enumerate(self._kinds):
            for t, each in enumerate(self._types):
                fits = (kind.room.length + each.kerf) // each.weight
                if fits:
                    times = [0] * len(self._types)
                    times[t] = min(fits, each.count)
                    self._patterns[Pattern(k, tuple(times))] = None
            if kind.supply is None:
                for pattern in self._first_fit(k):
                    self._patterns[pattern] = None

    def _first_fit(self, k: int) -> list[Pattern]:
        """Fill rooms of one kind with the longest piece that still fits, until none is left."""
        left, found = list(self._demands), list[Pattern]()
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

    def _generate(self, relaxed: Relaxed) -> tuple[int, Floats, Floats]:
        """Add patterns until none helps; return the bound in whole steps, worths and costs."""
        value, dual = relaxed.solve()
        base = np.array([float(kind.cost) for kind in self._kinds])
        best = self._by_length()
        most, smooth = QUICK, 0.0
        for _ in range(ROUNDS):
            worth = np.maximum(dual[: len(self._types)], 0.0)
            cost = base.copy()
            for k, row in self._row.items():
                cost[k] -= min(dual[row], 0.0)
            # Worths leap to and fro; halfway to the best ones yet, fewer rounds are needed.
            worth += smooth * (best[1] - worth)
            cost += smooth * (best[2] - cost)
            found, all_kept = self._search.best(worth, cost, most)
            if all_kept:
                best = max(best, self._bounded(found, worth, cost, base), key=lambda b: b[0])
            new = [each for each, _ in found if each not in self._patterns]
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
            for pattern in new:
                self._patterns[pattern] = None
                relaxed.add(float(self._kinds[pattern.room].cost), self._column(pattern))
            value, dual = relaxed.solve()
        self._bound = best[0]
        return self._up(best[0]), best[1], best[2]

    def _up(self, value: float) -> int:
        """Return the least that a plan can come to which is not below a figure."""
        return max(0, math.ceil((value - ROUNDING * (1 + abs(value))) / self._step)) * self._step

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
        for k in self._limited:
            at[k] = max(worths.get(k, 0.0), cost[k]) / ratio
        value = float(np.dot(scaled, self._demands)) - sum(at[k] for k in self._limited)
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
        value = float(np.dot(worth, self._demands)) - sum(at[k] for k in self._limited)
        return value, worth, at

    def _column(self, pattern: Pattern) -> Column:
        pairs = [(t, n) for t, n in enumerate(pattern.times) if n]
        if pattern.room in self._row:
            pairs.append((self._row[pattern.room], 1))
        return tuple(t for t, _ in pairs), tuple(n for _, n in pairs)

    def _count(
        self,
        patterns: Sequence[Pattern],
        aim: Sequence[int] | None = None,
        kept: Sequence[tuple[Sequence[int], int]] = (),
    ) -> tuple[int, ...] | None:
        """Count patterns in whole numbers; ``_exact`` is whether nothing is better."""
        costs = aim or [self._kinds[each.room].cost // self._step for each in patterns]
        columns = [self._column(each) for each in patterns]
        self._exact, self._impossible = False, not patterns
        if not patterns:
            return None
        found = whole(self._demands, self._supplies, columns, costs, kept)
        self._impossible = found is None
        self._exact = found is not None and found.proved and bool(found.times)
        return (
            None
            if found is None or not found.times or not self._covers(patterns, found.times)
            else found.times
        )

    def _covers(self, patterns: Sequence[Pattern], times: Sequence[int]) -> bool:
        """Count again in whole numbers what the solver says in rounded ones."""
        taken = [(p, n) for p, n in zip(patterns, times, strict=True) if n]
        return all(
            sum(p.times[t] * n for p, n in taken) >= each.count
            for t, each in enumerate(self._types)
        ) and all(sum(n for p, n in taken if p.room == k) <= 1 for k in self._limited)

    def _rest(
        self,
        filled: list[Filled],
        worth: Floats,
        cost: Floats,
        price: int,
        least: int,
        first: bool,
    ) -> Counted:
        """Settle length and number of sticks at that price, over all patterns that can serve it."""
        if len(self._shop) <= 1 and not self._owned:
            return Counted(filled, least, first, first)
        every = self._within(worth, cost, price)
        if every is None or len(every) > self._most:
            return Counted(filled, least, first, False)
        proved = first
        bought = math.gcd(*(room.bought for room in self._shop)) or 1
        rooms = [self._kinds[each.room].room for each in every]
        prices = [self._kinds[each.room].cost // self._step for each in every]
        kept: list[tuple[list[int], int]] = [(prices, price // self._step)]
        for aim in (
            [room.bought // bought for room in rooms],
            [int(room.owned is None) for room in rooms],
            [int(room.owned is not None) for room in rooms],
        ):
            if not any(aim):
                continue
            found = self._count(every, aim, kept)
            proved = proved and self._exact
            if found is None:
                proved = False
                break
            counted = self._filled(every, found)
            if aims(counted) < aims(filled):
                filled = counted
            kept.append((aim, sum(a * n for a, n in zip(aim, found, strict=True))))
        return Counted(filled, least, first, proved)

    def _filled(self, patterns: Sequence[Pattern], times: Sequence[int]) -> list[Filled]:
        """Hand out the pieces; where a pattern cuts more than is asked, the surplus is left."""
        left = [list(each) for each in self._items.values()]
        found: list[Filled] = []
        for pattern, count in zip(patterns, times, strict=True):
            for _ in range(count):
                inside = [
                    left[t].pop(0)
                    for t, n in enumerate(pattern.times)
                    for _ in range(min(n, len(left[t])))
                ]
                if inside:
                    assert need(inside) <= self._kinds[pattern.room].room.length
                    found.append((self._kinds[pattern.room].room, tuple(inside)))
        return found
