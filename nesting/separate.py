"""Overlap taken out of a layout on a raster, one outline moved at a time."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nesting.depths import UNSEEN, make_tables
from nesting.kernels import raster

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nesting.layout import Layout
    from nesting.nofit import NoFit
    from nesting.shapes import Shapes

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
    """

    def __init__(self, shapes: Shapes, nofit: NoFit, cells: int, seed: int) -> None:
        self.shapes, self.cell = shapes, cell_size(shapes, cells)
        self.tables = make_tables(shapes, nofit, self.cell)
        self._low = np.array([shape.low for shape in shapes.all])
        self._lengths = np.array([shape.length for shape in shapes.all])
        spans = np.array([shape.high - shape.low for shape in shapes.all])
        self._rows = np.floor(spans / self.cell + UNSEEN).astype(np.int64) + 1
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
        over = False
        while not over:
            over, done = raster.sweeps(self.tables, board, best, GOAL, DECAY, PATIENCE, ticks, moves)
            self.relocations += done
            yield
        layout.shape = best[0].copy()
        layout.x = best[1] * self.cell
        layout.y = best[2] * self.cell + self._low[best[0]]

    def board(self, layout: Layout) -> raster.Board:
        """A layout on the lattice, its maps still empty."""
        n = len(layout.x)
        columns = np.floor((layout.length - self._lengths) / self.cell + UNSEEN).astype(np.int64) + 1
        sizes = np.maximum(columns, 1) * self._rows
        columns = np.maximum(columns, 1)
        start = np.cumsum(sizes) - sizes
        x = np.rint(layout.x / self.cell).astype(np.int64).clip(0, columns[layout.shape] - 1)
        y = np.rint((layout.y - self._low[layout.shape]) / self.cell).astype(np.int64)
        maps = np.zeros(int(sizes.sum()), dtype=np.float32)
        spare = np.zeros(int(columns.max()), dtype=np.float32)
        return raster.Board(
            item=self.shapes.items,
            shape=layout.shape.copy(),
            x=x,
            y=y.clip(0, self._rows[layout.shape] - 1),
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
