"""Tiles: the sheets that a drawing larger than one is printed on, to be glued together."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING

import numpy as np
import shapely

from reports.errors import PaperError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

    from reports.paper.drawing import Box
    from reports.paper.size import Paper

RIM = 2.0
"""Beyond the outermost lines, so that they are printed in their full width, mm."""

MOST_SHEETS = 2000
"""More are a mistake in a size, or call for a roll."""

OVERLAP = 10.0
"""Width of the strip that the next sheet is glued over, mm: common practice, no source."""


@dataclass(frozen=True)
class Tile:
    """One sheet: its place, from 1 and from the upper left, and the part of the drawing that is printed on it."""

    row: int
    column: int
    window: Box
    is_blank: bool

    @property
    def name(self) -> str:
        """Row and column, such as ``2C``."""
        return f"{self.row}{column_name(self.column)}"


@dataclass(frozen=True)
class Tiling:
    """All sheets of a drawing, row by row; blank ones are not printed."""

    paper: Paper
    rows: int
    columns: int
    tiles: tuple[Tile, ...]

    @property
    def printed(self) -> list[Tile]:
        """The sheets with something on them."""
        return [tile for tile in self.tiles if not tile.is_blank]

    def at(self, row: int, column: int) -> Tile | None:
        """The printed sheet in a place, if there is one."""
        if not (1 <= row <= self.rows and 1 <= column <= self.columns):
            return None
        tile = self.tiles[(row - 1) * self.columns + column - 1]
        return None if tile.is_blank else tile


def column_name(number: int) -> str:
    """A column's letters: A to Z, then AA."""
    letters = ""
    while number:
        number, letter = divmod(number - 1, 26)
        letters = chr(ord("A") + letter) + letters
    return letters


def tile(shapes: Sequence[BaseGeometry], box: Box, paper: Paper, overlap: float = OVERLAP) -> Tiling:
    """Cut a drawing into sheets.

    Each sheet's own part is its window without the strips that sheets to its right and below are glued over. The own
    parts of all cover the drawing once. So a sheet is not needed if its own part has nothing but what stands on those
    strips of sheets before it: they are seen where nothing is glued over them.

    Parameters
    ----------
    shapes
        Where the drawing has something.
    box
        What must be covered, mm.
    overlap
        Width of those strips, mm.

    Raises
    ------
    PaperError
        If there are too many.
    """
    left, low, right, top = box
    columns, across = steps(right - left, paper.wide, overlap)
    rows, down = steps(top - low, paper.high, overlap)
    if rows * columns > MOST_SHEETS:
        raise PaperError(
            f"{columns} sheets of {paper.name} across and {rows} down are more than {MOST_SHEETS}: check the sizes, or"
            " choose larger paper or a --roll"
        )
    drawn = np.array(shapes, dtype=object)
    shapely.prepare(drawn)
    tiles: list[Tile] = []
    for row in range(rows):
        for column in range(columns):
            x, y = left + column * across, top - row * down
            own_x = across if column + 1 < columns else paper.wide
            own_y = down if row + 1 < rows else paper.high
            own = shapely.box(x, y - own_y, x + own_x, y)
            before = [each for each in tiles if not each.is_blank and row - each.row < 1]  # this row, and the one above
            seen = shapely.union_all([shapely.box(*each.window) for each in before])
            blank = not _meets(drawn, own) or not _meets(drawn, shapely.difference(own, seen))
            tiles.append(Tile(row + 1, column + 1, (x, y - paper.high, x + paper.wide, y), blank))
    return Tiling(paper, rows, columns, tuple(tiles))


def steps(extent: float, page: float, overlap: float) -> tuple[int, float]:
    """How many pages it takes, and the distance from one to the next."""
    step = page - overlap
    return max(1, ceil((extent - overlap - 1e-6) / step)), step


def _meets(drawn: NDArray[np.object_], part: BaseGeometry) -> bool:
    return bool(shapely.intersects(drawn, part).any())
