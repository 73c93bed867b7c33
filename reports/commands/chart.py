"""The command `chart`: yardage by size and width, as on a pattern envelope."""

from __future__ import annotations

import json
from typing import Annotated

import typer

from reports.ask.choices import NapAsked
from reports.commands.kit.laying import LayMany
from reports.commands.kit.options import (
    DEFAULT_ITERATIONS,
    AsJson,
    Force,
    HowSpread,
    JobPath,
    ManyIterations,
    ManySeconds,
    ManyWorkers,
    NoCache,
    OutPath,
    Seed,
    Sizes,
    Tube,
    Widths,
)
from reports.commands.kit.terminal import emit, leave, show, show_files


def chart(
    job: JobPath,
    widths: Widths = None,
    sizes: Sizes = None,
    nap: Annotated[NapAsked, typer.Option(help="With a nap, without, or both.")] = "both",
    spread: HowSpread = None,
    tube: Tube = None,
    out: OutPath = None,
    iterations: ManyIterations = DEFAULT_ITERATIONS,
    seconds: ManySeconds = None,
    seed: Seed = 0,
    workers: ManyWorkers = None,
    no_cache: NoCache = False,
    as_json: AsJson = False,
    force: Force = False,
) -> None:
    """Say how much cloth each size takes on each width, with and without a nap, as on a pattern envelope."""
    from reports.ask.job import read_job
    from reports.chart.chart import chart_to_plain, laid_chart
    from reports.chart.files import chart_files, write_chart
    from reports.chart.words import chart_lines, size_table, yardage_table
    from reports.output import refuse_overwriting
    from reports.plan.effort import Effort

    if out:
        refuse_overwriting(chart_files(out), force=force)
    lay = LayMany(workers, no_cache=no_cache, quiet=as_json)
    effort = Effort(iterations, seconds, seed)
    planned = laid_chart(read_job(job), lay, effort, widths=widths, sizes=sizes, nap=nap, spread=spread, tube=tube)
    written = write_chart(planned, out) if out else []
    if as_json:
        emit(json.dumps(chart_to_plain(planned)))
    else:
        show(size_table(planned), yardage_table(planned), *chart_lines(planned))
        show_files(written)
    leave(lay.signal)
