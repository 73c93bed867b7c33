"""What commands share: their options, a search with its progress and files, and how they print."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.commands.kit.terminal import show

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from reports.ask.job import Job
    from reports.buy.files import FilesFor
    from reports.plan.effort import SearchOptions
    from reports.plan.plan import Plan


ALL: tuple[FilesFor, ...] = ("pieces", "markers", "rib", "answer")


def only_cloth(job: Job, number: int) -> Job:
    """The job with one of its cloths."""
    from reports.errors import JobError

    if job.fabric and not 1 <= number <= len(job.fabric):
        cloths = "1 cloth" if len(job.fabric) == 1 else f"{len(job.fabric)} cloths"
        raise JobError(f"--fabric {number}: {job.name} offers {cloths}: choose a number from 1 to {len(job.fabric)}")
    return job.model_copy(update={"fabric": job.fabric[number - 1 : number]})


def answer(
    job: Job,
    search: SearchOptions,
    folder: Path | None,
    parts: tuple[FilesFor, ...],
    *,
    force: bool,
    rib: bool = True,
    also: Sequence[Path] = (),
) -> tuple[Plan, int, list[Path]]:
    """Plan a job and write its files; the plan, the signal that cut the search short (or 0), and the files."""
    from nesting.search import warm_up as prepare
    from nesting.search.stop import AnyOf
    from reports.batch.progress import Bars, Interrupt
    from reports.buy.files import planned_files, write_plan
    from reports.output import refuse_overwriting
    from reports.plan.effort import Effort
    from reports.plan.plan import plan_job

    if folder:
        refuse_overwriting([*planned_files(job, folder, parts), *also], force=force)
    if search.total:
        prepare.begin()  # beside the drafting
    with Interrupt() as interrupt, Bars(search.total, search.is_timed, job.written_in, quiet=search.quiet) as bars:
        effort = Effort(
            lambda: AnyOf(interrupt, search.limit()), search.seed, search.workers, bars.listener, search.proof
        )
        plan = plan_job(job, effort, rib=rib)
    return plan, interrupt.signal, write_plan(plan, folder, parts) if folder else []


def show_answer(plan: Plan) -> None:
    """Print a plan: cloth, rib, remarks, and the answer in words."""
    from reports.plan.words import additions_table, answer_lines, fabric_table, rib_table

    show(fabric_table(plan), additions_table(plan))
    if plan.ribs:
        show(rib_table(plan))
    show(*(f"note: {remark}" for remark in plan.remarks), "")
    show(*answer_lines(plan))
