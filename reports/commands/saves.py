"""``ellwand saves``: which changes save cloth."""

from __future__ import annotations

import json
from typing import Annotated

import typer

from reports.commands.kit.laying import LayMany
from reports.commands.kit.options import (
    DEFAULT_ITERATIONS,
    AsJson,
    Force,
    JobPath,
    ManyIterations,
    ManyWorkers,
    NoCache,
    OutPath,
    Seed,
)
from reports.commands.kit.terminal import emit, leave, show, show_files


def saves(
    job: JobPath,
    fabric: Annotated[int, typer.Option(min=1, help="Which cloth of the job, by number.")] = 1,
    out: OutPath = None,
    iterations: ManyIterations = DEFAULT_ITERATIONS,
    seed: Seed = 0,
    workers: ManyWorkers = None,
    no_cache: NoCache = False,
    as_json: AsJson = False,
    force: Force = False,
) -> None:
    """Say which change of style or spread saves cloth, and how much: each one is drafted and laid."""
    from reports.ask.job import read_job
    from reports.output import refuse_overwriting
    from reports.plan.effort import Effort
    from reports.save.files import saving_files, write_savings
    from reports.save.saves import savings, savings_lines, savings_table, savings_to_plain

    asked = read_job(job)
    if out:
        refuse_overwriting(saving_files(out), force=force)
    lay = LayMany(workers, no_cache=no_cache, quiet=as_json)
    found = savings(asked, fabric, lambda problems: lay(problems, Effort(iterations, seed=seed)))
    if as_json:
        emit(json.dumps(savings_to_plain(found, asked, fabric)))
    else:
        show(savings_table(found, asked, fabric), *savings_lines(found, asked))
    if out:
        write_savings(found, asked, fabric, out)
        if not as_json:
            show_files(saving_files(out))
    leave(lay.signal)
