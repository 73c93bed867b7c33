"""The command `lay`: each cloth's marker."""

from __future__ import annotations

import json
from pathlib import Path

from reports.asking.options import JobPath, OneSearch, Output
from reports.commands.kit.answering import answer
from reports.commands.kit.laying import TerminalLaying
from reports.commands.kit.terminal import emit, leave, show, show_files
from reports.plan.effort import Effort


def lay(
    job: JobPath,
    search: OneSearch,
    output: Output,
) -> None:
    """Lay the pieces on each cloth; draw each marker to cut from (into JOB-marker or --out; with --json only --out)."""
    from reports.ask.job import read_job
    from reports.plan.plain import lay_to_plain

    asked = read_job(job)
    folder = output.out or (None if output.as_json else Path(f"{job.stem}-marker"))
    laying = TerminalLaying(search.effort(Effort()), quiet=output.as_json)
    plan, written = answer(asked, laying, folder, ("pieces", "markers"), force=output.force)
    if output.as_json:
        emit(json.dumps(lay_to_plain(plan)))
    else:
        from reports.plan.words import fabric_table, laid_lines

        show(fabric_table(plan), *laid_lines(plan))
        show_files(written)
    leave(laying.signal)
