"""Patterns: what can be cut from one room, looked for by what its pieces are worth.

The search takes one type of piece after the other, the best worth for its wood first. A part
pattern is dropped where even the best of what is left to come, filled in to the last step, cannot
make it worth its room; and where another one needs no more wood and is worth no less.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]

SLIGHT = 1e-7
"""Worth less than this share of a room's cost is nothing but rounding."""


EACH = 6
"""Patterns told for each room."""


@dataclass(frozen=True, slots=True)
class Type:
    """Equal pieces: their span, the cut behind, and how many there are."""

    span: int
    kerf: int
    count: int

    @property
    def weight(self) -> int:
        """What one takes of the wood where it is not the last."""
        return self.span + self.kerf


@dataclass(frozen=True, slots=True)
class Pattern:
    """How many of each type come out of a room, by the room's number."""

    room: int
    times: tuple[int, ...]


class Search:
    """The rooms' lengths and the types, for many searches with other worths."""

    def __init__(self, types: Sequence[Type], lengths: Sequence[int]) -> None:
        self._types = types
        self._lengths = np.array(lengths, np.int64)
        self._widest = max(each.kerf for each in types)

    def best(
        self, worth: Floats, cost: Floats, most: int
    ) -> tuple[list[tuple[Pattern, float]], bool]:
        """Return for each room the patterns worth most above its cost, and their worths.

        ``most`` part patterns are kept at a time. The second value tells whether none had to be
        dropped for it: then what was not found is not there.
        """
        states = self._grow(worth, cost, 0.0, most, dominance=True)
        found: list[tuple[Pattern, float]] = []
        for room, length in enumerate(self._lengths):
            fits = np.nonzero(states.wood - states.kerf <= length)[0]
            if len(fits) == 0:
                continue
            good = fits[states.worth[fits] > cost[room] + SLIGHT * (1 + abs(cost[room]))]
            chosen = good[np.argsort(-states.worth[good], kind="stable")[:EACH]]
            found += [
                (Pattern(room, tuple(map(int, states.times(place)))), float(states.worth[place]))
                for place in map(int, chosen)
            ]
        return found, states.all_kept

    def within(self, worth: Floats, cost: Floats, short: float, most: int) -> list[Pattern] | None:
        """Return every full pattern worth at least its room's cost less ``short``.

        Full: no further piece fits. None where there are more than ``most`` on the way.
        """
        states = self._grow(worth, cost, short, most, dominance=False)
        if not states.all_kept:
            return None
        found: list[Pattern] = []
        every = [states.times(place) for place in range(len(states.wood))]
        for room, length in enumerate(self._lengths):
            good = (states.wood - states.kerf <= length) & (
                states.worth >= cost[room] - short - SLIGHT * (1 + abs(cost[room]))
            )
            found += [
                Pattern(room, tuple(map(int, every[place])))
                for place in np.nonzero(good)[0]
                if not self._more_fits(every[place], int(states.wood[place]), int(length))
            ]
        return found

    def _more_fits(self, times: Ints, wood: int, length: int) -> bool:
        kerf = max((t.kerf for t, n in zip(self._types, times, strict=True) if n), default=0)
        return any(
            n < each.count and wood + each.weight - max(kerf, each.kerf) <= length
            for each, n in zip(self._types, times, strict=True)
        )

    def _grow(
        self, worth: Floats, cost: Floats, short: float, most: int, *, dominance: bool
    ) -> "_States":
        share = worth / np.array([each.weight for each in self._types])
        order = np.argsort(-share, kind="stable")
        states = _States(len(self._types))
        # The least that must be reached by whoever has taken so much wood already.
        by_length = np.argsort(self._lengths)
        room_end = (self._lengths + self._widest)[by_length]
        needed = (cost - short - SLIGHT * (1 + abs(cost)))[by_length]
        for place, t in enumerate(map(int, order)):
            each = self._types[t]
            to_come = share[order[place + 1]] if place + 1 < len(order) else 0.0
            if dominance and worth[t] <= 0:
                break
            states.take(t, each, float(worth[t]), int(self._lengths.max()))
            # Filled in to the end at the best share to come: what is it worth beyond the room?
            floor = np.minimum.accumulate((needed - to_come * room_end)[::-1])[::-1]
            first = np.searchsorted(room_end, states.wood)
            reach = np.append(floor, np.inf)[first]
            states.keep(states.worth - to_come * states.wood >= reach)
            if len(states.wood) > most // 4 and dominance:
                states.keep_best_for_wood()
            if len(states.wood) > most:
                states.all_kept = False
                if not dominance:
                    return states
                by_promise = np.argsort(to_come * states.wood - states.worth, kind="stable")
                chosen = np.zeros(len(states.wood), bool)
                chosen[by_promise[:most]] = True
                states.keep(chosen)
        return states


class _States:
    """Part patterns side by side: wood, widest cut, worth, and the way back to what was taken."""

    def __init__(self, types: int) -> None:
        self.wood = np.zeros(1, np.int64)
        self.kerf = np.zeros(1, np.int64)
        self.worth = np.zeros(1)
        self.all_kept = True
        self._count = types
        self._from: list[Ints] = []
        self._taken: list[Ints] = []
        self._type: list[int] = []

    def take(self, number: int, each: Type, worth: float, longest: int) -> None:
        """Go on from every state with none, one, two … pieces of a type, as many as fit."""
        parents = [np.arange(len(self.wood))]
        taken = [np.zeros(len(self.wood), np.int64)]
        here = parents[0]
        for times in range(1, each.count + 1):
            kerf = np.maximum(self.kerf[here], each.kerf)
            here = here[self.wood[here] + times * each.weight - kerf <= longest]
            if len(here) == 0:
                break
            parents.append(here)
            taken.append(np.full(len(here), times, np.int64))
        parent, count = np.concatenate(parents), np.concatenate(taken)
        self.wood = self.wood[parent] + count * each.weight
        self.worth = self.worth[parent] + count * worth
        kerf = self.kerf[parent]
        self.kerf = np.where(count > 0, np.maximum(kerf, each.kerf), kerf)
        self._from.append(parent)
        self._taken.append(count)
        self._type.append(number)

    def keep(self, which: NDArray[np.bool_]) -> None:
        """Drop all other states."""
        self.wood, self.kerf, self.worth = self.wood[which], self.kerf[which], self.worth[which]
        self._from[-1], self._taken[-1] = self._from[-1][which], self._taken[-1][which]

    def keep_best_for_wood(self) -> None:
        """Drop every state that another one with the same widest cut is no worse than."""
        order = np.lexsort((-self.worth, self.wood, self.kerf))
        worth, kerf = self.worth[order], self.kerf[order]
        chosen = np.zeros(len(order), bool)
        for one in sorted(set(kerf.tolist())):
            here = np.nonzero(kerf == one)[0]
            best = np.maximum.accumulate(worth[here])
            ahead = np.concatenate([[True], worth[here][1:] > best[:-1]])
            chosen[order[here[ahead]]] = True
        self.keep(chosen)

    def times(self, place: int) -> Ints:
        """Return how many of each type a state has taken."""
        found = np.zeros(self._count, np.int64)
        at = int(place)
        for parent, taken, number in zip(
            reversed(self._from), reversed(self._taken), reversed(self._type), strict=True
        ):
            found[number] = taken[at]
            at = int(parent[at])
        return found
