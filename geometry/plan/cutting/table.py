"""Up to a dozen pieces: the best plan for every set of them, so the best for all is proved.

For each set S the best is the least, over every part T of S that holds S's last piece and fits
one stick, of T's cheapest stick and the best for the rest. All plans are such a sum: the proof
is that none was left out. The aims add up, so one whole number keeps them in their order.

One thing is not tried: with cuts of unlike width, where a corner is out of square, another order of
matched boards or a board turned on clear wood could save up to the difference of two cuts, about
0.1 mm each. The proof holds for boards in the order and the lie that the plan tells.

The method is common knowledge (dynamic programming over subsets); from memory.
"""

from dataclasses import dataclass
from functools import cache
from math import gcd
from typing import Any

import numpy as np
from numpy.typing import NDArray

from .flawed import Flawed
from .item import Filled, Item, chained
from .job import CORNERS, Job, NoPlanError, Room

MOST = 12
"""Pieces; each more doubles the table."""
MOST_TRIALS = 40_000
"""Parts tried, over all rooms: past this the other method is faster."""


def solve(
    job: Job, items: tuple[Item, ...], shop: tuple[Room, ...], owned: tuple[Room, ...]
) -> list[Filled]:
    """Return the rooms of a best plan with what is cut from each.

    ``items`` are single pieces, or runs whose grain meets nobody else's. Runs count as an aim if
    the job is matched.

    Raises:
        NoPlanError: The sticks do not suffice.
    """
    aims = _Aims(job, items, shop, owned)
    count = len(items)
    sets = 1 << count
    needed, runs = _needed(job, items)
    one = np.full(sets, aims.never, aims.kind)
    by_room = np.full(sets, -1)
    for place, room in enumerate(shop):
        cost = runs * aims.run + aims.bought(room)
        better = (needed <= room.length) & (cost < one)
        one[better], by_room[better] = cost[better], place
    best = np.full(sets, aims.never, aims.kind)
    best[0] = 0
    for top in range(count):
        split = _splits(top, topped=True)
        cost = one[split.part] + best[split.rest]
        best[1 << top : 2 << top] = np.minimum.reduceat(cost, split.begins)
    after = [best]
    in_room: list[NDArray[Any]] = []
    for room in owned:
        fits = Flawed(job, items, room).fits if room.flaws else needed <= room.length
        cost = np.where(fits, runs * aims.run + aims.segment, aims.never).astype(aims.kind)
        cost[0] = 0
        in_room.append(cost)
        split = _splits(count, topped=False)
        after.append(np.minimum.reduceat(cost[split.part] + after[-1][split.rest], split.begins))
    left = sets - 1
    if after[-1][left] >= aims.never:
        raise NoPlanError(None, max((room.length for room in (*shop, *owned)), default=0))
    filled: list[Filled] = []
    for room, cost, before in reversed(list(zip(owned, in_room, after, strict=False))):
        part = _part(_splits(count, topped=False), left, cost, before)
        if part:
            filled.append((room, _chosen(job, items, part)))
            left -= part
    while left:
        part = _part(_splits(left.bit_length() - 1, topped=True), left, one, best)
        filled.append((shop[int(by_room[part])], _chosen(job, items, part)))
        left -= part
    return filled


@dataclass(frozen=True, slots=True)
class _Splits:
    """Sets split into a part and the rest in every way, set by set, the least part first.

    ``first`` is the first of the sets; ``begins`` is where the ways of each one begin.
    """

    first: int
    part: NDArray[np.intp]
    rest: NDArray[np.intp]
    begins: NDArray[np.intp]

    def ways(self, whole: int) -> slice:
        """Return where the ways of one set are."""
        place = whole - self.first
        end = len(self.part) if place + 1 == len(self.begins) else self.begins[place + 1]
        return slice(int(self.begins[place]), int(end))


@cache
def _splits(count: int, *, topped: bool) -> _Splits:
    """Return the splits of all sets of ``count`` items; topped: one more is in each part."""
    part, rest = np.zeros(1, np.uint16), np.zeros(1, np.uint16)
    for k in range(count):
        bit = np.uint16(1 << k)
        part = np.concatenate([part, part, part | bit])
        rest = np.concatenate([rest, rest | bit, rest])
    whole = part | rest
    order = np.argsort(whole, kind="stable")
    begins = np.searchsorted(whole[order], np.arange(1 << count))
    top = 1 << count if topped else 0
    return _Splits(top, part[order].astype(np.intp) + top, rest[order].astype(np.intp), begins)


def _part(split: _Splits, whole: int, cost: NDArray[Any], before: NDArray[Any]) -> int:
    """Return the part of a set that its least cost comes of."""
    ways = split.ways(whole)
    part, rest = split.part[ways], split.rest[ways]
    return int(part[np.argmin(cost[part] + before[rest])])


def _chosen(job: Job, items: tuple[Item, ...], part: int) -> tuple[Item, ...]:
    inside = [item for k, item in enumerate(items) if part >> k & 1]
    if job.matched and all(len(item.pieces) == 1 for item in inside):
        return tuple(chained(job, [item.pieces[0] for item in inside]))
    return tuple(inside)


class _Aims:
    """The aims as one whole number: runs, price, length bought, sticks bought, pieces of sticks."""

    def __init__(
        self, job: Job, items: tuple[Item, ...], shop: tuple[Room, ...], owned: tuple[Room, ...]
    ) -> None:
        count = len(items) + 1
        self._step = gcd(*(room.bought for room in shop)) or 1
        self._cent = gcd(*(room.price for room in shop)) or 1
        self.segment = 1
        self._stick = len(owned) + 1
        self._length = self._stick * count
        most = max((room.bought for room in shop), default=0) // self._step
        self._price = self._length * (most * count + 1)
        most = max((room.price for room in shop), default=0) // self._cent
        run = self._price * (most * count + 1)
        self.run = run if job.matched else 0
        self.never = run * (count + 1)
        # Where the number is too long for the machine's own, Python's are slower but right.
        self.kind: Any = np.int64 if self.never < 2**61 else object

    def bought(self, room: Room) -> int:
        return (
            room.price // self._cent * self._price
            + room.bought // self._step * self._length
            + self._stick
        )


def _needed(job: Job, items: tuple[Item, ...]) -> tuple[NDArray[Any], NDArray[Any]]:
    """Return for every set the wood it needs in one room, and its runs of grain."""
    sets = np.arange(1 << len(items))
    total = np.zeros(len(sets), np.int64)
    last = np.zeros(len(sets), np.int64)
    runs = np.zeros(len(sets), np.int64)
    rings: dict[int, list[int]] = {}
    pieces = [job.pieces[item.pieces[0]] if len(item.pieces) == 1 else None for item in items]
    for k, item in enumerate(items):
        inside = (sets >> k & 1).astype(bool)
        total += np.where(inside, item.span + item.kerf, 0)
        piece = pieces[k]
        if job.matched and piece is not None and piece.ring is not None:
            rings.setdefault(piece.ring, []).append(k)
            for j, other in enumerate(pieces):
                if other is not None and piece.followed_by(other):
                    inside &= ~(sets >> j & 1).astype(bool)
        runs += inside
        last = np.where(inside, np.maximum(last, item.kerf), last)
    for ring in rings.values():
        if len(ring) == CORNERS:  # closed round all corners: broken at one of them all the same
            mask = sum(1 << k for k in ring)
            whole = sets & mask == mask
            runs += whole
            widest = max(items[k].kerf for k in ring)
            last = np.where(whole, np.maximum(last, widest), last)
    if job.matched:
        return total - last, runs
    return total - last, np.zeros(len(sets), np.int64)
