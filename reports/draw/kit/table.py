"""A plain table on a page, in as many blocks side by side as the page is wide enough for."""

from __future__ import annotations

from math import ceil
from typing import TYPE_CHECKING

from reports.draw.kit.sheet import GREY, LEADING, shorten, text_width

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reports.draw.kit.sheet import Sheet

SIZE = 7.0
ROW = SIZE * LEADING + 1.5
GUTTER = 8.0
BETWEEN = 18.0
LONGEST = 150.0
"""A cell is cut off beyond so many points."""

LEAST_ROWS = 5
"""A block is not split below this many rows."""


class DrawnTable:
    """Cells set in columns, the first line as headings; `width` points are there for it."""

    def __init__(self, cells: Sequence[tuple[str, ...]], width: float) -> None:
        cells = [tuple(shorten(words, SIZE, LONGEST) for words in line) for line in cells]
        self.head, self.body = cells[0], cells[1:]
        self.columns = [
            max(text_width(line[i], SIZE, line is self.head) for line in cells) + GUTTER for i in range(len(self.head))
        ]
        self.column = sum(self.columns) - GUTTER
        fit = int((width + BETWEEN) // (self.column + BETWEEN))
        self.rows = ceil(len(self.body) / max(1, min(fit, ceil(len(self.body) / LEAST_ROWS))))

    @property
    def height(self) -> float:
        """Height, points."""
        return (self.rows + 1) * ROW + 3

    def draw(self, sheet: Sheet, x: float, top: float) -> None:
        """Draw it with its upper left corner at (x, top)."""
        for first in range(0, len(self.body), self.rows):
            self._line(sheet, self.head, x, top - ROW, bold=True)
            sheet.line([(x, top - ROW - 3), (x + self.column, top - ROW - 3)], 0.5)
            for i, line in enumerate(self.body[first : first + self.rows]):
                base = top - ROW * (i + 2) - 2
                self._line(sheet, line, x, base, bold=False)
                sheet.line([(x, base - 2.6), (x + self.column, base - 2.6)], 0.25, colour=GREY)
            x += self.column + BETWEEN

    def _line(self, sheet: Sheet, cells: tuple[str, ...], x: float, y: float, *, bold: bool) -> None:
        for words, width in zip(cells, self.columns, strict=True):
            sheet.text(x, y, words, SIZE, bold=bold)
            x += width
