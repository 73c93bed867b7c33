"""One linear program over the places of all outlines (HiGHS)."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from nesting.steps import quiet_simplex

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

OVERLAP_WEIGHT = 20.0
"""What overlap costs against length."""

TOLERANCE = 1e-9
"""By how much a row may be missed: well under the margin that is kept between outlines."""

LIMIT = 20_000
"""Steps of the simplex method after which it is given up: by work and not by the clock, so that runs repeat."""


class FoundPlaces(NamedTuple):
    """Places of all outlines, (n,), and the deepest overlap between two of them."""

    x: Floats
    y: Floats
    overlap: float


class LinearProgram:
    """Least length, and before that least overlap, of a layout whose outlines move within ranges.

    Its columns are x and y of all outlines, the length, and the overlaps of pairs.

    Parameters
    ----------
    x, y
        (2, n): lowest and highest place of each outline.
    lengths
        (n,): of the outlines.
    limit
        Most that the layout's length may be.

    Attributes
    ----------
    pivots
        Steps that the simplex method took.
    """

    def __init__(self, x: Floats, y: Floats, lengths: Floats, limit: float) -> None:
        self._n = n = len(lengths)
        self._low = np.concatenate([x[0], y[0], [0.0]])
        self._high = np.concatenate([x[1], y[1], [limit]])
        self._overlaps, self.pivots = 0, 0
        outlines = np.arange(n)
        self._least = lengths
        self._columns = np.stack([np.full(n, 2 * n), outlines], axis=1).ravel()
        self._values = np.tile([1.0, -1.0], n)
        self._starts = 2 * outlines

    def keep_apart(self, pairs: NDArray[np.int64], normals: Floats, least: Floats, overlaps: NDArray[np.bool_]) -> None:
        """Add rows: along a normal, one outline lies at least so far beyond the other; or overlaps, where it may.

        Parameters
        ----------
        pairs, normals
            (m, 2): the two outlines, and a direction from the first to the second.
        least, overlaps
            (m,): distance between their places along it, and whether it may be less, at a cost.
        """
        n, (i, j), (nx, ny) = self._n, pairs.T, normals.T
        which, number = np.unique(pairs[overlaps] @ (n, 1), return_inverse=True)
        last = np.zeros(len(pairs), dtype=np.int64)
        last[overlaps] = 2 * n + 1 + number
        columns = np.stack([j, i, n + j, n + i, last], axis=1)
        values = np.stack([nx, -nx, ny, -ny, np.ones(len(pairs))], axis=1)
        kept = np.ones(columns.shape, dtype=bool)
        kept[:, 4] = overlaps
        sizes = kept.sum(axis=1)
        self._overlaps = len(which)
        self._least = np.concatenate([self._least, least])
        self._starts = np.concatenate([self._starts, len(self._columns) + np.cumsum(sizes) - sizes])
        self._columns = np.concatenate([self._columns, columns[kept]])
        self._values = np.concatenate([self._values, values[kept]])

    def solve(self) -> FoundPlaces | None:
        """The best places, or None where the solver gives up."""
        import highspy

        # The plain class under it: `Highs` prints a line on standard output before it can be told not to.
        plain: Any = highspy.Highs.__base__
        solver = plain()
        solver.passOptions(_options())
        solver.passModel(self._model())
        solver.run()
        self.pivots = int(solver.getInfo().simplex_iteration_count)
        if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return None
        found, n = np.array(solver.getSolution().col_value), self._n
        return FoundPlaces(found[:n], found[n : 2 * n], float(found[2 * n + 1 :].max(initial=0.0)))

    def _model(self) -> Any:
        import highspy

        model = highspy.HighsLp()
        model.num_col_ = 2 * self._n + 1 + self._overlaps
        model.num_row_ = len(self._least)
        model.col_cost_ = np.repeat([0.0, 1.0, OVERLAP_WEIGHT], [2 * self._n, 1, self._overlaps])
        model.col_lower_ = np.concatenate([self._low, np.zeros(self._overlaps)])
        model.col_upper_ = np.concatenate([self._high, np.full(self._overlaps, highspy.kHighsInf)])
        model.row_lower_ = self._least
        model.row_upper_ = np.full(len(self._least), highspy.kHighsInf)
        matrix = model.a_matrix_
        matrix.format_ = highspy.MatrixFormat.kRowwise
        matrix.start_ = np.append(self._starts, len(self._columns))
        matrix.index_, matrix.value_ = self._columns, self._values
        return model


def _options() -> Any:
    """As of all linear programs here, and as exact as places must be."""
    options = quiet_simplex(LIMIT)
    options.primal_feasibility_tolerance = TOLERANCE
    return options
