"""The command `trace`: photos of paper patterns, made into pieces and ready to be laid."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from reports.ask.choices import UnitsAsked
from reports.asking.options import Output
from reports.commands.import_pieces import known_beside, show_read
from reports.commands.kit.terminal import emit

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pieces.photo.trace import TraceChoices

PhotoPaths = Annotated[
    list[Path], typer.Argument(metavar="PHOTO", help="JPEG or PNG: patterns beside the printed reference sheet.")
]


LineLength = Annotated[
    str | None,
    typer.Option(metavar="LENGTH", help="The long line of the sheet by your ruler, if it is not 180 mm."),
]
GrainAngle = Annotated[
    float | None,
    typer.Option(metavar="DEGREES", help="Where the grain runs, from the long side of the sheet. By default as drawn."),
]
Folds = Annotated[
    list[str] | None,
    typer.Option(metavar="N=SIDE", help="The side of the N-th piece on a fold, such as 1=left; repeat for more."),
]
BareSheet = Annotated[
    str | None,
    typer.Option(
        metavar="SHEET", help='Measure by a bare sheet of paper instead: A4, letter, or its sides "29.7 cm x 21 cm".'
    ),
]
MatSquare = Annotated[
    str | None,
    typer.Option(
        metavar="SIDE", help='Measure by a cutting mat instead: the side of its smallest squares, such as "1 in".'
    ),
]
OnePiece = Annotated[
    bool, typer.Option("--one-piece", help="The photos show parts of one table, with sheets A and B or more on it.")
]
OffAllowed = Annotated[str, typer.Option(metavar="LENGTH", help="How far lines and curves may lie off the edge seen.")]


def trace(
    photos: PhotoPaths,
    output: Output,
    line: LineLength = None,
    grain: GrainAngle = None,
    fold: Folds = None,
    sheet: BareSheet = None,
    mat: MatSquare = None,
    one_piece: OnePiece = False,
    tolerance: OffAllowed = "0.3 mm",
    shown_in: Annotated[UnitsAsked, typer.Option("--show-in", help="Units of the sizes shown.")] = "cm",
) -> None:
    """Trace paper patterns in photos, and write the pieces for a job. Print the reference sheet first."""
    from pieces.exchange.imported import ReadingChoices
    from pieces.exchange.own.plain import to_plain
    from pieces.exchange.own.sidecar import write_sidecar
    from pieces.exchange.read.reader import finish
    from pieces.photo.trace import trace_photos
    from pieces.units import Units
    from reports.ask.imported import imported_files, write_imported
    from reports.output import refuse_overwriting
    from reports.photo.seen import seen_files, write_seen

    out, first = output.out, photos[0]
    pictured = photos[:1] if one_piece else photos
    if out:
        refuse_overwriting([*imported_files(first, out), *seen_files(pictured, out)], force=output.force)
    beside, known = known_beside(first, out)
    asked = ReadingChoices(grain=grain or 0.0)
    sketches, report, seen = trace_photos(
        photos, _choices(line, tolerance, fold or (), by=(sheet, mat), grain=grain, one_piece=one_piece)
    )
    found = finish(sketches, report, first, asked, known)
    text = write_sidecar(found, first.name, asked.angle, fold_is_drawn=False) if known is None else None
    written = write_imported(found, first, out, Units(shown_in), text) if out else []
    written += write_seen(pictured, seen, out) if out else []
    if output.as_json:
        told = {"pieces": to_plain(found.pieces), "report": found.report.to_plain()}
        emit(json.dumps({"schema": 3, **told, "photos": [photo.to_plain() for photo in seen]}))
        return
    show_read(found, Units(shown_in), beside, written, out)


def _choices(
    line: str | None,
    tolerance: str,
    folds: Sequence[str],
    *,
    by: tuple[str | None, str | None],
    grain: float | None,
    one_piece: bool,
) -> TraceChoices:
    """What was asked for, each length with its unit."""
    from pieces.errors import FormatError
    from pieces.photo.trace import TraceChoices
    from pieces.units import parse_length
    from reports.paper.size import parse_paper

    sides: dict[int, str] = {}
    for told in folds:
        number, _, side = told.partition("=")
        if not number.strip().isdecimal() or side.strip() not in ("left", "right"):
            raise FormatError(f"--fold {told}: write the number of a piece and its side, such as 1=left")
        sides[int(number)] = side.strip()
    kept = {} if line is None else {"line": parse_length(line)}
    sheet, mat = by
    paper = None if sheet is None else parse_paper(sheet)
    bare = None if paper is None else (paper.width, paper.height)
    return TraceChoices(
        tolerance=parse_length(tolerance),
        folds=sides,
        grain=grain,
        one_piece=one_piece,
        bare=bare,
        mat=None if mat is None else parse_length(mat),
        **kept,
    )
