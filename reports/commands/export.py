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

    from reports.ask.job import Job
    from reports.export.way import FileWay

WhatToWrite = Annotated[list[What], typer.Option("--what", help="What to write; repeat for both.")]
CurvesAs = Annotated[
    CurveShape, typer.Option("--curves", help="Curves in DXF: chords within 0.02 mm of them, or splines.")
]
GradedTo = Annotated[
    str | None,
    typer.Option(
        "--sizes",
        metavar="TABLE",
        help="Pieces graded, in DXF and a rule table: to the sizes of a table, imported ones by grade rules.",
    ),
]
SampleSize = Annotated[
    str | None, typer.Option("--sample", metavar="SIZE", help="With --sizes: the size drawn; by default the middle.")
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
    table: GradedTo = None,
    sample: SampleSize = None,
) -> None:
    """Write pieces and markers as DXF, SVG, JSON or CSV, full size, in mm (into JOB-export or --out).

    With --lay the markers of a run's lays are written, and no pieces. With --sizes the pieces are graded, in DXF.
    """
    from reports.ask.job import read_job
    from reports.export.way import FileWay

    folder = output.out or Path(f"{job.stem}-export")
    how = FileWay(notching.cut(), curves)
    if table or sample:
        _refuse_mixed(table, what, formats, lay)
        _graded(read_job(job), table or "", sample, folder, output, how)
        return
    if lay:
        if what == [What.PIECES]:
            from reports.errors import JobError

            raise JobError("--lay writes markers and no pieces: leave --what out, or --lay")
        _lays(job, lay, folder, formats, output, how)
        return
    _files(read_job(job), search, what, formats, folder, output, how)


def _files(
    asked: Job,
    search: OneSearch,
    what: Sequence[What],
    formats: Sequence[FileForm],
    folder: Path,
    output: Output,
    how: FileWay,
) -> None:
    """Write the job's pieces, and the markers on its cloths."""
    from reports.ask.draft import draft_job
    from reports.checksheet.files import check_sheets, write_check_sheets
    from reports.export.files import marker_files, piece_files, write_marker, write_pieces
    from reports.output import refuse_overwriting

    sheets = piece_files(folder, formats) if What.PIECES in what else []
    laid = (
        {n: marker_files(folder, formats, n) for n in range(1, len(asked.fabric) + 1)} if What.MARKERS in what else {}
    )
    drawn = [sheets, *laid.values()]
    refuse_overwriting([path for paths in drawn for path in (*paths, *check_sheets(paths))], force=output.force)
    written, refused = [*sheets, *check_sheets(sheets)], []
    laying = TerminalLaying(search.effort(Effort()), quiet=output.as_json)
    if What.MARKERS in what:
        plan, _ = answer(asked, laying)
        for number, fabric in plan.markers:
            write_marker(fabric, laid[number], how=how)
            title = f"{asked.title}, on {fabric.offer.name}"
            written += [*laid[number], *write_check_sheets(title, laid[number], asked.written_in)]
        from reports.plan.words import refusal_lines

        refused = list(refusal_lines(plan))
        pieces = plan.pieces
    else:
        pieces = draft_job(asked)
    write_pieces(pieces, sheets, how)
    write_check_sheets(f"{asked.title}: pieces", sheets, asked.written_in)
    _tell(asked.name, written, refused, as_json=output.as_json)
    leave(laying.signal)


def _refuse_mixed(
    table: str | None, what: Sequence[What], formats: Sequence[FileForm], lay: Sequence[Path] | None
) -> None:
    from reports.errors import JobError

    if not table:
        raise JobError("--sample is a size of a table: name the table with --sizes")
    if lay or what == [What.MARKERS]:
        raise JobError("--sizes is for pieces: leave it out, or leave --what markers and --lay out")
    if set(formats) != {FileForm.DXF}:
        raise JobError("--sizes is for DXF, which has rules beside it: leave --as out, or print --sizes")


def _graded(asked: Job, table: str, sample: str | None, folder: Path, output: Output, how: FileWay) -> None:
    """Write the pieces in one size, with rules for the others."""
    from pieces.exchange.graded.spots import STRAY
    from reports.ask.imported import IMPORTED
    from reports.ask.sizes import table_for
    from reports.checksheet.files import check_sheets, write_check_sheets
    from reports.export.files import graded_files, write_graded
    from reports.export.grades import graded_set
    from reports.output import refuse_overwriting
    from reports.sizes.by_rules import grade_sizes
    from reports.sizes.sizes import draft_sizes

    written = graded_files(folder)
    refuse_overwriting([*written, *check_sheets(written)], force=output.force)
    if asked.garment == IMPORTED:
        drafted, not_made, base = grade_sizes(asked, Path(table))
    else:
        of_table = draft_sizes(asked, table_for(asked, table))
        drafted, not_made, base = of_table.drafted, of_table.refused, None
    graded = graded_set(drafted, sample or base, written[1].stem)
    write_graded(graded, written, how)
    written += write_check_sheets(f"{asked.title}: graded pieces", written, asked.written_in)
    refused = [f"note: size {size} is left out: {why}" for size, why in {**not_made, **graded.refused}.items()]
    if graded.strays > STRAY:
        refused.append(f"note: a line of a graded size is up to {graded.strays:.1f} mm from where the rules lead")
    sizes = ", ".join(graded.table.sizes)
    told = f"Graded: {sizes}; drawn in {graded.table.sample}, with {len(graded.table.rules)} rules."
    _tell(asked.name, written, [*refused, told], as_json=output.as_json)


def _lays(
    path: Path, files: Sequence[Path], folder: Path, formats: Sequence[FileForm], output: Output, how: FileWay
) -> None:
    """Write the markers of a run's lays."""
    from reports.ask.order.order import read_order
    from reports.checksheet.files import check_sheets, write_check_sheets
    from reports.export.files import lay_files, write_marker
    from reports.output import refuse_overwriting
    from reports.run.lay_file import read_lays
    from reports.run.lay_marker import lay_to_plain

    order = read_order(path)
    laid = [(one, lay_files(folder, formats, one.ticket)) for one in read_lays(order, files)]
    written = [path for _, names in laid for path in (*names, *check_sheets(names))]
    refuse_overwriting(written, force=output.force)
    for one, names in laid:
        write_marker(one, names, lay_to_plain(one, order), how)
        write_check_sheets(f"{order.title}: {one.lay.title}", names, order.written_in)
    _tell(order.name, written, (), as_json=output.as_json)


def _tell(name: str, written: Sequence[Path], refused: Sequence[str], *, as_json: bool) -> None:
    if as_json:
        emit(json.dumps({"schema": 2, "job": name, "unit": "mm", "files": [str(path) for path in written]}))
    else:
        show(*refused)
        show_files(written)
