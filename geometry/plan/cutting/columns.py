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
from .generate import ROUNDING, Bound, Generator, Kind
from .improve import cost as aims
from .improve import improve
from .item import Filled, Item, need
from .job import Job, NoPlanError, Room
from .pattern import Pattern, Type
from .program import whole

LISTED = 20_000
"""Part patterns on the way to the list of the proof."""
COUNTED = 100
"""Patterns up to which the whole program over all that can serve is quick enough."""
ANEW = 60
"""Types of pieces up to which patterns are thought up anew for what is left, time and again."""
REST = 11
"""Pieces that are left to the table at the end."""
OWNED_LAST = 4
"""Owned sticks that the table tries for them."""
SMALLEST = 1e-6
"""What is taken less often than that is not taken."""


@dataclass(frozen=True, slots=True)
class Counted:
    """Filled rooms; what no plan can cost less than; what of the aims is proved."""

    filled: list[Filled]
    least: int
    first_proved: bool
    proved: bool


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
        self._kinds = [Kind(room, None, room.price if priced else room.bought) for room in shop] + [
            Kind(room, 1, 0) for room in owned
        ]
        self._generator = Generator(self._types, self._kinds)
        self._demands, self._supplies = self._generator.demands, self._generator.supplies
        self._limited, self._step = self._generator.limited, self._generator.step

    def solve(self) -> Counted:
        bound = self._generator.bound()
        filled = self._better(self._dive(anew=False), bound.least)
        short = filled is None or self._first(filled) > bound.least
        if short and len(self._types) <= ANEW:
            other = self._better(self._dive(anew=True), bound.least)
            found = [each for each in (filled, other) if each is not None]
            filled = min(found, key=aims, default=None)
        return self._exactly(filled, bound)

    def _better(self, filled: list[Filled] | None, least: int) -> list[Filled] | None:
        if filled is None:
            return None
        return improve(self._job, filled, self._shop, self._owned, least, priced=self._priced)

    def _within(self, bound: Bound, price: int) -> list[Pattern] | None:
        """Return all patterns that a plan of at most that price can have; None for too many.

        In such a plan each pattern falls short of its room's cost by no more than the plan is
        above the bound; the rounding of all its patterns together comes on top.
        """
        short = max(0.0, price - bound.value) + ROUNDING * (1 + price)
        return self._generator.search.within(bound.worth, bound.cost, short, LISTED)

    def _first(self, filled: Sequence[Filled]) -> int:
        return aims(filled)[0 if self._priced else 1]

    def _exactly(self, filled: list[Filled] | None, bound: Bound) -> Counted:
        """Settle by the whole program over all patterns that can serve, if they are not many."""
        if filled is None:
            patterns = list(self._generator.patterns)
            times = self._count(patterns)
            if times is None:
                raise NoPlanError(None, max(kind.room.length for kind in self._kinds))
            filled = self._filled(patterns, times)
        price, least = self._first(filled), bound.least
        first = price <= least
        if not first:
            found = self._within(bound, price - self._step)
            if found is not None and len(found) <= COUNTED:
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
        return self._rest(filled, bound, price, least, first)

    def _dive(self, *, anew: bool) -> list[Filled] | None:
        """Take what the relaxed program cuts most of, again and again; the last few by the table.

        ``anew``: each time with further patterns for what is left. None where the last few come
        out of no stick that is left.
        """
        relaxed = self._generator.relaxed
        left = list(self._demands)
        supplies = list(self._supplies)
        pool = [list(each) for each in self._items.values()]
        filled: list[Filled] = []
        free = list(self._owned)
        while sum(left) > REST:
            relaxed.ask(left, supplies)
            _, dual = relaxed.solve()
            if anew and self._generator.more(dual):
                relaxed.solve()
            patterns = list(self._generator.patterns)
            amounts = relaxed.amounts()[len(self._types) :]
            # Owned sticks cost nothing: the program may take one for what is cut already.
            chosen = next(
                (
                    place
                    for place in map(int, np.argsort(-amounts, kind="stable"))
                    if any(n and more for n, more in zip(patterns[place].times, left, strict=True))
                ),
                None,
            )
            if chosen is None or amounts[chosen] < SMALLEST:
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
                if pattern.room in self._limited:
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

    def _count(
        self,
        patterns: Sequence[Pattern],
        aim: Sequence[int] | None = None,
        kept: Sequence[tuple[Sequence[int], int]] = (),
    ) -> tuple[int, ...] | None:
        """Count patterns in whole numbers; ``_exact`` is whether nothing is better."""
        costs = aim or [self._kinds[each.room].cost // self._step for each in patterns]
        columns = [self._generator.column(each) for each in patterns]
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
        bound: Bound,
        price: int,
        least: int,
        first: bool,
    ) -> Counted:
        """Settle length and number of sticks at that price, over all patterns that can serve it."""
        if len(self._shop) <= 1 and not self._owned:
            return Counted(filled, least, first, first)
        every = self._within(bound, price)
        if every is None or len(every) > COUNTED:
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
