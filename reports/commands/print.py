"""The command `print`: pieces and markers on paper at full scale."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from reports.ask.choices import What
from reports.asking.options import ClothNumber, JobPath, LayFiles, Notching, OneSearch, Output, refuse_cloth
from reports.commands.kit.answering import answer
from reports.commands.kit.laying import TerminalLaying
from reports.commands.kit.terminal import emit, leave, show, show_files
from reports.plan.effort import Effort

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pieces.piece.notched import NotchCut
    from reports.ask.job import Job
    from reports.ask.order.order import Order
    from reports.paper.book import Printed
    from reports.paper.order import PrintOrder
    from reports.paper.size import Paper

Sheets = Annotated[
    str | None,
    typer.Option(help='Sheets: a4, letter, a3 …, or sides, such as "21 cm x 29.7 cm". By default letter or a4.'),
]
Roll = Annotated[
    str | None,
    typer.Option(
        metavar="WIDTH", help='Width of a roll, such as "36 in"; for markers also cloth: as wide as the cloth.'
    ),
]
SizesOf = Annotated[
    str | None,
    typer.Option(
        "--sizes",
        metavar="TABLE",
        help="Pieces in all sizes of a table, each size with its own layer and kind of line.",
    ),
]
WhatToPrint = Annotated[What, typer.Option("--what", help="What to print.")]


def print(
    job: JobPath,
    search: OneSearch,
    output: Output,
    notching: Notching,
    paper: Sheets = None,
    roll: Roll = None,
    what: WhatToPrint = What.PIECES,
    table: SizesOf = None,
    fabric: ClothNumber = None,
    lay: LayFiles = None,
) -> None:
    """Print pieces or markers at full scale as PDF: sheets to tape or glue, or a roll (into JOB-print or --out).

    With --lay the markers of a run's lays are printed.
    """
    from reports.ask.job import read_job
    from reports.ask.order.order import read_order
    from reports.paper.order import PrintOrder, paper_for

    folder = output.out or Path(f"{job.stem}-print")
    if lay:
        refuse_cloth(fabric)
        _refuse_mixed(What.MARKERS, table, fabric)
        run = read_order(job)
        printed = _lays(run, lay, folder, paper_for(paper, roll, run.written_in), notching.cut(), force=output.force)
        _tell(printed, [], run.name, What.MARKERS, as_json=output.as_json)
        return
    asked = read_job(job)
    _refuse_mixed(what, table, fabric)
    order = PrintOrder(asked, folder, paper_for(paper, roll, asked.written_in), notching.cut())
    laying = TerminalLaying(search.effort(Effort()), quiet=output.as_json)
    if what is What.MARKERS:
        printed, notes = _markers(order, fabric, laying, force=output.force)
    else:
        printed, notes = _pieces(order, table, force=output.force)
    _tell(printed, notes, asked.name, what, as_json=output.as_json)
    leave(laying.signal)


def _tell(printed: Sequence[Printed], notes: Sequence[str], name: str, what: What, *, as_json: bool) -> None:
    from reports.paper.order import printed_to_plain

    if as_json:
        files = [printed_to_plain(one) for one in printed]
        emit(json.dumps({"schema": 2, "job": name, "what": what, "files": files, "notes": notes}))
    else:
        show(*notes, *(f"{one.path.name}: {one.words}." for one in printed))
        show("Print at scale 100 %, with fit to page turned off; measure the test squares before you cut.")
        show_files([one.path for one in printed])


def _refuse_mixed(what: What, table: str | None, fabric: int | None) -> None:
    from reports.errors import PaperError

    if what is What.MARKERS and table:
        raise PaperError("--sizes is for pieces: leave it out, or print --what pieces")
    if what is What.PIECES and fabric is not None:
        raise PaperError("--fabric is for markers: leave it out, or print --what markers")


def _pieces(order: PrintOrder, table: str | None, *, force: bool) -> tuple[list[Printed], list[str]]:
    """Print the job's pieces, in its own size or in those of a table."""
    from reports.ask.draft import draft_job
    from reports.output import refuse_overwriting

    refuse_overwriting([order.file("sizes" if table else "pieces")], force=force)
    if not table:
        return [order.print_pieces(draft_job(order.job))], []
    from reports.ask.imported import IMPORTED
    from reports.ask.sizes import table_for
    from reports.errors import PaperError
    from reports.sizes.sizes import draft_sizes

    if order.job.garment == IMPORTED:
        raise PaperError("--sizes is for drafted garments: imported pieces have the sizes of their file")
    graded = draft_sizes(order.job, table_for(order.job, table))
    refused = [f"note: size {size} is left out: {reason}" for size, reason in graded.refused.items()]
    return [order.print_sizes(graded)], refused


def _lays(
    order: Order, files: Sequence[Path], folder: Path, paper: Paper | None, notches: NotchCut, *, force: bool
) -> list[Printed]:
    """Print the markers of a run's lays."""
    from reports.output import refuse_overwriting
    from reports.paper.order import file_for
    from reports.run.lay_file import read_lays
    from reports.run.on_paper import print_lay

    named = {file_for(folder, paper, f"lay-{one.ticket}"): one for one in read_lays(order, files)}
    refuse_overwriting(list(named), force=force)
    return [print_lay(one, order, path, paper, notches) for path, one in named.items()]


def _markers(
    order: PrintOrder, fabric: int | None, laying: TerminalLaying, *, force: bool
) -> tuple[list[Printed], list[str]]:
    """Lay and print the job's markers; and what was refused."""
    from reports.output import refuse_overwriting
    from reports.plan.words import refusal_lines

    asked: Job = order.job if fabric is None else order.job.with_cloth(fabric)
    first = fabric or 1
    numbers = range(first, first + len(asked.fabric))
    refuse_overwriting([order.file(f"marker-{number}") for number in numbers], force=force)
    plan, _ = answer(asked, laying)
    printed = [order.print_marker(first - 1 + number, found) for number, found in plan.markers]
    return printed, list(refusal_lines(plan))
