"""The command `lay`: each cloth's marker."""

from __future__ import annotations

import json
from pathlib import Path

from reports.commands.kit.answering import answer
from reports.commands.kit.options import AsJson, Force, Iterations, JobPath, OutPath, Seconds, Seed, Workers
from reports.commands.kit.terminal import emit, leave, show, show_files
from reports.plan.effort import SearchOptions


def lay(
    job: JobPath,
    out: OutPath = None,
    seconds: Seconds = None,
    iterations: Iterations = None,
    seed: Seed = 0,
    workers: Workers = 1,
    as_json: AsJson = False,
    force: Force = False,
) -> None:
    """Lay the pieces on each cloth; draw each marker to cut from (into JOB-marker or --out; with --json only --out)."""
    from reports.ask.job import read_job
    from reports.plan.plain import lay_to_plain

    asked = read_job(job)
    folder = out or (None if as_json else Path(f"{job.stem}-marker"))
    search = SearchOptions(seconds, iterations, seed, workers, quiet=as_json)
    plan, signalled, written = answer(asked, search, folder, ("pieces", "markers"), force=force, rib=False)
    if as_json:
        emit(json.dumps(lay_to_plain(plan)))
    else:
        from reports.plan.words import fabric_table, laid_lines

        show(fabric_table(plan), *laid_lines(plan))
        show_files(written)
    leave(signalled)
