"""Linear programs that part and compact a layout, all outlines at once.

For each two convex parts that could meet, a line is chosen that parts them best where they lie now; kept apart by
these lines, all outlines move together, within a reach; then the lines are chosen anew (Li and Milenkovic 1995;
Gomes and Oliveira 2006).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nesting.kernels.gaps import gaps

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nesting.layout import Layout
    from nesting.shapes import Shapes

MARGIN = 1e-8
"""Kept between outlines, as a share of the cloth's width, so that rounding cannot make them overlap."""

REACH = 0.05
"""How far an outline may move in a step, as a share of the cloth's width."""

CLEAR = 1e-9
"""Overlap that counts as none, as a share of the cloth's width."""


class Compaction:
    """The linear programs of a problem.

    Lengths inside are in cloth widths, so that tolerances of the solver mean the same for every cloth.
    """

    def __init__(self, shapes: Shapes) -> None:
        self.shapes, self.unit = shapes, shapes.problem.width
        parts = [shape.outline[list(part)] / self.unit for shape in shapes.all for part in shape.parts]
        self._corners = np.concatenate(parts)
        self._parts = np.cumsum([0, *map(len, parts)])
        self._of_shape = np.cumsum([0, *(len(shape.parts) for shape in shapes.all)])
        self._boxes = np.array([[*part.min(axis=0), *part.max(axis=0)] for part in parts])
        self._low = np.array([shape.low for shape in shapes.all]) / self.unit
        self._high = np.array([shape.high for shape in shapes.all]) / self.unit
        self._lengths = np.array([shape.length for shape in shapes.all]) / self.unit

    def part(self, layout: Layout, steps: int) -> bool:
        """Move overlapping outlines apart, within the layout's length; whether it worked out."""
        before = np.inf
        for _ in range(steps):
            overlap = self._step(layout, layout.length)
            if overlap <= MARGIN + CLEAR:
                return True
            if overlap > 0.95 * before:
                break
            before = overlap
        return False

    def compact(self, layout: Layout, steps: int) -> None:
        """Shorten a layout without overlap."""
        for _ in range(steps):
            before = layout.length
            if self._step(layout, None) > CLEAR or layout.length > before * (1 - 1e-4):
                break

    def _step(self, layout: Layout, length: float | None) -> float:
        """One linear program: least overlap within a length, or least length without overlap.

        Returns the deepest overlap that is left, in cloth widths.
        """
        from ortools.linear_solver import pywraplp

        solver = pywraplp.Solver.CreateSolver("GLOP")
        solver.SetSolverSpecificParametersAsString("use_dual_simplex: true use_preprocessing: false max_number_of_iterations: 20000")
        x, y = layout.x / self.unit, layout.y / self.unit
        pairs, rows = self._rows(layout.shape, x, y)
        lengths, low, high = self._lengths[layout.shape], self._low[layout.shape], self._high[layout.shape]
        end = (layout.length if length is None else length) / self.unit
        top = end - lengths
        # An outline that now sticks out may come back in at once, whatever the reach.
        lx, hx = np.clip(x - REACH, 0, top), np.clip(x + REACH, 0, top)
        ly, hy = np.clip(y - REACH, low, high), np.clip(y + REACH, low, high)
        vx = [solver.NumVar(a, b, "") for a, b in zip(lx.tolist(), hx.tolist(), strict=True)]
        vy = [solver.NumVar(a, b, "") for a, b in zip(ly.tolist(), hy.tolist(), strict=True)]
        infinity = solver.infinity()
        objective = solver.Objective()
        slack = {}
        if length is None:
            whole = solver.NumVar(0.0, end, "")
            objective.SetCoefficient(whole, 1.0)
            for var, size in zip(vx, lengths.tolist(), strict=True):
                row = solver.Constraint(size, infinity)
                row.SetCoefficient(whole, 1.0)
                row.SetCoefficient(var, -1.0)
        else:
            for i, j in set(map(tuple, pairs.tolist())):
                slack[i, j] = solver.NumVar(0.0, infinity, "")
                objective.SetCoefficient(slack[i, j], 1.0)
        objective.SetMinimization()
        least = rows[:, 2] + MARGIN
        if length is None:
            # Where pieces fit exactly there is no room for the margin.
            now = rows[:, 0] * (x[pairs[:, 1]] - x[pairs[:, 0]]) + rows[:, 1] * (y[pairs[:, 1]] - y[pairs[:, 0]])
            least = np.minimum(least, np.maximum(now, rows[:, 2] - CLEAR))
        for (i, j), nx, ny, bound in zip(pairs.tolist(), *rows[:, :2].T.tolist(), least.tolist(), strict=True):
            row = solver.Constraint(bound, infinity)
            row.SetCoefficient(vx[j], nx)
            row.SetCoefficient(vx[i], -nx)
            row.SetCoefficient(vy[j], ny)
            row.SetCoefficient(vy[i], -ny)
            if slack:
                row.SetCoefficient(slack[i, j], 1.0)
        if solver.Solve() != pywraplp.Solver.OPTIMAL:
            return np.inf
        layout.x = np.array([v.solution_value() for v in vx]) * self.unit
        layout.y = np.array([v.solution_value() for v in vy]) * self.unit
        if length is None:
            layout.length = layout.extent(self.shapes)
            return 0.0
        return max(var.solution_value() for var in slack.values()) if slack else 0.0

    def _rows(
        self, shape: NDArray[np.int64], x: NDArray[np.float64], y: NDArray[np.float64]
    ) -> tuple[NDArray[np.int64], NDArray[np.float64]]:
        """Pairs of outlines, and for each a normal and the least offset along it; lines along others dropped."""
        size = 64 * len(x)
        while True:
            pairs, rows = np.empty((size, 2), dtype=np.int64), np.empty((size, 3))
            count = gaps(
                self._corners, self._parts, self._of_shape, self._boxes, shape, x, y, 2 * REACH, pairs, rows
            )
            if count <= size:
                break
            size = count
        pairs, rows = pairs[:count], rows[:count]
        # Of lines of one pair in the same direction only the tightest counts.
        key = np.column_stack([pairs, np.rint(rows[:, :2] * 1e9)])
        order = np.lexsort((-rows[:, 2], *key.T))
        same = (key[order][1:] == key[order][:-1]).all(axis=1)
        keep = order[np.concatenate([[True], ~same])] if count else order
        return pairs[keep], rows[keep]
