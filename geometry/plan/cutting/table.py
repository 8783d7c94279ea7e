"""Up to a dozen pieces: the best plan for every set of them, so the best for all is proved.

For each set S the best is the least, over every part T of S that holds S's last piece and fits
one stick, of T's cheapest stick and the best for the rest. All plans are such a sum: the proof
is that none was left out. The aims add up, so one whole number keeps them in their order.

The method is common knowledge (dynamic programming over subsets); from memory.
"""

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
    one[0] = aims.never
    best = np.full(sets, aims.never, aims.kind)
    best[0] = 0
    from_shop = np.zeros(sets, np.int64)
    every = np.arange(sets)
    for top in range(count):
        below = every[: 1 << top]
        for part in range(1 << top, 2 << top):
            if by_room[part] >= 0:
                rest = below[below & part == 0]
                _improve(best, from_shop, part, rest, best[rest] + one[part])
    taken: list[NDArray[Any]] = []
    for room in owned:
        before, took = best.copy(), np.zeros(sets, np.int64)
        fits = Flawed(job, items, room).fits if room.flaws else needed <= room.length
        for part in every[1:][fits[1:]]:
            rest = every[every & part == 0]
            cost = before[rest] + (runs[part] * aims.run + aims.segment)
            _improve(best, took, int(part), rest, cost)
        taken.append(took)
    left = sets - 1
    if best[left] >= aims.never:
        raise NoPlanError(None, max((room.length for room in (*shop, *owned)), default=0))
    filled: list[Filled] = []
    for room, took in zip(reversed(owned), reversed(taken), strict=True):
        if took[left]:
            filled.append((room, _chosen(job, items, int(took[left]))))
            left -= int(took[left])
    while left:
        part = int(from_shop[left])
        filled.append((shop[int(by_room[part])], _chosen(job, items, part)))
        left -= part
    return filled


def _improve(
    best: NDArray[Any], took: NDArray[Any], part: int, rest: NDArray[Any], cost: NDArray[Any]
) -> None:
    whole = rest | part
    better = cost < best[whole]
    whole = whole[better]
    best[whole] = cost[better]
    took[whole] = part


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
