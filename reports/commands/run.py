"""The command `run`: a small production run, from its order file to lays, tickets, cost and quote."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from reports.commands.kit.laying import LayMany
from reports.commands.kit.options import AsJson, Force, ManyIterations, ManySeconds, ManyWorkers, NoCache, OutPath, Seed
from reports.commands.kit.terminal import emit, show, show_files
from reports.printed import printed
from reports.signals import tell

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem
    from reports.ask.order.order import Order
    from reports.plan.effort import Effort
    from reports.run.plan import RunPlan

RUN_ITERATIONS = 300
"""Of the search for each marker."""


def run(
    order: Annotated[
        Path, typer.Argument(metavar="ORDER", help="The order file, TOML; 'ellwand new --run' writes one.")
    ],
    out: OutPath = None,
    iterations: ManyIterations = RUN_ITERATIONS,
    seconds: ManySeconds = None,
    seed: Seed = 0,
    workers: ManyWorkers = None,
    cluster: Annotated[
        str | None, typer.Option(metavar="ADDRESS", help="Lay markers on a Dask cluster, such as tcp://10.0.0.5:8786.")
    ] = None,
    no_cache: NoCache = False,
    as_json: AsJson = False,
    force: Force = False,
) -> None:
    """Plan a run: which lays, how many plies, what to buy, what a garment costs, and what to charge."""
    from reports.ask.order.order import read_order
    from reports.output import refuse_overwriting
    from reports.plan.effort import Effort
    from reports.run.files import fixed_files, write_run
    from reports.run.plain import run_to_plain
    from reports.run.words import run_parts

    asked = read_order(order)
    if out:
        refuse_overwriting([*fixed_files(out), *sorted(out.glob("ticket-*"))], force=force)
    planned = plan_order(asked, Effort(iterations, seconds, seed), workers, cluster, no_cache=no_cache, quiet=as_json)
    parts = list(run_parts(planned))
    written = write_run(planned, printed(*parts), out) if out else []
    if as_json:
        emit(json.dumps(run_to_plain(planned)))
    else:
        show(*parts)
        show_files(written)


def plan_order(
    order: Order, effort: Effort, workers: int | None, cluster: str | None = None, *, no_cache: bool, quiet: bool
) -> RunPlan:
    """Plan an order, its markers laid with progress on stderr; an interrupt ends the command."""
    from reports.errors import NothingYetError
    from reports.run.plan import plan_run

    with LayMany(workers, no_cache=no_cache, quiet=quiet, cluster=cluster) as many:

        def lay(problems: Sequence[Problem]) -> Sequence[Marker | None]:
            return many(problems, effort)

        try:
            return plan_run(order, lay)
        except (KeyboardInterrupt, NothingYetError):
            if not many.signal:
                raise
            kept = "" if no_cache else "; the markers laid are kept, and the same command goes on from there"
            tell(f"ellwand: interrupted before the plan was complete{kept}")
            raise typer.Exit(128 + many.signal) from None
