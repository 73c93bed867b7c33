"""The board of coded squares on the reference sheet: one geometry for the printer and for the reader of photos.

x runs along the grain, down the printed sheet, y to the right: seen from above, as a piece's own frame.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

CELLS = 5
"""A code has so many cells along each side; a black rim of one cell surrounds it."""

CORRECTED = 2
"""Wrong cells of a code that may be corrected: codes differ in 7, so that 3 could be, and one is kept as a reserve."""


@dataclass(frozen=True)
class CodedBoard:
    """The board, lengths in mm, as `tables/reference.toml` gives them.

    Parameters
    ----------
    rows, columns
        Squares along x and along y.
    square, coded
        Sides of a square, and of the coded square within a white one.
    above, below, beside
        Bare paper that may lie round it.
    line
        How long the printed line is by which the scale is checked.
    codes
        Of each coded square, row by row.
    letter
        What tells it from the other sheets.
    """

    rows: int
    columns: int
    square: float
    coded: float
    above: float
    below: float
    beside: float
    line: float
    codes: tuple[int, ...]
    letter: str = "A"

    @property
    def size(self) -> tuple[float, float]:
        """How long it is along x and along y, mm."""
        return self.rows * self.square, self.columns * self.square

    def is_black(self, row: int, column: int) -> bool:
        """Whether a square is black; the first is."""
        return (row + column) % 2 == 0

    def white(self) -> list[tuple[int, int]]:
        """The white squares, row by row: the first holds the first code."""
        return [(r, c) for r in range(self.rows) for c in range(self.columns) if not self.is_black(r, c)]

    def bits(self, number: int) -> NDArray[np.uint8]:
        """The cells of a code, without their rim: 1 for white."""
        code = self.codes[number]
        row = [code >> (CELLS * CELLS - 1 - place) & 1 for place in range(CELLS * CELLS)]
        return np.array(row, dtype=np.uint8).reshape(CELLS, CELLS)

    def black(self) -> list[tuple[float, float, float, float]]:
        """All that is black on it, as rectangles: least x and y, most x and y; equal neighbours are not joined."""
        side = self.square
        found = [
            (r * side, c * side, (r + 1) * side, (c + 1) * side)
            for r in range(self.rows)
            for c in range(self.columns)
            if self.is_black(r, c)
        ]
        cell = self.coded / (CELLS + 2)
        for number, corners in enumerate(self.coded_corners()):
            x, y = corners[0].tolist()
            for start, end, row in _runs(np.pad(self.bits(number), 1)):
                found.append((x + row * cell, y + start * cell, x + (row + 1) * cell, y + end * cell))
        return found

    def coded_corners(self) -> Floats:
        """The corners of every coded square, shape (n, 4, 2): clockwise as seen, from the upper left one."""
        rim, side = (self.square - self.coded) / 2, self.coded
        first = np.array(self.white(), dtype=np.float64) * self.square + rim
        found: Floats = first[:, None, :] + np.array([(0, 0), (0, side), (side, side), (side, 0)])
        return found

    def inner_corners(self) -> Floats:
        """Points at which four squares meet, shape (n, 2)."""
        x, y = np.meshgrid(np.arange(1, self.rows), np.arange(1, self.columns), indexing="ij")
        return np.asarray(np.stack([x, y], axis=-1).reshape(-1, 2) * self.square, dtype=np.float64)

    def paper(self) -> Floats:
        """The corners of what may be paper of the sheet, shape (4, 2)."""
        long, wide = self.size
        x0, x1, y0, y1 = -self.above, long + self.below, -self.beside, wide + self.beside
        return np.array([(x0, y0), (x0, y1), (x1, y1), (x1, y0)])


def _runs(bits: NDArray[np.uint8]) -> list[tuple[int, int, int]]:
    """Runs of black cells: first column, column after the last, and row."""
    found = []
    for row, cells in enumerate(bits.tolist()):
        start = None
        for column, white in enumerate([*cells, 1]):
            if not white and start is None:
                start = column
            elif white and start is not None:
                found.append((start, column, row))
                start = None
    return found


@cache
def reference_boards() -> tuple[CodedBoard, ...]:
    """The boards that `print --what reference` prints, sheet A first."""
    data = tomllib.loads((files("pieces") / "tables" / "reference.toml").read_text(encoding="utf-8"))
    codes, orders = data["codes"], data.pop("sheets")
    return tuple(
        CodedBoard(
            **data | {"codes": tuple(codes[(step * n + first) % len(codes)] for n in range(len(codes)))}, letter=letter
        )
        for letter, (step, first) in zip("ABCD", orders, strict=True)
    )


def reference_board() -> CodedBoard:
    """The board of sheet A."""
    return reference_boards()[0]
