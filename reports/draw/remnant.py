"""A remnant with the pieces that fit on it, and what is left over."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import shapely

from pieces.units import format_size
from reports.draw.label import block_size, find_spot, write_block
from reports.draw.marker import marker_page
from reports.draw.sheet import Sheet

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from nesting.marker import Marker
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
        _, *rows = figure.axes  # the page itself comes first
        for i, ax in enumerate(rows):
            seen = whole.length * i / len(rows), whole.length * (i + 1) / len(rows)
            _draw_left_over(ax, marker, seen, f"left over: {format_size(left, units)}")
    return figure


def _draw_left_over(ax: Axes, marker: Marker, seen: tuple[float, float], words: str) -> None:
    """A line across the cloth where the marker ends, and words beyond it where they have room."""
    figure = ax.get_figure(root=True)
    assert figure is not None
    (left, right), box = ax.get_xlim(), ax.get_position()
    sheet = Sheet(ax, (right - left) / (box.width * figure.get_figwidth() * 72))
    low = min(band.low for band in marker.problem.bands)
    high = low + marker.problem.width
    start, end = seen
    if end <= marker.length:
        return
    if start < marker.length:
        sheet.line([(marker.length, low), (marker.length, high)], 0.7, style=(0, (6, 3)))
    beyond = shapely.box(max(marker.length, start), low, end, high)
    free = shapely.difference(beyond, shapely.union_all([shapely.Polygon(fault) for fault in marker.problem.faults]))
    for block in ((words,), tuple(words.split(": "))):
        for size in (8.0, 7.0, 6.0):
            spot = find_spot(free, *block_size(block, size, sheet.pt))
            if spot is not None:
                write_block(sheet, spot, block, size)
                return
