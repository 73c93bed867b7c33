"""A linear program of columns that may be added: least cost, with as much of everything as is wanted (HiGHS)."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from nesting.steps import quiet_simplex

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

LIMIT = 20_000
"""Steps of the simplex method after which it is given up: by work and not by the clock, so that runs repeat."""


class ColumnProgram:
    """Least cost of columns, none less than nothing, whose rows add up to what is wanted or more.

    Parameters
    ----------
    wanted
        (m,): least sum of each row.
    """

    def __init__(self, wanted: NDArray[np.float64]) -> None:
        import highspy

        # The plain class under it: `Highs` prints a line on standard output before it can be told not to.
        plain: Any = highspy.Highs.__base__
        self.solver = plain()
        self.solver.passOptions(quiet_simplex(LIMIT))
        self.infinity, self.number = highspy.kHighsInf, 0
        self.solved = highspy.HighsModelStatus.kOptimal
        for least in wanted:
            self.solver.addRow(float(least), self.infinity, 0, np.array([], dtype=np.int32), np.array([]))

    def add(self, cost: float, rows: Mapping[int, float]) -> None:
        """Add a column: its cost, and what it gives to each row."""
        where = np.array(list(rows), dtype=np.int32)
        self.solver.addCol(cost, 0.0, self.infinity, len(where), where, np.array(list(rows.values()), dtype=np.float64))
        self.number += 1

    def solve(self) -> tuple[float, NDArray[np.float64], NDArray[np.float64]] | None:
        """Cost, how much of each column, and the price of each row, none below nothing; None if it is given up."""
        self.solver.run()
        if self.solver.getModelStatus() != self.solved:
            return None
        found = self.solver.getSolution()
        prices = np.maximum(np.array(found.row_dual), 0.0)
        return float(self.solver.getInfo().objective_function_value), np.array(found.col_value), prices
