"""The command `chart`: yardage by size and width, as on a pattern envelope."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Annotated

import typer

from reports.asked import NapAsked  # noqa: TC001 - typer reads the annotations
from reports.commands.many import (
    DEFAULT_ITERATIONS,
    HowSpread,
    LayMany,
    ManyIterations,
    ManySeconds,
    ManyWorkers,
    NoCache,
    Tube,
)
from reports.shared import AsJson, Force, JobPath, OutPath, Seed, emit, leave, show, show_files

if TYPE_CHECKING:
    from reports.asked import SpreadAsked, TubeAsked
    from reports.chart import Chart
    from reports.job import Job
    from reports.series import Lay
    from reports.study import Stint

Widths = Annotated[
    str | None, typer.Option(metavar="LIST", help='Such as "45 in, 60 in"; by default six usual widths.')
]
Sizes = Annotated[
    str | None,
    typer.Option(
        metavar="TABLE", help="One that 'ellwand sizes' lists, or a file; by default eight sizes round the job's own."
    ),
]


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
    from reports.chart import chart_to_plain
    from reports.chart_words import chart_lines, size_table, yardage_table
    from reports.job import read_job
    from reports.many_files import chart_files, write_chart
    from reports.output import refuse_overwriting
    from reports.study import Stint

    if out:
        refuse_overwriting(chart_files(out), force=force)
    lay = LayMany(workers, no_cache=no_cache, quiet=as_json)
    stint = Stint(iterations, seconds, seed)
    planned = laid_chart(read_job(job), lay, stint, widths=widths, sizes=sizes, nap=nap, spread=spread, tube=tube)
    written = write_chart(planned, out) if out else []
    if as_json:
        emit(json.dumps(chart_to_plain(planned)))
    else:
        show(size_table(planned), yardage_table(planned), *chart_lines(planned))
        show_files(written)
    leave(lay.signal)


def laid_chart(
    job: Job,
    lay: Lay,
    stint: Stint,
    *,
    widths: str | None = None,
    sizes: str | None = None,
    nap: NapAsked = "both",
    spread: SpreadAsked | None = None,
    tube: TubeAsked | None = None,
) -> Chart:
    """The chart of a job as a person asks for it, its markers laid."""
    from reports.chart import plan_chart
    from reports.series import cloth_of, width_list
    from reports.sizes import graded_sizes, read_sizes
    from reports.tube import opened_widths

    cloth = cloth_of(job)
    every = opened_widths(width_list(widths, job.written_in), cloth, tube)
    columns = read_sizes(sizes, job) if sizes else graded_sizes(job)
    planned = plan_chart(job, cloth, columns, every, nap=nap, spread=spread, stint=stint)
    planned.lay(lay)
    return planned
