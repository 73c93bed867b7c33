"""The chart as on a pattern envelope: widths down, sizes across, without and with a nap; measurements below."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.units import format_size
from reports.chart.chart import NAP_WORDS, chart_rows
from reports.chart.words import chart_lines, measure_rows, size_heading, size_names
from reports.draw.head import Head
from reports.draw.kit.sheet import GREY, LEADING, MARGIN, PAGE_HEIGHT, PAGE_WIDTH, new_page, shorten, text_width, wrap

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.figure import Figure

    from reports.chart.chart import Chart
    from reports.draw.kit.sheet import Sheet

LARGEST, SMALLEST = 11.0, 4.0
"""Lettering of the tables, points: as large as the page is wide enough for."""

GUTTER = 10.0
WIDEST = 90.0
"""A column is no wider, points, however few sizes there are."""

FOOT = 7.0
TINT = "0.92"

ChartRow = tuple[str, list[str]]
"""A line of a table: what stands left, and a cell for each size; without cells, a heading."""


def chart_page(chart: Chart) -> Figure:
    """Draw the chart."""
    units, width = chart.job.written_in, PAGE_WIDTH - 2 * MARGIN
    head = Head(
        f"{chart.job.title}: yardage by size and width",
        f"{chart.cloth.name}. Full width of the cloth on the left, sizes across.",
        (),
        width,
    )
    names: ChartRow = (size_heading(chart), size_names(chart))
    yardage: list[ChartRow] = []
    for nap, mm, texts in chart_rows(chart):
        if not any(label == NAP_WORDS[nap] for label, _ in yardage):
            yardage.append((NAP_WORDS[nap], []))
        yardage.append((format_size(mm, units), texts))
    measures: list[ChartRow] = [("measurements", []), *((label, cells) for label, *cells in measure_rows(chart))]
    size = _size([names, *yardage, *measures], width)
    row = size * LEADING + 4
    foot = [line for words in chart_lines(chart) for line in wrap(words, FOOT, width)]
    lines = 1 + len(yardage) + len(measures)
    height = 2 * MARGIN + head.height + lines * row + 24 + len(foot) * FOOT * LEADING
    figure, page = new_page(max(PAGE_HEIGHT, height))
    top = page.ax.get_ylim()[1] - MARGIN
    head.draw(page, top)
    label = _label_width([names, *yardage, *measures], size)
    top = _draw_rows(page, [names, *yardage], top - head.height, size, label, bold=True)
    _draw_rows(page, measures, top - 10, size, label, bold=False)
    for i, line in enumerate(reversed(foot)):
        page.text(MARGIN, MARGIN + i * FOOT * LEADING, line, FOOT)
    return figure


def _label_width(rows: Sequence[ChartRow], size: float) -> float:
    return max(text_width(label, size, True) for label, _ in rows) + GUTTER


def _size(rows: Sequence[ChartRow], width: float) -> float:
    """The largest lettering at which all columns, equally wide, go side by side."""
    number = max(len(cells) for _, cells in rows)
    widest = max(text_width(cell, LARGEST, True) for _, cells in rows for cell in cells) + GUTTER
    needed = _label_width(rows, LARGEST) + number * widest
    return max(SMALLEST, min(LARGEST, LARGEST * width / needed))


def _draw_rows(page: Sheet, rows: Sequence[ChartRow], top: float, size: float, label: float, *, bold: bool) -> float:
    """Draw lines of a table from `top` down; where they end."""
    row = size * LEADING + 4
    number = max(len(cells) for _, cells in rows)
    column = min((PAGE_WIDTH - 2 * MARGIN - label) / number, WIDEST)
    across = label + number * column
    for i, (words, cells) in enumerate(rows):
        base = top - row * (i + 1)
        if not cells:
            corners = [(MARGIN, base), (MARGIN + across, base), (MARGIN + across, base + row), (MARGIN, base + row)]
            page.area(corners, TINT)
        page.text(MARGIN + 3, base + row * 0.3, words, size, bold=not cells or (i == 0 and bold))
        for j, cell in enumerate(cells):
            right = MARGIN + label + (j + 1) * column - 3
            fitted = shorten(cell, size, column - 4, bold)
            page.text(right, base + row * 0.3, fitted, size, bold=bold, side="right")
        page.line([(MARGIN, base), (MARGIN + across, base)], 0.3, colour=GREY)
    return top - row * len(rows)
