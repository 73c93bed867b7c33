"""A marker with what is left beside it: free rectangles, or strips, by their names and sizes."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import shapely

from reports.draw.kit.label import block_size, find_spot, write_block
from reports.draw.kit.over import rows_of, sheet_of, underneath
from reports.draw.kit.sheet import DASHED, PALE
from reports.draw.marker import NOTES, marker_page
from reports.left.words import free_words, left_cells
from reports.plan.words import SPREAD_WORDS, width_words

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from nesting.fit.remnant import Zone
    from reports.left.left import Left

SIZES = (8.0, 7.0, 6.0, 5.0)
NOTE = "Grey, dashed: free cloth, in every layer that lies there."


def left_page(found: Left) -> Figure:
    """One page: all of the cloth bought, the pieces, and the free rectangles; or the strips, where they are asked for.

    Strips are cut of the same cloth as rectangles: only one of the two is drawn.
    """
    offer, units = found.plan.offer, found.units
    cells = left_cells(found)
    hidden = "free" if found.strips else "strip"
    cells = [cells[0], *(line for line in cells[1:] if line[1] != hidden)]
    whole = replace(found.marker, length=found.length)
    title = found.task.job.title
    figure = marker_page(
        whole,
        title=f"{title[0].upper() + title[1:]}: what is left of {offer.name}",
        subtitle=f"{width_words(offer, units)}, {SPREAD_WORDS[found.spread]}, {found.plan.purchase.text} bought",
        units=units,
        nap=offer.nap is True,
        lines=(_answer(found), free_words(found)),
        cells=cells,
        notes=(NOTE, *NOTES),
    )
    shown = [(line[0], line[2]) for line in cells[1:] if line[1] in ("free", "strip")]
    for ax, start, end in rows_of(figure, whole.length):
        for one, words in zip(found.strips or found.rectangles, shown, strict=True):
            if one.zone.start < end and one.zone.end > start:
                zone = one.zone._replace(start=max(start, one.zone.start), end=min(end, one.zone.end))
                _draw(ax, zone, words)
    return figure


def _answer(found: Left) -> str:
    """What is set large: that another job's pieces fit, if they do."""
    beside = found.beside
    return f"{beside.job.name} fits as well" if beside and beside.spread else "What is left"


def _draw(ax: Axes, zone: Zone, words: tuple[str, str]) -> None:
    """Shade a rectangle, and write its name and its size in it, or as much as it has room for."""
    sheet = sheet_of(ax)
    with underneath(ax):
        sheet.area(zone.outline, PALE)
    sheet.line(zone.outline, 0.8, style=DASHED, closed=True)
    room = shapely.Polygon(zone.outline)
    for block in (words, (" ".join(words),), (words[0],)):
        for size in SIZES:
            spot = find_spot(room, *block_size(block, size, sheet.pt))
            if spot is not None:
                write_block(sheet, spot, block, size)
                return
    middle = room.centroid
    sheet.text(middle.x, middle.y, words[0], SIZES[-1], bold=True, side="center", upright="center")
