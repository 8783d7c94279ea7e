"""Patterns worth most, quickly: lengths on a coarse grid, pieces rounded up to it.

What is found fits; what fits only by less than the grid is left to the search in ``pattern``. A
table over the wood of a room, type by type (bounded knapsack; common knowledge, from memory).
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from .pattern import SLIGHT, Floats, Pattern, Type

CELLS = 3_000
"""Cells along the longest room: 1 to 2 mm each for sticks of usual lengths."""
EACH = 5
"""Patterns told for each room."""


class Grid:
    """Types and rooms on their grid, for many searches with other worths."""

    def __init__(self, types: Sequence[Type], lengths: Sequence[int]) -> None:
        cell = max(1, max(lengths) // CELLS)
        narrowest = min(each.kerf for each in types)
        self._count = len(types)
        self._rooms = [(length + narrowest) // cell for length in lengths]
        self._lots: list[tuple[int, int, int]] = []
        """Type, how many of it, and the cells they take together: 1, 2, 4 … of each."""
        for number, each in enumerate(types):
            cells, left, lot = -(-each.weight // cell), each.count, 1
            while left:
                lot = min(lot, left)
                self._lots.append((number, lot, lot * cells))
                left, lot = left - lot, 2 * lot

    def best(self, worth: Floats, cost: Floats) -> tuple[list[Pattern], float]:
        """Return for each room the best patterns found that are worth more than it costs.

        And how many times its cost the best is worth, at the most.
        """
        most = np.zeros(max(self._rooms) + 1)
        taken: list[tuple[tuple[int, int, int], NDArray[np.bool_]]] = []
        for lot in self._lots:
            number, times, cells = lot
            gain = times * worth[number]
            if gain <= 0 or cells >= len(most):
                continue
            with_it = most[:-cells] + gain
            better = with_it > most[cells:]
            most[cells:] = np.where(better, with_it, most[cells:])
            taken.append((lot, better))
        found: dict[Pattern, None] = {}
        over = 0.0
        for room, cells in enumerate(self._rooms):
            if cost[room] > 0:
                over = max(over, float(most[cells] / cost[room]))
            enough = cost[room] + SLIGHT * (1 + abs(cost[room]))
            for end in _ends(most[: cells + 1]):
                if most[end] <= enough:
                    break
                found[Pattern(room, self._times(taken, end))] = None
        return list(found), over

    def _times(
        self, taken: list[tuple[tuple[int, int, int], NDArray[np.bool_]]], end: int
    ) -> tuple[int, ...]:
        times = [0] * self._count
        for (number, lot, cells), better in reversed(taken):
            if end >= cells and better[end - cells]:
                times[number] += lot
                end -= cells
        return tuple(times)


def _ends(most: Floats) -> list[int]:
    """Return the cells at which the last few rises of the worth are, the highest first."""
    rises = np.flatnonzero(most[1:] > most[:-1]) + 1
    return [int(each) for each in rises[::-1][:EACH]]
