"""The command `sew`: the order of sewing."""

from __future__ import annotations

import json

from reports.asking.options import JobPath, Output
from reports.commands.kit.terminal import emit, show, show_files


def sew(job: JobPath, output: Output) -> None:
    """Show the order of sewing: numbered steps, with the seam, notches and a drawing of each."""
    from reports.ask.draft import draft_whole
    from reports.ask.job import read_job
    from reports.output import refuse_overwriting
    from reports.sew.files import sewing_files, write_sewing
    from reports.sew.sewing import sewing_lines, sewing_order, sewing_to_plain

    asked = read_job(job)
    order = sewing_order(asked, draft_whole(asked))
    if output.out:
        refuse_overwriting(sewing_files(order, output.out), force=output.force)
    written = write_sewing(order, output.out) if output.out else []
    if output.as_json:
        emit(json.dumps(sewing_to_plain(order)))
        return
    show(*sewing_lines(order))
    show_files(written)
