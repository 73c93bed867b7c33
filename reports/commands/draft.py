"""The command `draft`: the pattern pieces."""

from __future__ import annotations

import json

from reports.asking.options import JobPath, Output
from reports.commands.kit.terminal import emit, show, show_files


def draft(job: JobPath, output: Output) -> None:
    """Draft the pattern pieces: sizes, seams checked, a sheet of all pieces."""
    from pieces.exchange.own.plain import to_plain
    from reports.ask.draft import draft_whole
    from reports.ask.job import read_job
    from reports.buy.files import planned_files, write_pieces
    from reports.output import refuse_overwriting

    asked = read_job(job)
    if output.out:
        refuse_overwriting(planned_files(asked, output.out, ["pieces"]), force=output.force)
    drafted = draft_whole(asked)
    pieces = drafted.pieces
    written = write_pieces(asked, pieces, output.out) if output.out else []
    if output.as_json:
        emit(json.dumps(to_plain(pieces)))
        return
    from reports.plan.drafted import finished_table, measures_table, pieces_table

    show(pieces_table(pieces, asked.written_in))
    if pieces.measures:
        show(measures_table(pieces, asked.written_in))
    if pieces.finished:
        show(finished_table(pieces, asked.written_in))
    remarks = [remark for member in drafted.members for remark in member.remarks(asked.written_in)]
    show(*(f"note: {note}" for note in (*remarks, *pieces.notes)))
    show_files(written)
