"""The command `buy`: how much cloth and rib to buy."""

from __future__ import annotations

import json

from reports.commands.kit.answering import ALL, answer, show_answer
from reports.commands.kit.options import AsJson, Force, Iterations, JobPath, OutPath, Seconds, Seed, Workers
from reports.commands.kit.terminal import emit, leave, show_files
from reports.plan.effort import SearchOptions


def buy(
    job: JobPath,
    out: OutPath = None,
    seconds: Seconds = None,
    iterations: Iterations = None,
    seed: Seed = 0,
    workers: Workers = 1,
    as_json: AsJson = False,
    force: Force = False,
) -> None:
    """Say how much cloth and rib to buy, what it costs, and how far the best possible could still be."""
    from reports.ask.job import read_job
    from reports.plan.plain import plan_to_plain

    search = SearchOptions(seconds, iterations, seed, workers, quiet=as_json)
    plan, signalled, written = answer(read_job(job), search, out, ALL, force=force)
    if as_json:
        emit(json.dumps(plan_to_plain(plan)))
    else:
        show_answer(plan)
        show_files(written)
    leave(signalled)
