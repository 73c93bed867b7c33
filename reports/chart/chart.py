"""The chart: how much cloth each size takes on each width, with and without a nap, as on a pattern envelope."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from pieces.errors import PieceError
from pieces.units import YARD, Units, format_size
from reports.ask.choices import NapAsked
from reports.ask.draft import draft_job
from reports.batch.series import Series, WidthMarker, laid_as, lay_all, none_will_do
from reports.errors import JobError
from reports.money.yardage import Increment
from reports.plan.problems import whole_from

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reports.ask.choices import NapAsked, SpreadAsked
    from reports.ask.job import Job
    from reports.ask.offer import FabricOffer
    from reports.ask.sizes import Size
    from reports.batch.series import Lay
    from reports.plan.effort import Effort

NAP_WORDS = {False: "without nap", True: "with nap"}

STEPS = {Units.INCHES: Increment(YARD / 8, "1/8 yd"), Units.METRIC: Increment(100.0, "0.1 m")}
"""What a chart rounds up to: common practice, no source."""

CHART_SCHEMA = 2
"""Of a chart; 1 showed what fits on narrower cloth in cells that were not searched."""

NOT_SEARCHED, REFUSED = "not searched", "–"


@dataclass(frozen=True)
class ChartSize:
    """One size of a chart: its markers without and with a nap, or why it cannot be drafted."""

    size: Size
    series: dict[bool, Series]
    reason: str = ""


@dataclass(frozen=True)
class Chart:
    """A chart: widths down, sizes across, once for each nap."""

    job: Job
    cloth: FabricOffer
    widths: tuple[float, ...]
    naps: tuple[bool, ...]
    columns: tuple[ChartSize, ...]
    effort: Effort

    def lay(self, lay: Lay) -> None:
        """Lay everything."""
        lay_all([series for column in self.columns for series in column.series.values()], self.effort, lay)

    @property
    def cut_short(self) -> bool:
        """Whether an interrupt came before some of it was searched."""
        return any(series.not_searched for column in self.columns for series in column.series.values())

    def cell(self, column: ChartSize, nap: bool, number: int) -> WidthMarker | str:
        """What one size takes on one width; or in a word why there is no answer."""
        if nap not in column.series:
            return REFUSED
        found = column.series[nap].cell(number)
        return found or (REFUSED if column.series[nap].refusal(number) else NOT_SEARCHED)

    def reason(self, column: ChartSize, nap: bool, number: int) -> str:
        """Why there is no answer, in full."""
        refusal = column.series[nap].refusal(number) if nap in column.series else column.reason
        return str(refusal) if refusal else "not searched: interrupted"


def plan_chart(
    job: Job,
    cloth: FabricOffer,
    sizes: Sequence[Size],
    widths: Sequence[float],
    *,
    nap: NapAsked,
    spread: SpreadAsked | None,
    effort: Effort,
) -> Chart:
    """Everything a chart needs laid.

    Raises
    ------
    JobError, PieceError, NestingError
        If there is no size, none can be drafted, or no width is wide enough for any: the first reason.
    """
    if not sizes:
        raise JobError("a chart needs at least one size")
    effort = replace(effort, sold=cloth)  # as it is sold, not by the steps of the chart: so `buy` finds the same
    naps = {"both": (False, True), "with": (True,), "without": (False,)}[nap]
    cloth = laid_as(cloth.model_copy(update={"sold_by": STEPS[job.written_in]}), spread)
    columns, errors = [], []
    for size in sizes:
        try:
            pieces = whole_from(cloth, size.job, draft_job(size.job))
        except PieceError as error:
            errors.append(error)
            columns.append(ChartSize(size, {}, str(error)))
            continue
        napped = {n: cloth.model_copy(update={"nap": n}) for n in naps}
        series = {n: Series(pieces, napped[n], widths, job.garments) for n in naps}
        columns.append(ChartSize(size, series))
    if len(errors) == len(columns):
        raise errors[0]
    chart = Chart(job, cloth, tuple(widths), naps, tuple(columns), effort)
    many = [series for column in columns for series in column.series.values()]
    if not any(series.settled for series in many):
        raise none_will_do(many[0])
    return chart


def chart_rows(chart: Chart) -> list[tuple[bool, float, list[str]]]:
    """The chart line by line: nap, width, and what to buy for each size."""
    return [
        (nap, width, [_text(chart.cell(column, nap, number)) for column in chart.columns])
        for nap in chart.naps
        for number, width in enumerate(chart.widths)
    ]


def _text(cell: WidthMarker | str) -> str:
    return cell if isinstance(cell, str) else cell.purchase.text


def chart_csv(chart: Chart) -> str:
    """The chart as a table with commas between: a line for each width, a column for each size."""
    from reports.sheets.csv import safe

    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(["nap", "width", *(safe(column.size.name) for column in chart.columns)])
    for nap, width, texts in chart_rows(chart):
        cells = ["" if text == REFUSED else text for text in texts]
        writer.writerow([NAP_WORDS[nap], format_size(width, chart.job.written_in), *cells])
    return stream.getvalue()


def chart_to_plain(chart: Chart) -> dict[str, Any]:
    """The chart for machines, every length in mm."""
    return {
        "schema": CHART_SCHEMA,
        "job": chart.job.name,
        "units": chart.job.units,
        "fabric": chart.cloth.name,
        **chart.effort.to_plain(),
        "cut_short": chart.cut_short,
        "sizes": [
            {"name": c.size.name, "own": c.size.is_own, "body_mm": c.size.job.measured().measurements()}
            for c in chart.columns
        ],
        "widths_mm": list(chart.widths),
        "cells": [
            {"size": column.size.name, "nap": nap, "width_mm": width} | _plain_cell(chart, column, nap, number)
            for column in chart.columns
            for nap in chart.naps
            for number, width in enumerate(chart.widths)
        ],
    }


def _plain_cell(chart: Chart, column: ChartSize, nap: bool, number: int) -> dict[str, Any]:
    cell = chart.cell(column, nap, number)
    if isinstance(cell, str):
        return {"checked": False, "searched": cell != NOT_SEARCHED, "refused": chart.reason(column, nap, number)}
    return cell_to_plain(cell)


def cell_to_plain(cell: WidthMarker) -> dict[str, Any]:
    """One answer for machines."""
    return {
        "spread": cell.spread,
        "marker_mm": cell.marker.length,
        "cloth_mm": cell.length,
        "bound_mm": cell.bound,
        "density_percent": 100 * cell.marker.density,
        "buy_mm": cell.purchase.buy,
        "buy": cell.purchase.text,
        "cost": None if cell.cost is None else float(cell.cost),
        "checked": True,
    }
