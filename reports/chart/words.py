"""The chart for people: tables of sizes and yardage, and what to know of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.table import Table
from rich.text import Text

from pieces.units import format_size
from reports.ask.offer import unsaid
from reports.ask.sizes import called_by, grade_words
from reports.batch.series import WidthMarker
from reports.chart.chart import NAP_WORDS, REFUSED, STEPS, chart_rows
from reports.plan.words import SPREAD_WORDS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from reports.chart.chart import Chart

OWN = "*"
"""Marks the job's own size."""


def size_names(chart: Chart) -> list[str]:
    """What each size is called, the job's own marked."""
    return [column.size.name + (f" {OWN}" if column.size.is_own else "") for column in chart.columns]


def size_heading(chart: Chart) -> str:
    """What stands before the sizes' names: graded sizes are called by a measurement."""
    own = [column.size.job for column in chart.columns if column.size.is_own]
    return f"size ({called_by(own[0]).replace('_', ' ')})" if own else "size"


def measure_rows(chart: Chart) -> list[list[str]]:
    """Each measurement, then what it is in each size."""
    bodies = [column.size.job.measured().measurements() for column in chart.columns]
    names = list(dict.fromkeys(name for body in bodies for name in body))
    units = chart.job.written_in
    return [
        [name.replace("_", " "), *(format_size(body[name], units) if name in body else "" for body in bodies)]
        for name in names
    ]


def size_table(chart: Chart) -> Table:
    """What each size measures."""
    table = _table("Sizes", chart)
    for row in measure_rows(chart):
        table.add_row(*row)
    return table


def yardage_table(chart: Chart) -> Table:
    """How much each size takes on each width."""
    table = _table("Yardage", chart)
    before = None
    for nap, width, texts in chart_rows(chart):
        if nap != before:
            table.add_row(f"[dim]{NAP_WORDS[nap]}[/dim]", *([""] * len(texts)))
            before = nap
        table.add_row(format_size(width, chart.job.written_in), *(f"[bold]{text}[/bold]" for text in texts))
    return table


def chart_lines(chart: Chart) -> Iterator[str]:
    """What to know of a chart."""
    cells = [
        (column, nap, number, chart.cell(column, nap, number))
        for column in chart.columns
        for nap in chart.naps
        for number in range(len(chart.widths))
    ]
    yield from unsaid([chart.cloth], chart.job.written_in)
    laid = sorted({cell.spread for *_, cell in cells if isinstance(cell, WidthMarker)})
    if laid:
        ways = " or ".join(SPREAD_WORDS[spread] for spread in laid)
        yield (
            f"Laid {ways}; every figure is a marker laid for real and checked, with the ends and everything else"
            f" '{chart.cloth.name}' asks for, rounded up to {STEPS[chart.job.written_in].text}."
            + (f" Figures are for {chart.job.garments} garments." if chart.job.garments > 1 else "")
        )
    if any(column.size.is_own for column in chart.columns):
        yield f"{OWN} the job's own measurements. {grade_words(chart.job)}"
    yield "No cloth is added for matching stripes or checks unless the job's first fabric has a repeat."
    yield from _refusal_lines(chart)
    if chart.cut_short:
        yield "Cut short: not every cell was searched. Run the command again to continue from here."


def _refusal_lines(chart: Chart) -> Iterator[str]:
    """For each width on which some sizes cannot be laid: which, and why the first of them cannot."""
    for nap in chart.naps:
        for number, width in enumerate(chart.widths):
            refused = [column for column in chart.columns if chart.cell(column, nap, number) == REFUSED]
            if refused and (nap == chart.naps[0] or chart.cell(refused[0], chart.naps[0], number) != REFUSED):
                names = ", ".join(column.size.name for column in refused)
                reason = chart.reason(refused[0], nap, number)
                yield f"{REFUSED} {format_size(width, chart.job.written_in)}, size {names}: {reason}"


def _table(title: str, chart: Chart) -> Table:
    table = Table(title=title, title_justify="left", title_style="bold", box=None, pad_edge=False, padding=(0, 2, 0, 0))
    table.add_column(size_heading(chart), justify="left", header_style="dim")
    for name in size_names(chart):
        table.add_column(Text(name), justify="right", header_style="dim")
    return table
