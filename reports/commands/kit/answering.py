"""A job planned from a terminal, for the commands that need its markers."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from reports.ask.job import Job
    from reports.buy.files import FilesFor
    from reports.commands.kit.laying import TerminalLaying
    from reports.plan.plan import Plan


def answer(
    job: Job,
    laying: TerminalLaying,
    folder: Path | None = None,
    parts: tuple[FilesFor, ...] = (),
    *,
    force: bool = False,
    rib: bool = False,
    also: Sequence[Path] = (),
) -> tuple[Plan, list[Path]]:
    """Plan a job, and write its files; both. `also` names files that must not be overwritten, either."""
    from reports.buy.files import planned_files, write_plan
    from reports.output import refuse_overwriting
    from reports.plan.plan import plan_job

    if folder:
        refuse_overwriting([*planned_files(job, folder, parts), *also], force=force)
    with laying.watched(job.written_in) as effort:
        plan = plan_job(job, effort, rib=rib)
    return plan, write_plan(plan, folder, parts) if folder else []
