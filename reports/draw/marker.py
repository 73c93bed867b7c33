"""The marker as a cutter works from it: the cloth to scale, every piece in place, and where it lies."""

from __future__ import annotations

from math import ceil
from typing import TYPE_CHECKING, NamedTuple

import shapely
from matplotlib.figure import Figure

from reports.cautions import cautions
from reports.draw.cloth import BOTTOM, LEFT, RIGHT, TOP, Span, draw_cloth, fit_sheet
from reports.draw.fault import draw_faults
from reports.draw.head import Head
from reports.draw.kit.label import Label, block_size, find_spot, write_block
from reports.draw.kit.marks import Marks, shade
from reports.draw.kit.sheet import (
    DASHED,
    GREY,
    LEADING,
    MARGIN,
    PAGE_HEIGHT,
    PAGE_WIDTH,
    Sheet,
    new_page,
    text_width,
    wrap,
)
from reports.draw.kit.table import ROW as TABLE_ROW
from reports.draw.kit.table import DrawnTable
from reports.draw.repeat import BORDER_NOTE, MATCH_NOTE, RING, draw_matches, draw_repeat, match_points
from reports.rows import marker_rows, table_cells

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from matplotlib.axes import Axes
    from shapely.geometry.base import BaseGeometry

    from nesting.marker.marker import Marker
    from pieces.units import Units
    from reports.draw.endview import EndView
    from reports.rows import LaidRow

LONGEST_ROW = 4000.0
"""Cloth longer than this, mm, is drawn in rows."""

LEAST_SHARE, LEAST_DEPTH = 0.65, 270.0
"""A page grows taller rather than draw at less than this share of the scale its width allows, if that also makes
the cloth less than so many points deep."""

LEAST_WIDTH = 300.0
"""Points that the words along the edges of very short cloth may need."""

TICK, NOTE = 9.0, 6.0
"""Sizes of what is to be ticked with a pen, and of the notes below it, points."""

SHADES = ("white", "0.9", "0.8", "0.95", "0.7", "0.85", "0.75", "0.65")
"""Of pieces, a size each: told apart in black and white, and words on them can be read."""

KEY = 20.0
"""Height of the line that tells the shades, points."""

BESIDE = 10.0
"""Points between the cloth and a table that stands beside it."""

LEGEND = (
    "Full line: cut.  Dashed: sew.  Line with two heads: grain.  Diamond: notch.  Dash-dotted: centre of a piece opened"
    " out.  Hatched, face down: pattern piece with its printed side down.  Turned: top of the piece towards the end of"
    " the cloth.  Distances run from the start and from the edge named to the nearest point of the piece, the"
    " selvedge (grey, its width not to scale) included."
)
NOTES = (LEGEND, *cautions())
"""How to read the drawing, and the cautions for whatever it is cut with."""


def plot_marker(marker: Marker, *, units: Units, ax: Axes | None = None) -> Axes:
    """Draw a marker to scale: cloth, edges, pieces with their marks, rulers, length and width.

    Parameters
    ----------
    units
        In which dimensions are written.
    ax
        Where to draw; by default a figure of its own.

    Returns
    -------
    Axes
        The axes drawn on, in mm: x from the start of the cloth, y across it.
    """
    span = Span(0.0, marker.length, marker.length)
    if ax is None:
        scale = (PAGE_WIDTH - LEFT - RIGHT) / marker.length
        height = marker.problem.width * scale + TOP + BOTTOM
        ax = Figure(figsize=(PAGE_WIDTH / 72, height / 72)).add_axes((0, 0, 1, 1))
    _draw(ax, marker, span, units)
    return ax


def marker_picture(marker: Marker, *, units: Units) -> Figure:
    """Draw a marker as `plot_marker` does, long cloth in rows under one another; nothing stands round it."""
    rows = ceil(marker.length / LONGEST_ROW)
    along = marker.length / rows
    deep = (PAGE_WIDTH - LEFT - RIGHT) / along * marker.problem.width + TOP + BOTTOM
    figure = Figure(figsize=(PAGE_WIDTH / 72, rows * deep / 72))
    for i in range(rows):
        ax = figure.add_axes((0, 1 - (i + 1) / rows, 1, 1 / rows))
        _draw(ax, marker, Span(along * i, along * (i + 1), marker.length), units)
    return figure


def marker_page(
    marker: Marker,
    *,
    title: str,
    subtitle: str,
    units: Units,
    lines: Sequence[str] = (),
    rows: Sequence[LaidRow] | None = None,
    cells: Sequence[tuple[str, ...]] | None = None,
    view: EndView | None = None,
    notes: Sequence[str] = NOTES,
    checks: Sequence[str] = (),
    nap: bool = False,
    size_of: Mapping[str, str] | None = None,
) -> Figure:
    """One page to cut from: what to buy, the marker to scale, and a table of distances.

    Parameters
    ----------
    title, subtitle
        What is cut, and of which cloth.
    units
        In which all dimensions are written.
    lines
        The answer in words; the first is set large.
    rows, cells
        Which placements to draw, under their own numbers, and what to say of them in the table; all other pieces are
        only hinted at. By default all, numbered from the start of the cloth.
    view
        The laid cloth seen from its end, drawn beside the words.
    notes
        Lines at the foot: how to read the drawing, and cautions.
    checks
        What to tick, set larger above them.
    nap
        Whether the cloth has a nap that all tops follow.
    size_of
        The size of each piece, by its name: where there are several, each has its own shade.

    Returns
    -------
    Figure
        As wide as A4 on its side; taller where the cloth is long or the pieces are many.
    """
    width = PAGE_WIDTH - 2 * MARGIN
    head = Head(title, subtitle, lines, width, view)
    told = table_cells(marker, units) if cells is None else cells
    table, upright = DrawnTable(told, width), DrawnTable(told, 0.0)
    foot, shades = _Foot.of(marker, notes, checks, width), shades_of(size_of or {})
    strips = ceil(marker.length / LONGEST_ROW)
    spans = [Span(marker.length * i / strips, marker.length * (i + 1) / strips, marker.length) for i in range(strips)]
    around = 2 * MARGIN + head.height + foot.height + (KEY if shades else 0.0)
    free = PAGE_HEIGHT - around
    fit = _fit(marker, strips, width, free, table, upright)
    drawn = strips * fit.deep + (0 if fit.is_beside else table.height)
    height = around + max(free, drawn)
    figure, page = new_page(height)
    top = height - MARGIN
    head.draw(page, top)
    top -= head.height
    top -= _draw_key(page, size_of or {}, shades, top)
    if fit.is_beside:
        upright.draw(page, MARGIN + fit.wide + BESIDE, top - TOP + TABLE_ROW)
    for span in spans:
        _draw(figure.add_axes(_share(fit, top, height)), marker, span, units, rows, nap=nap, shades=shades)
        top -= fit.deep
    if not fit.is_beside:
        table.draw(page, MARGIN, top)
    foot.draw(page)
    return figure


class _Foot(NamedTuple):
    """What stands at the foot of a page: notes, and above them what to tick."""

    notes: list[str]
    ticks: list[str]

    @classmethod
    def of(cls, marker: Marker, notes: Sequence[str], checks: Sequence[str], width: float) -> _Foot:
        """The foot of a marker's page, with how to match its pattern and its border."""
        notes = (MATCH_NOTE, *notes) if marker.problem.repeat else notes
        notes = (BORDER_NOTE, *notes) if marker.problem.border else notes
        ticks = wrap("      ".join(f"☐ {check}" for check in checks), TICK, width)
        return cls([line for note in notes for line in wrap(note, NOTE, width)], ticks)

    @property
    def height(self) -> float:
        """Points that it takes."""
        return (len(self.notes) * NOTE + len(self.ticks) * TICK) * LEADING + 10

    def draw(self, page: Sheet) -> None:
        """Draw it."""
        for i, line in enumerate(reversed(self.notes)):
            page.text(MARGIN, MARGIN + i * NOTE * LEADING, line, NOTE)
        for i, line in enumerate(reversed(self.ticks)):
            page.text(MARGIN, MARGIN + (len(self.notes) * NOTE + i * TICK) * LEADING + 4, line, TICK)


def shades_of(size_of: Mapping[str, str]) -> dict[str, str]:
    """The shade of each piece, by its name: one for each size, from white on; none where there is one size."""
    sizes = list(dict.fromkeys(size_of.values()))
    if len(sizes) < 2:
        return {}
    return {name: SHADES[sizes.index(size) % len(SHADES)] for name, size in size_of.items()}


def _draw_key(page: Sheet, size_of: Mapping[str, str], shade_of: Mapping[str, str], top: float) -> float:
    """Which shade is which size, where there are several; its height."""
    if not shade_of:
        return 0.0
    x, shades = MARGIN, {size: shade_of[name] for name, size in size_of.items()}
    page.text(x, top - 11, "sizes:", 8, bold=True)
    x += text_width("sizes:", 8, True) + 8
    for size, tint in shades.items():
        corners = [(x, top - 13), (x + 16, top - 13), (x + 16, top - 3), (x, top - 3)]
        page.area(corners, tint)
        page.line(corners, 0.6, closed=True)
        page.text(x + 20, top - 11, size, 8, bold=True)
        x += 34 + text_width(size, 8, True)
    return KEY


class _Fit(NamedTuple):
    """How large the cloth is drawn, points: each row's width and height, and whether the table stands beside it."""

    wide: float
    deep: float
    is_beside: bool


def _fit(marker: Marker, rows: int, width: float, free: float, table: DrawnTable, upright: DrawnTable) -> _Fit:
    """The largest scale at which a page in the usual proportion holds all; else the page's full width.

    The table stands below the cloth, or `upright` beside it, whichever leaves the cloth more room.
    """
    across, along, margins = marker.problem.width, marker.length / rows, TOP + BOTTOM
    widest = (width - LEFT - RIGHT) / along
    below = min(widest, ((free - table.height) / rows - margins) / across)
    beside = 0.0
    if rows == 1 and upright.column < width and upright.height < free - TOP:
        beside = min((width - table.column - BESIDE - LEFT - RIGHT) / along, (free - margins) / across)
    scale = max(below, beside)
    least = min(LEAST_WIDTH, width - table.column - BESIDE) if beside > below else LEAST_WIDTH
    wide = max(least, scale * along + LEFT + RIGHT)
    if scale < min(LEAST_SHARE * widest, LEAST_DEPTH / across):
        return _Fit(width, widest * across + margins, False)
    return _Fit(wide, scale * across + margins, beside > below)


def _share(fit: _Fit, top: float, height: float) -> tuple[float, float, float, float]:
    """Where on the page a row of cloth lies, as shares of its width and height."""
    return MARGIN / PAGE_WIDTH, (top - fit.deep) / height, fit.wide / PAGE_WIDTH, fit.deep / height


def _draw(
    ax: Axes,
    marker: Marker,
    span: Span,
    units: Units,
    drawn: Sequence[LaidRow] | None = None,
    *,
    nap: bool = False,
    shades: Mapping[str, str] | None = None,
) -> None:
    sheet = fit_sheet(ax, marker.problem, span)
    draw_cloth(sheet, marker.problem, span, units, nap=nap)
    draw_repeat(sheet, marker.problem, span)
    low = min(band.low for band in marker.problem.bands)
    window = shapely.box(span.start, low, span.end, low + marker.problem.width)
    draw_faults(sheet, marker.problem.faults, window)
    rows = marker_rows(marker) if drawn is None else drawn
    lying = {row.placement for row in rows}
    for placement, _, _, outline in marker.outlines():
        if placement not in lying:
            sheet.line(outline, 0.4, style=DASHED, colour=GREY, closed=True)
    shapes = [shapely.Polygon(row.outline) for row in rows]
    for row in rows if shades else ():
        sheet.area(row.outline, (shades or {})[row.name])
    crowded = [
        row
        for row, shape in zip(rows, shapes, strict=True)
        if shape.intersects(window) and not _draw_piece(sheet, row, shape, window, units)
    ]
    if marker.problem.repeat:
        draw_matches(sheet, rows)
    if crowded:
        taken = [*shapes, *(shapely.Polygon(fault) for fault in marker.problem.faults)]
        # On a grid: of pieces that lie edge to edge a union of floats may come out faulty.
        _draw_leaders(sheet, crowded, shapely.difference(window, shapely.union_all(taken, grid_size=0.001)))


def _draw_piece(sheet: Sheet, row: LaidRow, shape: shapely.Polygon, window: BaseGeometry, units: Units) -> bool:
    """Draw one piece and write on it; whether there was room for its number."""
    if row.variant.mirrored:
        shade(sheet, row.outline)
    rooms: list[BaseGeometry] = []
    piece = row.item.piece
    if piece is not None:
        marks = Marks.of(piece, row.transform, opened=piece.on_fold and not row.variant.on_fold)
        marks.draw(sheet)
        rooms = marks.rooms(row.outline, sheet.pt)
    sheet.line(row.outline, 0.9, closed=True)
    remarks = [row.gives] if piece is not None else []
    remarks += [words for words in (row.joined, row.turn) if words]
    label = Label(str(row.number), row.name, (*remarks, row.size(units)))
    seen = shapely.intersection(shape, window)
    ring = shapely.MultiPoint(list(match_points([row]))).buffer(1.5 * RING * sheet.pt)
    in_sight = [shapely.difference(shapely.intersection(room, seen), ring) for room in (*rooms, shape)]
    return label.write(sheet, in_sight) or seen.area < shape.area / 2


def _draw_leaders(sheet: Sheet, rows: Sequence[LaidRow], free: BaseGeometry) -> None:
    """Numbers of pieces too small to bear one, beside them, with a line to each."""
    for row in rows:
        shape, words = shapely.Polygon(row.outline), (str(row.number),)
        width, height = block_size(words, 6, sheet.pt)
        near = shapely.box(*shape.bounds).buffer(5 * max(width, height))
        spot = find_spot(shapely.intersection(free, near), width, height, shape)
        if spot is None:  # no bare cloth nearby: the number stands on the piece, larger than it is
            middle = shape.centroid
            sheet.text(middle.x, middle.y, *words, 5, bold=True, side="center", upright="center")
            continue
        within = shape.buffer(-min(row.variant.length, row.variant.height) / 4)
        leader = shapely.shortest_line(shapely.Point(spot), shape if within.is_empty else within)
        sheet.line(shapely.get_coordinates(leader), 0.4)
        write_block(sheet, spot, words, 6)
        taken = shapely.box(spot[0] - width / 2, spot[1] - height / 2, spot[0] + width / 2, spot[1] + height / 2)
        free = shapely.difference(free, taken)
