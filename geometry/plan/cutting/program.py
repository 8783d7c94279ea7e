"""Covering programs: how often each pattern is cut. The only user here of the solver library.

Rows are demands (the sum is at least), then supplies (at most). The library is loaded on the
first program, never at import. Integer programs stop after a number of nodes, never by the
clock, so that one job has one answer on every machine.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

NODES = 100
"""Nodes of one integer program: some tenths of a second with a hundred patterns."""
TOLERANCE = 1e-6
"""The solver's own figure for what counts as kept."""

DUAL, PRIMAL = 1, 4
"""The solver's words for its ways: what is there stays right with a new column for the one, with
other sums for the other."""

FEASIBLE = 2
"""The solver's word for a point that keeps all rows."""

Column = tuple[tuple[int, ...], tuple[int, ...]]
"""Rows and how often the pattern counts in each."""


@dataclass(frozen=True, slots=True)
class Whole:
    """How often each column is taken, and whether nothing is better; without times: not found."""

    times: tuple[int, ...]
    proved: bool


def _solver() -> tuple[Any, Any]:
    # The public class prints two lines when it is made, before it can be told not to; the class
    # under it, which is all that is needed here, does not.
    import highspy

    core: Any = highspy
    highs = core.Highs.__base__()
    for name, value in (("output_flag", False), ("threads", 1), ("random_seed", 1)):
        highs.setOptionValue(name, value)
    return core, highs


class Relaxed:
    """The program without whole numbers; grows column by column and starts where it stood."""

    def __init__(self, demands: Sequence[int], supplies: Sequence[int]) -> None:
        self._core, self._highs = _solver()
        self._highs.setOptionValue("simplex_strategy", PRIMAL)
        none = np.array([], np.int32), np.array([], float)
        for demand in demands:
            self._highs.addRow(float(demand), np.inf, 0, *none)
        for supply in supplies:
            self._highs.addRow(-np.inf, float(supply), 0, *none)

    def add(self, cost: float, column: Column) -> None:
        """Add a column that may be taken any number of times."""
        rows, times = column
        self._highs.addCol(
            cost, 0.0, np.inf, len(rows), np.array(rows, np.int32), np.array(times, float)
        )

    def solve(self) -> tuple[float, NDArray[np.float64]]:
        """Return the least cost and what one more in each row costs.

        Raises:
            ArithmeticError: The solver came to no end.
        """
        self._highs.run()
        status = self._highs.getModelStatus()
        if status != self._core.HighsModelStatus.kOptimal:
            raise ArithmeticError(f"the solver stopped: {status}")
        self._columns = np.array(self._highs.getSolution().col_value)
        value = float(self._highs.getInfo().objective_function_value)
        return value, np.array(self._highs.getSolution().row_dual)

    def amounts(self) -> NDArray[np.float64]:
        """Return how often each column was taken in the last solution."""
        return self._columns

    def ask(self, demands: Sequence[int], supplies: Sequence[int]) -> None:
        """Ask for other sums in the rows."""
        self._highs.setOptionValue("simplex_strategy", DUAL)
        for row, demand in enumerate(demands):
            self._highs.changeRowBounds(row, float(demand), np.inf)
        for row, supply in enumerate(supplies, len(demands)):
            self._highs.changeRowBounds(row, -np.inf, float(supply))


def whole(
    demands: Sequence[int],
    supplies: Sequence[int],
    columns: Sequence[Column],
    cost: Sequence[int],
    kept: Sequence[tuple[Sequence[int], int]] = (),
) -> Whole | None:
    """Return the cheapest way in whole numbers; None where there is none, which is proved then.

    ``kept`` are further sums over the columns that may not exceed a figure.
    """
    core, highs = _solver()
    lp = core.HighsLp()
    count, rows = len(columns), len(demands) + len(supplies)
    lp.num_col_, lp.num_row_ = count, rows + len(kept)
    lp.col_cost_ = np.array(cost, float)
    most = [
        max(-(-demands[r] // n) if r < len(demands) else 1 for r, n in zip(*each, strict=True))
        for each in columns
    ]  # more of a pattern than would serve alone is of no use
    lp.col_lower_, lp.col_upper_ = np.zeros(count), np.array(most, float)
    lp.row_lower_ = np.array([*map(float, demands), *[-np.inf] * (len(supplies) + len(kept))])
    lp.row_upper_ = np.array(
        [*[np.inf] * len(demands), *map(float, supplies), *(float(most) for _, most in kept)]
    )
    start, index, value = [0], list[int](), list[float]()
    for place, (at, times) in enumerate(columns):
        index += at
        value += map(float, times)
        for number, (sums, _) in enumerate(kept):
            index.append(rows + number)
            value.append(float(sums[place]))
        start.append(len(index))
    lp.a_matrix_.format_ = core.MatrixFormat.kColwise
    lp.a_matrix_.start_ = np.array(start, np.int32)
    lp.a_matrix_.index_ = np.array(index, np.int32)
    lp.a_matrix_.value_ = np.array(value, float)
    lp.integrality_ = [core.HighsVarType.kInteger] * count
    highs.setOptionValue("mip_max_nodes", NODES)
    highs.setOptionValue("mip_rel_gap", 0.0)
    highs.setOptionValue("mip_abs_gap", 0.5)  # costs are whole: half a step below is none below
    highs.passModel(lp)
    highs.run()
    status = highs.getModelStatus()
    if status == core.HighsModelStatus.kInfeasible:
        return None
    found = np.array(highs.getSolution().col_value)
    if len(found) != count or highs.getInfo().primal_solution_status != FEASIBLE:
        return Whole((), False)
    done = status == core.HighsModelStatus.kOptimal
    return Whole(tuple(int(np.rint(each)) for each in found), done)
