"""The command `report`: a whole answer as a page to read or print, as a workbook, and as tables."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from reports.commands.kit.answering import answer
from reports.commands.kit.laying import LayMany
from reports.commands.kit.options import (
    DEFAULT_ITERATIONS,
    AsJson,
    Force,
    ManySeconds,
    ManyWorkers,
    NoCache,
    Seed,
    Sizes,
    Tube,
    Widths,
)
from reports.commands.kit.terminal import emit, leave, show_files
from reports.commands.run import RUN_ITERATIONS, plan_order
from reports.plan.effort import SearchOptions

if TYPE_CHECKING:
    from reports.ask.choices import TubeAsked
    from reports.sheets.report import Report

Made = tuple["Report", dict[str, Any], int]
"""A report, the same answer for machines, and the signal that cut the search short, or 0."""


def report(
    file: Annotated[Path, typer.Argument(metavar="JOB|ORDER", help="A job file, or the order file of a run.")],
    out: Annotated[
        Path | None,
        typer.Option(
            metavar="FILE|DIR",
            help="FILE.html, FILE.xlsx, or a folder for both and for every table as CSV; by default FILE-report.html.",
        ),
    ] = None,
    with_chart: Annotated[
        bool, typer.Option("--chart", help="Of a job: yardage by size and width as well, which takes longer.")
    ] = False,
    widths: Widths = None,
    sizes: Sizes = None,
    tube: Tube = None,
    iterations: Annotated[
        int | None,
        typer.Option(min=0, help="Rounds of search for each marker: by default 60 of a job, else 300."),
    ] = None,
    seconds: ManySeconds = None,
    seed: Seed = 0,
    workers: ManyWorkers = None,
    no_cache: NoCache = False,
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
    search = SearchOptions(seconds, iterations, seed, workers or 1, quiet=as_json)
    is_order, asks_chart = _is_order(text, file.name), with_chart or bool(widths or sizes)
    if is_order and asks_chart:
        raise JobError(f"{file.name} is an order: a chart is made of a job, without [quantity] and with a [body]")
    if is_order:
        made = _of_order(text, file, search, workers, no_cache=no_cache)
    else:
        lay = LayMany(workers, no_cache=no_cache, quiet=as_json) if asks_chart else None
        made = _of_job(text, file, search, lay, widths, sizes, tube)
    told, plain, signalled = made
    written = write_report(told, path)
    if as_json:
        emit(json.dumps(plain | {"files": [str(one) for one in written]}))
    else:
        show_files(written)
    leave(signalled)


def _is_order(text: str, name: str) -> bool:
    """Whether a file holds what only an order has, and no body."""
    from reports.ask.job import Job, loads
    from reports.ask.order.order import Order

    keys = set(loads(text, name))
    return "body" not in keys and bool(keys & (set(Order.model_fields) - set(Job.model_fields)))


def _of_order(text: str, file: Path, search: SearchOptions, workers: int | None, *, no_cache: bool) -> Made:
    from pieces.units import speak
    from reports.ask.order.order import parse_order
    from reports.plan.effort import Effort
    from reports.run.plain import run_to_plain
    from reports.run.report import run_report

    order = parse_order(text, file.name, file.parent)
    speak(order.written_in)
    effort = Effort(_or(search.iterations, RUN_ITERATIONS), search.seconds, search.seed)
    run = plan_order(order, effort, workers, no_cache=no_cache, quiet=search.quiet)
    return run_report(run), run_to_plain(run), 0


def _of_job(
    text: str,
    file: Path,
    search: SearchOptions,
    lay: LayMany | None,
    widths: str | None,
    sizes: str | None,
    tube: TubeAsked | None,
) -> Made:
    from pieces.units import speak
    from reports.ask.job import parse_job
    from reports.ask.opened import opened_widths
    from reports.batch.series import cloth_of
    from reports.buy.report import plan_report
    from reports.chart.chart import chart_to_plain, laid_chart
    from reports.plan.effort import Effort
    from reports.plan.plain import plan_to_plain

    job = parse_job(text, file.name, file.parent)
    speak(job.written_in)
    if lay is not None:
        opened_widths((), cloth_of(job), tube)  # a tube whose width is not said is refused before the search
    plan, signalled, _ = answer(job, search, None, (), force=False)
    plain = plan_to_plain(plan)
    if lay is None or signalled:
        return plan_report(plan), plain, signalled
    effort = Effort(_or(search.iterations, DEFAULT_ITERATIONS), search.seconds, search.seed)
    chart = laid_chart(job, lay, effort, widths=widths, sizes=sizes, tube=tube)
    return plan_report(plan, chart), plain | {"chart": chart_to_plain(chart)}, lay.signal


def _or(given: int | None, usual: int) -> int:
    return usual if given is None else given
