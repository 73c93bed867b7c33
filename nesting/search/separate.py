"""Overlap taken out of a layout on a raster, one outline moved at a time."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nesting.kernels import raster
from nesting.search.meter import WorkMeter
from nesting.shape.overlap_tables import UNSEEN, make_tables

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from nesting.shape.layout import Layout
    from nesting.shape.nofit import NoFit
    from nesting.shape.shapes import Shapes

CELLS_A_CALL = 8_000_000
"""Cells of maps looked at in a call of the kernel: well under a tenth of a second."""

PATIENCE = 400
"""Sweeps without progress after which a run ends."""

GOAL = 0.98
"""Share of the least total that counts as progress."""

SAME = 1e-7
"""Corners are whole numbers of a unit if they are so to this share of the cloth's width."""

FINEST = 1.5
"""How many times more cells than wished for may be across the cloth to fit the unit of the corners."""

ROUNDING = 1e-6
"""Share of a cell by which what is bound to a place may miss it."""

DECAY = 0.97
"""What is left, after a sweep, of a weight's excess over 1."""


class Separation:
    """The raster of a problem, on which layouts are separated.

    Parameters
    ----------
    cells
        Cells across the cloth, or about so many.
    seed
        Start of the random numbers.
    meter
        Counts the work.
    """

    def __init__(self, shapes: Shapes, nofit: NoFit, cells: int, seed: int, meter: WorkMeter | None = None) -> None:
        self.shapes, self._meter = shapes, meter or WorkMeter()
        self.cells = cell_sizes(shapes, cells)
        self.tables = nofit.once(("tables", *self.cells), lambda: make_tables(shapes, nofit, self.cells))
        self._low = np.array([shape.low for shape in shapes.all])
        self._first = np.array([shape.first for shape in shapes.all])
        self._lengths = np.array([shape.length for shape in shapes.all])
        # What linear programs will not move must lie within its range already.
        self._over = np.where([shape.is_bound for shape in shapes.all], ROUNDING, UNSEEN).T
        spans = np.array([[shape.last - shape.first, shape.high - shape.low] for shape in shapes.all]).T
        self._most, self._rows = np.floor(spans / np.array([self.cells]).T + self._over) + 1
        self._rows = self._rows.astype(np.int64)
        self._seed = np.array([seed * 2 + 0x9E3779B97F4A7C15], dtype=np.uint64)
        self.relocations = 0

    def run(self, layout: Layout) -> Iterator[None]:
        """Change a layout, within its length, into one without overlap on the raster, or with as little as found.

        Yields a few times a second.
        """
        board = self.board(layout)
        raster.lay(self.tables, board)
        best = np.stack([board.shape, board.x, board.y])
        ticks = np.full(3, -1, dtype=np.int64)
        moves = max(20, CELLS_A_CALL // int((board.rows * board.columns).mean()))
        sizes = np.append(0, np.cumsum(board.rows * board.columns))
        cells = float((sizes[self.tables.last[board.item]] - sizes[self.tables.first[board.item]]).mean())
        over = False
        while not over:
            over, done = raster.sweeps(self.tables, board, best, GOAL, DECAY, PATIENCE, ticks, moves)
            self.relocations += done
            self._meter.relocate(done, cells)
            yield
        layout.shape = best[0].copy()
        layout.x = best[1] * self.cells[0] + self._first[best[0]]
        layout.y = best[2] * self.cells[1] + self._low[best[0]]

    def board(self, layout: Layout) -> raster.Board:
        """A layout on the lattice, its maps still empty."""
        n = len(layout.x)
        columns = np.floor((layout.length - self._lengths - self._first) / self.cells[0] + self._over[0]) + 1
        columns = np.clip(columns, 1, self._most).astype(np.int64)
        sizes = columns * self._rows
        start = np.cumsum(sizes) - sizes
        shape = layout.shape
        x = self._on_lattice(layout.x - self._first[shape], 0, self.tables.stride_x[shape], columns[shape])
        y = self._on_lattice(layout.y - self._low[shape], 1, self.tables.stride_y[shape], self._rows[shape])
        maps = np.zeros(int(sizes.sum()), dtype=np.float32)
        spare = np.zeros(int(columns.max()), dtype=np.float32)
        return raster.Board(
            item=self.shapes.item_of[shape],
            shape=shape.copy(),
            x=x,
            y=y,
            map=maps,
            map_bits=maps.view(np.int32),
            start=start,
            columns=columns,
            rows=self._rows,
            spare=spare,
            bits=spare.view(np.int32),
            weight=np.ones((n, n), dtype=np.float32),
            seed=self._seed,
        )

    def _on_lattice(
        self, place: NDArray[np.float64], axis: int, stride: NDArray[np.int64], count: NDArray[np.int64]
    ) -> NDArray[np.int64]:
        """The nearest allowed lattice points, of `count` of which every `stride`-th may be taken."""
        steps = np.rint(place / (self.cells[axis] * stride)).astype(np.int64)
        on: NDArray[np.int64] = steps.clip(0, (count - 1) // stride) * stride
        return on


def cell_sizes(shapes: Shapes, cells: int) -> tuple[float, float]:
    """Size of a cell along and across, mm; a repeat of the cloth's pattern is a whole number of them, or they of it."""
    cell = cell_size(shapes, cells)
    steps = [max(shape.steps[axis] for shape in shapes.all) for axis in (0, 1)]
    along, across = (
        cell if not step else step / round(step / cell) if step > cell else step * round(cell / step) for step in steps
    )
    return along, across


def cell_size(shapes: Shapes, cells: int) -> float:
    """Size of a cell, mm, for about so many across the cloth.

    Where all corners are whole numbers of some unit, a cell is a part of it, so that outlines can lie edge to edge
    on the lattice.
    """
    width = shapes.problem.width
    slack = SAME * width
    unit = 0.0
    for number in np.unique(np.abs(np.concatenate([shape.outline.ravel() for shape in shapes.all]))).tolist():
        # Euclid's algorithm, to rounding.
        rest = number
        while rest > slack:
            unit, rest = rest, unit % rest
            rest = 0.0 if unit - rest < slack else rest
        if unit * FINEST * cells < width and unit > 0:
            return width / cells
    return unit / max(1, round(unit * cells / width))
