"""One linear program over the places of all outlines (OR-Tools' GLOP)."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

OVERLAP_WEIGHT = 20.0
"""What overlap costs against length."""

# The dual simplex without preprocessing: the default ends as ABNORMAL now and then (google/or-tools#3648). It
# may go round in circles instead, hence a limit, by work and not by the clock; what it gives up the default gets.
LIMIT = "max_number_of_iterations: 4000 max_deterministic_time: 0.5"
PARAMETERS = (f"use_dual_simplex: true use_preprocessing: false {LIMIT}", LIMIT)


class Places(NamedTuple):
    """Places of all outlines, (n,), and the deepest overlap between two of them."""

    x: Floats
    y: Floats
    overlap: float


class Program:
    """Least length, and before that least overlap, of a layout whose outlines move within ranges.

    Parameters
    ----------
    x, y
        (2, n): lowest and highest place of each outline.
    lengths
        (n,): of the outlines.
    limit
        Most that the layout's length may be.
    """

    def __init__(self, x: Floats, y: Floats, lengths: Floats, limit: float) -> None:
        from ortools.linear_solver import pywraplp

        self._optimal = pywraplp.Solver.OPTIMAL
        self._solver = solver = pywraplp.Solver.CreateSolver("GLOP")
        self._x = [solver.NumVar(low, high, "") for low, high in x.T.tolist()]
        self._y = [solver.NumVar(low, high, "") for low, high in y.T.tolist()]
        self._overlap: dict[tuple[int, int], Any] = {}
        self._objective = solver.Objective()
        self._objective.SetMinimization()
        length = solver.NumVar(0.0, limit, "")
        self._objective.SetCoefficient(length, 1.0)
        for var, size in zip(self._x, lengths.tolist(), strict=True):
            row = solver.Constraint(size, solver.infinity())
            row.SetCoefficient(length, 1.0)
            row.SetCoefficient(var, -1.0)

    def keep_apart(self, pairs: NDArray[np.int64], normals: Floats, least: Floats, overlaps: NDArray[np.bool_]) -> None:
        """Add rows: along a normal, one outline lies at least so far beyond the other; or overlaps, where it may.

        Parameters
        ----------
        pairs, normals
            (m, 2): the two outlines, and a direction from the first to the second.
        least, overlaps
            (m,): distance between their places along it, and whether it may be less, at a cost.
        """
        solver, infinity = self._solver, self._solver.infinity()
        rows = zip(pairs.tolist(), normals.tolist(), least.tolist(), overlaps.tolist(), strict=True)
        for (i, j), (nx, ny), bound, may_overlap in rows:
            row = solver.Constraint(bound, infinity)
            row.SetCoefficient(self._x[j], nx)
            row.SetCoefficient(self._x[i], -nx)
            row.SetCoefficient(self._y[j], ny)
            row.SetCoefficient(self._y[i], -ny)
            if may_overlap:
                if (i, j) not in self._overlap:
                    self._overlap[i, j] = solver.NumVar(0.0, infinity, "")
                    self._objective.SetCoefficient(self._overlap[i, j], OVERLAP_WEIGHT)
                row.SetCoefficient(self._overlap[i, j], 1.0)

    def solve(self) -> Places | None:
        """The best places, or None where the solver gives up."""
        for parameters in PARAMETERS:
            self._solver.SetSolverSpecificParametersAsString(parameters)
            if self._solver.Solve() == self._optimal:
                break
        else:
            return None
        x = np.array([var.solution_value() for var in self._x])
        y = np.array([var.solution_value() for var in self._y])
        return Places(x, y, max((var.solution_value() for var in self._overlap.values()), default=0.0))
