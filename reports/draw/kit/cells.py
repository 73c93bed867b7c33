"""Drawings in rows on a page, all at one scale, each with words under it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

import numpy as np

from pieces.units import INCH, Units
from reports.draw.kit.sheet import LEADING, MARGIN, PAGE_HEIGHT, PAGE_WIDTH, Sheet, new_page, shorten, text_width

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from matplotlib.figure import Figure

GAP = 20.0
"""Clear space between two drawings, points."""

LEAST_SCALE = 0.1
"""Points a mm (1 : 28): where more would not fit on the page, it grows taller instead."""

BAR = {Units.INCHES: (10 * INCH, "10 in"), Units.METRIC: (200.0, "20 cm")}


class Legend(Protocol):
    """What stands under the title."""

    @property
    def height(self) -> float:
        """Height with the space below it, points."""
        ...

    def draw(self, page: Sheet, top: float) -> None:
        """Draw it, its upper edge at `top`."""
        ...


@dataclass(frozen=True, eq=False)
class CaptionedDrawing:
    """A drawing, so many mm across and deep, and the words under it.

    `paint` draws on a sheet in mm, its lower left corner at (0, 0).
    """

    across: float
    deep: float
    lines: tuple[str, ...]
    paint: Callable[[Sheet], None]

    def width(self, scale: float) -> float:
        """Width on the page with its words, points."""
        words = max(text_width(line, 9 if i == 0 else 7, i == 0) for i, line in enumerate(self.lines))
        return max(self.across * scale, words)

    def height(self, scale: float) -> float:
        """Height on the page with its words and the space below, points."""
        return self.deep * scale + 12 + len(self.lines) * 7 * LEADING

    def draw(self, figure: Figure, page: Sheet, x: float, top: float, scale: float) -> None:
        """Draw it with its upper left corner at (x, top), in points of the page."""
        wide, deep = self.across * scale, self.deep * scale
        page_high = float(figure.get_size_inches()[1]) * 72
        ax = figure.add_axes((x / PAGE_WIDTH, (top - deep) / page_high, wide / PAGE_WIDTH, deep / page_high))
        ax.set_axis_off()
        ax.set_xlim(0, self.across)
        ax.set_ylim(0, self.deep)
        self.paint(Sheet(ax, 1 / scale))
        base = top - deep - 12
        for i, line in enumerate(self.lines):
            page.text(x, base, line, 9 if i == 0 else 7, bold=i == 0)
            base -= 7 * LEADING


def cells_page(
    cells: Sequence[CaptionedDrawing],
    *,
    title: str,
    units: Units,
    note: str,
    legend: Legend | None = None,
    least_scale: float = LEAST_SCALE,
) -> Figure:
    """Draw cells in rows, in the order given.

    Parameters
    ----------
    note
        What the lines mean: at the foot, in small type.
    legend
        What stands under the title, if anything.
    least_scale
        Points a mm that nothing is drawn smaller than, as long as it fits across the page.

    Returns
    -------
    Figure
        A4 on its side; taller where much would otherwise be too small to read.
    """
    width, height = PAGE_WIDTH - 2 * MARGIN, PAGE_HEIGHT
    above = legend.height if legend else 0.0
    free = height - 2 * MARGIN - 60 - above
    scale = _scale(cells, width, free, least_scale)
    rows = _rows(cells, scale, width)
    height += max(0.0, _depth(rows, scale) - free)
    figure, page = new_page(height)
    page.text(MARGIN, height - MARGIN - 15, shorten(title, 15, width, bold=True), 15, bold=True)
    top = height - MARGIN - 34
    if legend:
        legend.draw(page, top)
        top -= above
    for row in rows:
        x = MARGIN
        for cell in row:
            cell.draw(figure, page, x, top, scale)
            x += cell.width(scale) + GAP
        top -= _depth([row], scale)
    _foot(page, scale, units, note)
    return figure


def _rows(cells: Sequence[CaptionedDrawing], scale: float, width: float) -> list[list[CaptionedDrawing]]:
    """Cells side by side as far as the page is wide, then in a new row."""
    rows: list[list[CaptionedDrawing]] = []
    used = 0.0
    for cell in cells:
        wide = cell.width(scale) + GAP
        if not rows or used + wide - GAP > width:
            rows.append([])
            used = 0.0
        rows[-1].append(cell)
        used += wide
    return rows


def _depth(rows: Sequence[Sequence[CaptionedDrawing]], scale: float) -> float:
    """Height of rows with the words under them and the space between them."""
    return sum(max(cell.height(scale) for cell in row) for row in rows)


def _scale(cells: Sequence[CaptionedDrawing], width: float, height: float, least: float) -> float:
    """Points a mm: the largest of a row of scales at which all fits, or the least one."""
    widest = max(cell.across for cell in cells)
    most = min(0.7, width / widest)
    for scale in np.geomspace(most, min(least, most), 80):
        if _depth(_rows(cells, float(scale), width), float(scale)) <= height:
            return float(scale)
    return min(least, most)


def _foot(page: Sheet, scale: float, units: Units, note: str) -> None:
    """The scale bar, and what the lines mean."""
    length, words = BAR[units]
    end, y = MARGIN + length * scale, MARGIN + 14
    page.line([(MARGIN, y), (end, y)], 1.2)
    for x in (MARGIN, (MARGIN + end) / 2, end):
        page.line([(x, y - 3), (x, y + 3)], 0.8)
    page.text(end + 6, y - 2.5, f"{words}, all pieces at one scale", 7)
    page.text(MARGIN, MARGIN - 4, note, 6)
