"""The command `widths`: the marker's length on cloth of each width."""

from __future__ import annotations

import json
from typing import Annotated

import typer

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
    Tube,
)
from reports.commands.kit.terminal import emit, leave, show, show_files


def widths(
    job: JobPath,
    low: Annotated[str | None, typer.Option("--from", metavar="WIDTH", help="Narrowest; by default 36 in.")] = None,
    high: Annotated[str | None, typer.Option("--to", metavar="WIDTH", help="Widest; by default 72 in.")] = None,
    step: Annotated[str | None, typer.Option("--step", metavar="LENGTH", help="By default 1 in.")] = None,
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
    """Say how the marker's length changes with the width of the cloth, where it steps, and why."""
    from reports.ask.job import read_job
    from reports.ask.opened import opened_widths
    from reports.batch.series import cloth_of, width_range
    from reports.output import refuse_overwriting
    from reports.plan.effort import Effort
    from reports.widths.files import curve_files, write_curve
    from reports.widths.widths import curve_to_plain, plan_curve
    from reports.widths.words import curve_lines, curve_table

    asked = read_job(job)
    effort = Effort(iterations, seconds, seed)
    every = width_range(low, high, step, asked.written_in)
    if out:
        refuse_overwriting(curve_files(out), force=force)
    cloth = cloth_of(asked)
    curve = plan_curve(asked, cloth, opened_widths(every, cloth, tube), spread=spread, effort=effort)
    lay = LayMany(workers, no_cache=no_cache, quiet=as_json)
    curve.lay(lay)
    written = write_curve(curve, out) if out else []
    if as_json:
        emit(json.dumps(curve_to_plain(curve)))
    else:
        show(curve_table(curve), *curve_lines(curve))
        show_files(written)
    leave(lay.signal)
