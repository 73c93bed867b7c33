"""The command `report`: a whole answer as a page to read or print, as a workbook, and as tables."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from reports.asking.options import AsJson, Force, ManySearch, Sizes, Tube, WidthList
from reports.buy.question import Buy
from reports.chart.question import ChartOptions, YardageChart
from reports.commands.kit.asking import laid
from reports.commands.kit.laying import TerminalLaying
from reports.commands.kit.terminal import emit, leave, show_files
from reports.run.question import Run

if TYPE_CHECKING:
    from reports.sheets.report import Report

BUY, CHART, RUN = Buy(), YardageChart(), Run()

Made = tuple["Report", dict[str, Any], int]
"""A report, the same answer for machines, and the signal that cut the search short, or 0."""


def report(
    file: Annotated[Path, typer.Argument(metavar="JOB|ORDER", help="A job file, or the order file of a run.")],
    search: ManySearch,
    out: Annotated[
        Path | None,
        typer.Option(
            metavar="FILE|DIR",
            help="FILE.html, FILE.xlsx, or a folder for both and for every table as CSV; by default FILE-report.html.",
        ),
    ] = None,
    with_chart: Annotated[
        bool, typer.Option("--chart", help="For a job: add yardage by size and width, which takes longer.")
    ] = False,
    widths: WidthList = None,
    sizes: Sizes = None,
    tube: Tube = None,
    as_json: AsJson = False,
    force: Force = False,
) -> None:
    """Write what to buy, markers, chart, cost and cut tickets as one page (HTML), as a workbook (XLSX), and as CSV."""
    from reports.ask.job import read_text
    from reports.errors import JobError
    from reports.sheets.files import check_report, write_report

    path = out or Path(f"{file.stem}-report.html")
    check_report(path, force=force)
    text = read_text(file, "job or order")
    asks_chart = with_chart or bool(widths or sizes)
    if _is_order(text, file.name):
        if asks_chart:
            raise JobError(f"{file.name} is an order: a chart needs a job, with [body] and without [quantity]")
        made = _of_order(text, file, search, quiet=as_json)
    else:
        made = _of_job(
            text, file, search, ChartOptions(widths, sizes, tube=tube) if asks_chart else None, quiet=as_json
        )
    told, plain, signalled = made
    written = write_report(told, path)
    if as_json:
        emit(json.dumps(plain | {"files": [str(one) for one in written]}))
    else:
        show_files(written)
    leave(signalled)


def _is_order(text: str, name: str) -> bool:
    """Whether a file holds what only an order has, and no body."""
    from reports.ask.job import Job
    from reports.ask.order.order import Order
    from reports.ask.written import loads

    keys = set(loads(text, name))
    return "body" not in keys and bool(keys & (set(Order.model_fields) - set(Job.model_fields)))


def _of_order(text: str, file: Path, search: ManySearch, *, quiet: bool) -> Made:
    from pieces.units import speak
    from reports.ask.order.order import parse_order
    from reports.run.report import run_report

    order = parse_order(text, file.name, file.parent)
    speak(order.written_in)
    with TerminalLaying(search.effort(RUN.usual), **search.where, quiet=quiet) as laying:
        run = laid(RUN, order, laying)
    return run_report(run), RUN.plain(run), 0


def _of_job(text: str, file: Path, search: ManySearch, asked: ChartOptions | None, *, quiet: bool) -> Made:
    from pieces.units import speak
    from reports.ask.job import parse_job
    from reports.buy.report import plan_report

    job = parse_job(text, file.name, file.parent)
    speak(job.written_in)
    posed = CHART.read(job, asked) if asked else None
    buying = TerminalLaying(replace(search.effort(BUY.usual), workers=search.workers or 1), quiet=quiet)
    plan = BUY.lay(job, buying)
    plain = BUY.plain(plan)
    if posed is None or buying.signal:
        return plan_report(plan), plain, buying.signal
    with TerminalLaying(search.effort(CHART.usual), **search.where, quiet=quiet) as laying:
        chart = CHART.lay(posed, laying)
    return plan_report(plan, chart), plain | {"chart": CHART.plain(chart)}, laying.signal
