"""Small linear programs: maximize the last column. The only user here of the solver library.

The library is loaded on the first program, never at import: a design without vessels does not
pay for it.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Row = tuple[tuple[int, ...], tuple[float, ...], float]
"""Columns, their factors, and the least value of the sum."""

BIG = 1e5
"""No gap is larger: what stands for no limit, mm."""


@dataclass(frozen=True, slots=True)
class Rows:
    """Rows of one program in the form that the solver takes: each sum is at least ``least``."""

    start: NDArray[np.int32]
    column: NDArray[np.int32]
    factor: Floats
    least: Floats

    @classmethod
    def of(cls, rows: Sequence[Row]) -> "Rows":
        """Collect rows in the order given."""
        start = np.zeros(len(rows) + 1, np.int32)
        start[1:] = np.cumsum([len(row[0]) for row in rows])
        columns = [c for row in rows for c in row[0]]
        factors = [f for row in rows for f in row[1]]
        return cls(
            start,
            np.array(columns, np.int32),
            np.array(factors, float),
            np.array([row[2] for row in rows], float),
        )

    def then(self, more: "Rows") -> "Rows":
        """Return these rows with more below them."""
        return Rows(
            np.concatenate([self.start, more.start[1:] + self.start[-1]]),
            np.concatenate([self.column, more.column]),
            np.concatenate([self.factor, more.factor]),
            np.concatenate([self.least, more.least]),
        )


@dataclass(frozen=True, slots=True)
class Optimum:
    """The best point, its value, and the solver's state to start a like program from."""

    at: Floats
    value: float
    basis: Any
    rows: int


class Solver:
    """One instance of the solver: one thread, no presolve, nothing printed."""

    def __init__(self) -> None:
        # The public class prints two lines when it is made, before it can be told not to; the
        # class under it, which is all that is needed here, does not.
        import highspy

        core: Any = highspy
        self._core, self._highs = core, core.Highs.__base__()
        for name, value in (("output_flag", False), ("threads", 1), ("presolve", "off")):
            self._highs.setOptionValue(name, value)
        self._optimal = core.HighsModelStatus.kOptimal
        self._infeasible = core.HighsModelStatus.kInfeasible
        self._basic = core.HighsBasisStatus.kBasic

    def maximize(
        self, rows: Rows, lower: Floats, upper: Floats, start: Optimum | None = None
    ) -> Optimum | None:
        """Maximize the last column between bounds of all columns.

        ``start`` is the optimum of a program with the same first rows. Returns None where no
        point keeps all rows.

        Raises:
            ArithmeticError: The solver came to no end.
        """
        core, highs = self._core, self._highs
        lp = core.HighsLp()
        lp.num_col_, lp.num_row_ = len(lower), len(rows.least)
        cost = np.zeros(len(lower))
        cost[-1] = 1.0
        lp.col_cost_, lp.col_lower_, lp.col_upper_ = cost, lower, upper
        lp.row_lower_, lp.row_upper_ = rows.least, np.full(len(rows.least), np.inf)
        lp.a_matrix_.format_ = core.MatrixFormat.kRowwise
        lp.a_matrix_.start_, lp.a_matrix_.index_ = rows.start, rows.column
        lp.a_matrix_.value_ = rows.factor
        lp.sense_ = core.ObjSense.kMaximize
        highs.passModel(lp)
        if start is not None:
            basis = core.HighsBasis()
            basis.valid = True
            basis.col_status = start.basis[0]
            basis.row_status = start.basis[1] + [self._basic] * (len(rows.least) - start.rows)
            highs.setBasis(basis)
        highs.run()
        status = highs.getModelStatus()
        if status not in (self._optimal, self._infeasible):
            highs.clearSolver()  # once more, from nothing
            highs.run()
            status = highs.getModelStatus()
        if status == self._infeasible:
            return None
        if status != self._optimal:
            raise ArithmeticError(f"the solver stopped: {status}")
        found = np.array(highs.getSolution().col_value)
        state = highs.getBasis()
        return Optimum(
            found, float(found[-1]), (state.col_status, state.row_status), len(rows.least)
        )
