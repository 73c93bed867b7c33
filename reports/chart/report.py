"""The chart as a page of a report."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.chart.chart import NAP_WORDS
from reports.chart.words import chart_lines, size_heading, size_names
from reports.sheets.cells import cloth, cloth_column, rows_of, size, size_column
from reports.sheets.report import Lines, Page
from reports.sheets.table import Column, Table

if TYPE_CHECKING:
    from reports.chart.chart import Chart
    from reports.chart.chart import ChartSize as Sizes
    from reports.sheets.table import Cell


def chart_page(chart: Chart) -> Page:
    """Yardage by size, width and nap; what the sizes measure; what to know of it."""
    units, names = chart.job.written_in, size_names(chart)
    lines: list[list[Cell]] = [
        [NAP_WORDS[nap], size(width, units), *(_taken(chart, column, nap, i) for column in chart.columns)]
        for nap in chart.naps
        for i, width in enumerate(chart.widths)
    ]
    heads = (Column("nap"), size_column("width of cloth", units), *(cloth_column(name, units) for name in names))
    yardage = Table("chart", f"Yardage: {chart.cloth.name}", heads, rows_of(lines))
    bodies = [column.size.job.measured().measurements() for column in chart.columns]
    measured: list[list[Cell]] = [
        [name.replace("_", " "), *(size(body[name], units) if name in body else "" for body in bodies)]
        for name in dict.fromkeys(name for body in bodies for name in body)
    ]
    heads = (Column(size_heading(chart)), *(size_column(name, units) for name in names))
    return Page("Chart", (yardage, Table("sizes", "What the sizes measure", heads, rows_of(measured)), _words(chart)))


def _words(chart: Chart) -> Lines:
    return Lines(tuple(chart_lines(chart)))


def _taken(chart: Chart, column: Sizes, nap: bool, number: int) -> Cell:
    cell = chart.cell(column, nap, number)
    return cell if isinstance(cell, str) else cloth(cell.purchase.buy, chart.job.written_in, cell.purchase.text)
