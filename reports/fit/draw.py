"""A remnant with the pieces that fit on it, and what is left over; or with the nearest layout that does not fit."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import shapely

from pieces.units import format_bound, format_exact, format_need
from reports.draw.fault import HATCH, hatch
from reports.draw.kit.label import block_size, find_spot, write_block
from reports.draw.kit.over import rows_of, sheet_of, underneath
from reports.draw.kit.sheet import BLACK, PALE
from reports.draw.marker import marker_page
from reports.rows import marker_rows

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from nesting.marker.marker import Marker
    from pieces.units import Units

LEAST_LEFT = 5.0
"""Less left over than this, mm, is not drawn."""


def remnant_page(
    marker: Marker, length: float, *, title: str, subtitle: str, units: Units, lines: Sequence[str] = ()
) -> Figure:
    """One page to cut from: all of the remnant, its cut-outs hatched, the pieces, and what is left over.

    Parameters
    ----------
    length
        Of the remnant, mm; the marker is no longer.
    title, subtitle, units, lines
        As of `marker_page`.
    """
    whole = replace(marker, length=max(length, marker.length))
    figure = marker_page(whole, title=title, subtitle=subtitle, units=units, lines=lines)
    left = whole.length - marker.length
    if left > LEAST_LEFT:
        words = ("left over", format_bound(left, units))
        for ax, start, end in rows_of(figure, whole.length):
            if end > marker.length:
                _draw_left_over(ax, marker, (start, end), words)
    return figure


def short_page(
    marker: Marker, length: float, *, title: str, subtitle: str, units: Units, lines: Sequence[str] = ()
) -> Figure:
    """One page that shows what is lacking: where the remnant ends, and by how much pieces stick out beyond it.

    Parameters
    ----------
    length
        Of the remnant, mm; the marker is longer.
    title, subtitle, units, lines
        As of `marker_page`.
    """
    legend = f"Heavy line: the end of the remnant, {format_exact(length, units)} from the start."
    legend += " Hatched in black: the parts of pieces beyond it, where there is no cloth."
    figure = marker_page(
        marker,
        title=title,
        subtitle=subtitle,
        units=units,
        lines=(*lines, legend),
        cells=_sticking_out(marker, length, units),
    )
    shapes = [shapely.Polygon(outline) for _, _, _, outline in marker.outlines()]
    for ax, start, end in rows_of(figure, marker.length):
        if end > length:
            _draw_lacking(ax, marker, shapes, max(length, start), end, is_end=start <= length)
    return figure


def _sticking_out(marker: Marker, length: float, units: Units) -> list[tuple[str, ...]]:
    """A table's headings, then a line for each piece that does not lie on the remnant as a whole."""
    cells: list[tuple[str, ...]] = [("#", "piece", "gives", "beyond the end")]
    for row in marker_rows(marker):
        over = row.placement.x + row.variant.length - length
        if over > 0:
            cells.append((str(row.number), row.name, row.gives, format_need(over, units)))
    return cells


def _draw_lacking(
    ax: Axes, marker: Marker, shapes: Sequence[shapely.Polygon], start: float, end: float, *, is_end: bool
) -> None:
    """Ground in grey where there is no cloth, what of the pieces lies there hatched, and the remnant's end heavy."""
    sheet = sheet_of(ax)
    low = min(band.low for band in marker.problem.bands)
    high = low + marker.problem.width
    beyond = shapely.box(start, low, end, high)
    with underneath(ax):
        sheet.area(shapely.get_coordinates(beyond), PALE)
        # On a grid: of pieces that lie edge to edge a union of floats may come out faulty.
        lacking = shapely.intersection(shapely.union_all(shapes, grid_size=0.001), beyond)
        sheet.lines(hatch(lacking, HATCH * sheet.pt, both=False), 0.6, BLACK)
        if is_end:
            over = 4 * sheet.pt  # as far as a selvedge is drawn, short of the words beyond
            sheet.line([(start, low - over), (start, high + over)], 2.5)


def _draw_left_over(ax: Axes, marker: Marker, seen: tuple[float, float], words: tuple[str, str]) -> None:
    """A line across the cloth where the marker ends, and words beyond it where they have room."""
    sheet = sheet_of(ax)
    low = min(band.low for band in marker.problem.bands)
    high = low + marker.problem.width
    start, end = seen
    if start < marker.length:
        with underneath(ax):
            sheet.line([(marker.length, low), (marker.length, high)], 0.7, style=(0, (6, 3)))
    beyond = shapely.box(max(marker.length, start), low, end, high)
    free = shapely.difference(beyond, shapely.union_all([shapely.Polygon(fault) for fault in marker.problem.faults]))
    for block in ((": ".join(words),), words):
        for size in (8.0, 7.0, 6.0):
            spot = find_spot(free, *block_size(block, size, sheet.pt))
            if spot is not None:
                write_block(sheet, spot, block, size)
                return
