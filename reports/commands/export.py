"""The command `export`: pieces and markers as files for other programs."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from reports.ask.choices import CurveShape, FileForm, What
from reports.asking.options import JobPath, LayFiles, Notching, OneSearch, Output
from reports.commands.kit.answering import answer
from reports.commands.kit.laying import TerminalLaying
from reports.commands.kit.terminal import emit, leave, show, show_files
from reports.plan.effort import Effort

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reports.export.way import FileWay

WhatToWrite = Annotated[list[What], typer.Option("--what", help="What to write; repeat for both.")]
CurvesAs = Annotated[
    CurveShape, typer.Option("--curves", help="Curves in DXF: chords within 0.02 mm of them, or splines.")
]
Formats = Annotated[list[FileForm], typer.Option("--as", help="File format; repeat for several.")]


def export(
    job: JobPath,
    search: OneSearch,
    output: Output,
    notching: Notching,
    what: WhatToWrite = [What.PIECES, What.MARKERS],  # noqa: B006 - typer reads it
    formats: Formats = [FileForm.DXF],  # noqa: B006 - typer reads it
    curves: CurvesAs = "polylines",
    lay: LayFiles = None,
) -> None:
    """Write pieces and markers as DXF, SVG, JSON or CSV, full size, in mm (into JOB-export or --out).

    With --lay the markers of a run's lays are written, and no pieces.
    """
    from reports.ask.draft import draft_job
    from reports.ask.job import read_job
    from reports.export.files import marker_files, piece_files, write_marker, write_pieces
    from reports.export.way import FileWay
    from reports.output import refuse_overwriting

    folder = output.out or Path(f"{job.stem}-export")
    how = FileWay(notching.cut(), curves)
    if lay:
        if what == [What.PIECES]:
            from reports.errors import JobError

            raise JobError("--lay writes markers and no pieces: leave --what out, or --lay")
        _lays(job, lay, folder, formats, output, how)
        return
    asked = read_job(job)
    sheets = piece_files(folder, formats) if What.PIECES in what else []
    laid = (
        {n: marker_files(folder, formats, n) for n in range(1, len(asked.fabric) + 1)} if What.MARKERS in what else {}
    )
    refuse_overwriting([*sheets, *(path for paths in laid.values() for path in paths)], force=output.force)
    written, refused = list(sheets), []
    laying = TerminalLaying(search.effort(Effort()), quiet=output.as_json)
    if What.MARKERS in what:
        plan, _ = answer(asked, laying)
        for number, fabric in plan.markers:
            write_marker(fabric, laid[number], how=how)
            written += laid[number]
        from reports.plan.words import refusal_lines

        refused = list(refusal_lines(plan))
        pieces = plan.pieces
    else:
        pieces = draft_job(asked)
    write_pieces(pieces, sheets, how)
    _tell(asked.name, written, refused, as_json=output.as_json)
    leave(laying.signal)


def _lays(
    path: Path, files: Sequence[Path], folder: Path, formats: Sequence[FileForm], output: Output, how: FileWay
) -> None:
    """Write the markers of a run's lays."""
    from reports.ask.order.order import read_order
    from reports.export.files import lay_files, write_marker
    from reports.output import refuse_overwriting
    from reports.run.lay_file import read_lays
    from reports.run.lay_marker import lay_to_plain

    order = read_order(path)
    laid = [(one, lay_files(folder, formats, one.ticket)) for one in read_lays(order, files)]
    written = [name for _, names in laid for name in names]
    refuse_overwriting(written, force=output.force)
    for one, names in laid:
        write_marker(one, names, lay_to_plain(one, order), how)
    _tell(order.name, written, (), as_json=output.as_json)


def _tell(name: str, written: Sequence[Path], refused: Sequence[str], *, as_json: bool) -> None:
    if as_json:
        emit(json.dumps({"schema": 2, "job": name, "unit": "mm", "files": [str(path) for path in written]}))
    else:
        show(*refused)
        show_files(written)
