"""The marker as a cutter works from it: the cloth to scale, every piece in place, and where it lies."""

from __future__ import annotations

from math import ceil
from typing import TYPE_CHECKING

import shapely
from matplotlib.figure import Figure

from reports.draw.cloth import BOTTOM, LEFT, RIGHT, TOP, Span, draw_cloth, fit_sheet
from reports.draw.label import Label, block_size, find_spot, write_block
from reports.draw.marks import Marks, Pose, shade
from reports.draw.rows import marker_rows, table_cells
from reports.draw.sheet import LEADING, MARGIN, PAGE_HEIGHT, PAGE_WIDTH, Sheet, new_page, text_width, wrap
from reports.draw.table import Table

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes

    from nesting.marker import Marker
    from pieces.units import Units
    from reports.draw.rows import Row

LONGEST_ROW = 4000.0
"""Cloth longer than this, mm, is drawn in rows."""

LEAST_SHARE = 0.65
"""A page grows taller rather than draw at less than this share of the scale its width allows."""

NOTES = (
    "Full line: cut.  Dashed: sew.  Line with two heads: grain.  Diamond: notch.  Dash-dotted: centre of a piece opened"
    " out.  Hatched, face down: pattern piece with its printed side down.  Turned: top of the piece towards the end of"
    " the cloth.  Distances run from the start and from the edge named to the nearest point of the piece; selvedges"
    " (grey) are not counted.",
    "Cut away from your hand. Close a rotary cutter before you put it down; keep blades sharp. Lift a heavy roll with"
    " two people. Use powered knives by their maker's instructions and your local rules.",
)


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


def marker_page(
    marker: Marker, *, title: str, subtitle: str, units: Units, lines: Sequence[str] = ()
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

    Returns
    -------
    Figure
        As wide as A4 on its side; taller where the cloth is long or the pieces are many.
    """
    width = PAGE_WIDTH - 2 * MARGIN
    head = _Head(title, subtitle, lines, width)
    table = Table(table_cells(marker, units), width)
    notes = [line for note in NOTES for line in wrap(note, 6, width)]
    below = table.height + len(notes) * 6 * LEADING + 10
    rows = ceil(marker.length / LONGEST_ROW)
    spans = [Span(marker.length * i / rows, marker.length * (i + 1) / rows, marker.length) for i in range(rows)]
    margins = TOP + BOTTOM
    widest = (width - LEFT - RIGHT) / (marker.length / rows)
    room = (PAGE_HEIGHT - 2 * MARGIN - head.height - below) / rows - margins
    scale = min(widest, max(room / marker.problem.width, LEAST_SHARE * widest))
    deep = scale * marker.problem.width + margins
    height = max(PAGE_HEIGHT, 2 * MARGIN + head.height + rows * deep + below)
    figure, page = new_page(height)
    top = height - MARGIN
    head.draw(page, top)
    top -= head.height
    for span in spans:
        ax = figure.add_axes((MARGIN / PAGE_WIDTH, (top - deep) / height, width / PAGE_WIDTH, deep / height))
        _draw(ax, marker, span, units)
        top -= deep
    table.draw(page, MARGIN, top)
    for i, line in enumerate(reversed(notes)):
        page.text(MARGIN, MARGIN + i * 6 * LEADING, line, 6)
    return figure


class _Head:
    """Title, subtitle and answer at the top of the page."""

    def __init__(self, title: str, subtitle: str, lines: Sequence[str], width: float) -> None:
        first, *rest = lines or ("",)
        self.lines = [(line, 15.0, True) for line in wrap(title, 15, width, True)]
        free = width - text_width(title, 15, True) - 24
        self.beside = first if text_width(first, 15, True) <= free else ""
        if not self.beside:
            self.lines += [(line, 15.0, True) for line in wrap(first, 15, width, True)]
        for words in (subtitle, *rest):
            self.lines += [(line, 8.5, False) for line in wrap(words, 8.5, width)]
        self.height = sum(size * LEADING for _, size, _ in self.lines) + 6

    def draw(self, page: Sheet, top: float) -> None:
        if self.beside:
            page.text(PAGE_WIDTH - MARGIN, top - 15, self.beside, 15, bold=True, side="right")
        for words, size, bold in self.lines:
            page.text(MARGIN, top - size, words, size, bold=bold)
            top -= size * LEADING


def _draw(ax: Axes, marker: Marker, span: Span, units: Units) -> None:
    sheet = fit_sheet(ax, marker.problem, span)
    draw_cloth(sheet, marker.problem, span, units)
    low = min(band.low for band in marker.problem.bands)
    window = shapely.box(span.start, low, span.end, low + marker.problem.width)
    rows = marker_rows(marker)
    shapes = [shapely.Polygon(row.outline) for row in rows]
    crowded = [
        row
        for row, shape in zip(rows, shapes, strict=True)
        if shape.intersects(window) and not _draw_piece(sheet, row, shape, window, units)
    ]
    if crowded:
        _draw_leaders(sheet, crowded, shapely.difference(window, shapely.union_all(shapes)))


def _draw_piece(sheet: Sheet, row: Row, shape: shapely.Polygon, window: shapely.Geometry, units: Units) -> bool:
    """Draw one piece and write on it; whether there was room for its number."""
    if row.variant.mirrored:
        shade(sheet, row.outline)
    rooms: list[shapely.Geometry] = []
    piece = row.item.piece
    if piece is not None:
        pose = Pose.placed(piece, row.variant, row.placement)
        marks = Marks.of(piece, pose, opened=piece.on_fold and not row.variant.on_fold)
        marks.draw(sheet)
        rooms = [marks.room(row.outline, sheet.pt, over_grain=over) for over in (False, True)]
    sheet.line(row.outline, 0.9, closed=True)
    remarks = [row.gives] if piece is not None else []
    remarks += [row.turn] if row.turn else []
    label = Label(str(row.number), row.name, (*remarks, row.size(units)))
    seen = shapely.intersection(shape, window)
    return label.write(sheet, [shapely.intersection(room, seen) for room in (*rooms, shape)]) or seen.area < shape.area / 2


def _draw_leaders(sheet: Sheet, rows: Sequence[Row], free: shapely.Geometry) -> None:
    """Numbers of pieces too small to bear one, beside them, with a line to each."""
    for row in rows:
        x, y = (row.outline.min(axis=0) + row.outline.max(axis=0)) / 2
        width, height = block_size((str(row.number),), 6, sheet.pt)
        near = shapely.Point(x, y).buffer(12 * max(width, height))
        spot = find_spot(shapely.intersection(free, near), width, height)
        if spot is None:
            continue
        sheet.line([(x, y), spot], 0.4)
        write_block(sheet, spot, (str(row.number),), 6)
        taken = shapely.box(spot[0] - width / 2, spot[1] - height / 2, spot[0] + width / 2, spot[1] + height / 2)
        free = shapely.difference(free, taken)
