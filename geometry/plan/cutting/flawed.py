"""Sticks with flaws that a board may hold: where each may begin, turned or not, and what fits.

A flaw hurts where a board has to be sound: then the board may not begin in the open stretch that
would bring the two over each other. What is left of the stick are stretches in which it may begin.
A set of boards fits where one order of them does, each laid as far left as it goes behind the one
before: to begin earlier never makes the next one begin later, so for each set the least place at
which the next board may begin is all that has to be known, and no layout is left out. (Dynamic
programming over subsets; common knowledge, from memory.)
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .item import Item
from .job import Job, Piece, Placed, Room

NEVER = 1 << 60
"""Beyond the end of any stick, steps."""


def starts(job: Job, piece: Piece, room: Room, *, turned: bool) -> list[tuple[int, int]]:
    """Return the stretches in which a piece may begin, first and last step, from the left."""
    barred: list[tuple[int, int]] = []
    for need in piece.sound:
        left, right, low, high = need.left, need.right, need.low, need.high
        if turned:
            left, right = piece.length - right, piece.length - left
            low, high = job.width - high, job.width - low
        barred += [
            (flaw.start - right, flaw.end - left)
            for flaw in room.flaws
            if flaw.low is None or flaw.high is None or (low < flaw.high and flaw.low < high)
        ]
    found: list[tuple[int, int]] = []
    begin, end = room.start, room.end - piece.length
    for first, behind in sorted(barred):
        if begin <= min(first, end):
            found.append((begin, min(first, end)))
        begin = max(begin, behind)
    if begin <= end:
        found.append((begin, end))
    return found


@dataclass(frozen=True, slots=True)
class _Way:
    """One piece and which way it lies: where it may begin, and what it takes with the cut."""

    item: int
    turned: bool
    first: NDArray[np.int64]
    last: NDArray[np.int64]
    takes: int


class Flawed:
    """Which sets of pieces fit one room, each piece an item of its own; at most a dozen or so.

    ``fits`` tells it for every set, as a number with a bit for each item.
    """

    def __init__(
        self, job: Job, items: Sequence[Item], room: Room, ways: Sequence[bool] = (False, True)
    ) -> None:
        self._items = items
        self._ways: list[_Way] = []
        for k, item in enumerate(items):
            piece = job.pieces[item.pieces[0]]
            for turned in ways:
                stretches = np.array(starts(job, piece, room, turned=turned), np.int64)
                if len(stretches):
                    takes = piece.length + piece.cut_behind(turned)
                    self._ways.append(_Way(k, turned, stretches[:, 0], stretches[:, 1], takes))
        self._clear = np.full(1 << len(items), NEVER, np.int64)
        self._clear[0] = room.start
        self._grow()
        self.fits: NDArray[np.bool_] = self._clear < NEVER

    def _grow(self) -> None:
        """Find for each set where the next piece may begin at the least, by ever more pieces."""
        sets = np.arange(len(self._clear))
        new = sets[:1]
        while len(new):
            seen = np.zeros(len(sets), bool)
            for way in self._ways:
                before = new[new >> way.item & 1 == 0]
                behind = _behind(way, self._clear[before])
                whole = before | 1 << way.item
                better = behind < self._clear[whole]
                self._clear[whole[better]] = behind[better]
                seen[whole[better]] = True
            new = sets[seen]

    def laid(self, chosen: int) -> list[Placed]:
        """Return where the pieces of a set lie that fits, from the left."""
        found: list[Placed] = []
        while chosen:
            way = next(
                way
                for way in self._ways
                if chosen >> way.item & 1
                and self._reached(way, chosen ^ 1 << way.item) == self._clear[chosen]
            )
            number = self._items[way.item].pieces[0]
            found.append(Placed(number, int(self._clear[chosen]) - way.takes, way.turned))
            chosen ^= 1 << way.item
        return found[::-1]

    def _reached(self, way: _Way, before: int) -> int:
        return int(_behind(way, self._clear[before : before + 1])[0])


def _behind(way: _Way, clear: NDArray[np.int64]) -> NDArray[np.int64]:
    """Return where the next piece may begin when this one is laid where there is room for it."""
    stretch = np.searchsorted(way.last, clear)
    there = stretch < len(way.last)
    found = np.full(len(clear), NEVER, np.int64)
    first = way.first[stretch[there]]
    found[there] = np.maximum(first, clear[there]) + way.takes
    return found


def lay(job: Job, room: Room, items: Sequence[Item]) -> list[Placed] | None:
    """Return where the pieces of items lie in a room with flaws, turned only if they have to be.

    None where they do not fit.
    """
    whole = (1 << len(items)) - 1
    for ways in ((False,), (False, True)):
        flawed = Flawed(job, items, room, ways)
        if flawed.fits[whole]:
            return flawed.laid(whole)
    return None
