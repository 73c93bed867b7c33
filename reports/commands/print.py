"""The command `print`: pieces and markers on paper at full scale."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from reports.ask.choices import Printable
from reports.asking.options import ClothNumber, LayFiles, Notching, OneSearch, Output, refuse_cloth
from reports.commands.kit.answering import answer
from reports.commands.kit.laying import TerminalLaying
from reports.commands.kit.terminal import emit, leave, show, show_files
from reports.plan.effort import Effort

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pieces.piece.notched import NotchCut
    from reports.ask.job import Job
    from reports.ask.order.order import Order
    from reports.ask.recipe import Recipe
    from reports.paper.book import Printed
    from reports.paper.order import PrintOrder
    from reports.paper.size import Paper

Sheets = Annotated[
    str | None,
    typer.Option(
        help='Sheets: a4, letter, a3 …, or sides, such as "21 cm x 29.7 cm". By default a4, of a job in inches letter.'
    ),
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
        metavar="TABLE|FILE",
        help="Pieces in all sizes of a table, each with its own layer and kind of line; imported ones by grade rules.",
    ),
]
JobIfAny = Annotated[
    Path | None,
    typer.Argument(metavar="[JOB]", help="The job file, TOML; the reference sheet needs none.", show_default=False),
]
WhatToPrint = Annotated[Printable, typer.Option("--what", help="What to print.")]


def print(
    search: OneSearch,
    output: Output,
    notching: Notching,
    job: JobIfAny = None,
    paper: Sheets = None,
    roll: Roll = None,
    what: WhatToPrint = Printable.PIECES,
    table: SizesOf = None,
    fabric: ClothNumber = None,
    lay: LayFiles = None,
) -> None:
    """Print pieces or markers at full scale as PDF: sheets to tape or glue, or a roll (into JOB-print or --out).

    With --lay the markers of a run's lays are printed. --what dossier prints all that one client needs, on A4;
    --what reference the sheet for photos that `trace` reads.
    """
    if what is Printable.REFERENCE or job is None:
        _reference(job, what, output, paper, roll)
        return
    from reports.ask.job import read_job
    from reports.ask.order.order import read_order
    from reports.paper.order import PrintOrder, paper_for

    folder = output.out or Path(f"{job.stem}-print")
    if lay:
        refuse_cloth(fabric)
        _refuse_mixed(Printable.MARKERS, table, fabric)
        run = read_order(job)
        printed = _lays(run, lay, folder, paper_for(paper, roll, run.written_in), notching.cut(), force=output.force)
        _tell(printed, [], run, Printable.MARKERS, as_json=output.as_json)
        return
    asked = read_job(job)
    _refuse_mixed(what, table, fabric)
    order = PrintOrder(asked, folder, paper_for(paper, roll, asked.written_in), notching.cut())
    laying = TerminalLaying(search.effort(Effort()), quiet=output.as_json)
    if what is Printable.DOSSIER:
        _refuse_paper(paper, roll)
        _dossier(asked, folder, laying, force=output.force, as_json=output.as_json)
        leave(laying.signal)
        return
    if what is Printable.MARKERS:
        printed, notes = _markers(order, fabric, laying, force=output.force)
    else:
        printed, notes = _pieces(order, table, force=output.force)
    _tell(printed, notes, asked, what, as_json=output.as_json)
    leave(laying.signal)


def _reference(job: Path | None, what: Printable, output: Output, paper: str | None, roll: str | None) -> None:
    """Print the reference sheet, which belongs to no job."""
    from pieces.photo.board import reference_boards
    from reports.errors import PaperError
    from reports.output import refuse_overwriting
    from reports.paper.reference import print_reference
    from reports.paper.size import parse_paper

    if what is not Printable.REFERENCE:
        raise PaperError(f"--what {what} needs a job: name its file, such as ellwand print jacket.toml")
    if job is not None or roll:
        raise PaperError("--what reference is one sheet for every job: leave out the job and --roll")
    on = parse_paper(paper or "a4")
    path = (output.out or Path("reference-print")) / f"reference-{on.name.lower()}.pdf"
    refuse_overwriting([path], force=output.force)
    said = print_reference(path, on)
    if output.as_json:
        one = {"file": str(path), "paper": on.name, "page_mm": [on.width, on.height], "pages": len(reference_boards())}
        one |= {"columns": 1, "rows": 1, "blank": 0, "check": None}
        emit(json.dumps({"schema": 3, "job": "", "what": what, "files": [one], "notes": []}))
        return
    show(f"{path.name}: {said}.")
    show("Print at scale 100 %, with fit to page turned off; measure the long line with a ruler.")
    show_files([path])


def _tell(printed: Sequence[Printed], notes: Sequence[str], of: Recipe, what: Printable, *, as_json: bool) -> None:
    """Write the check sheet of each file, and tell of both."""
    from reports.checksheet.files import write_check_sheets
    from reports.paper.order import printed_to_plain

    checks = [path for one in printed for path in write_check_sheets(one.title, [one.path], of.written_in)]
    if as_json:
        files = [printed_to_plain(one) | {"check": str(check)} for one, check in zip(printed, checks, strict=True)]
        emit(json.dumps({"schema": 3, "job": of.name, "what": what, "files": files, "notes": notes}))
    else:
        show(*notes, *(f"{one.path.name}: {one.words}." for one in printed))
        show("Print at scale 100 %, with fit to page turned off; measure the test squares before you cut.")
        show_files([path for one, check in zip(printed, checks, strict=True) for path in (one.path, check)])


def _dossier(job: Job, folder: Path, laying: TerminalLaying, *, force: bool, as_json: bool) -> None:
    """Lay the job, and print its dossier."""
    from reports.buy.downloads import DOSSIER
    from reports.dossier.pages import PAGE, write_dossier
    from reports.output import refuse_overwriting
    from reports.plan.words import refusal_lines

    path = folder / DOSSIER
    refuse_overwriting([path], force=force)
    plan, _ = answer(job, laying, rib=True)
    pages, notes = write_dossier(plan, path), list(refusal_lines(plan))
    if as_json:
        file = {
            "file": str(path),
            "paper": "A4",
            "page_mm": PAGE,
            "pages": pages,
            "columns": 1,
            "rows": pages,
            "blank": 0,
            "check": None,
        }
        emit(json.dumps({"schema": 3, "job": job.name, "what": Printable.DOSSIER, "files": [file], "notes": notes}))
        return
    show(*notes, f"{path.name}: {pages} pages, A4 on its side; long cloth on taller ones.")
    show_files([path])


def _refuse_paper(paper: str | None, roll: str | None) -> None:
    from reports.errors import PaperError

    if paper or roll:
        raise PaperError("--paper and --roll are for prints at full scale: leave them out, a dossier is drawn small")


def _refuse_mixed(what: Printable, table: str | None, fabric: int | None) -> None:
    from reports.errors import PaperError

    if what is not Printable.PIECES and table:
        raise PaperError("--sizes is for pieces: leave it out, or print --what pieces")
    if what is not Printable.MARKERS and fabric is not None:
        raise PaperError("--fabric is for markers: leave it out, or print --what markers")


def _pieces(order: PrintOrder, table: str | None, *, force: bool) -> tuple[list[Printed], list[str]]:
    """Print the job's pieces, in its own size or in those of a table."""
    from reports.ask.draft import draft_job
    from reports.checksheet.files import with_sheets
    from reports.output import refuse_overwriting

    refuse_overwriting(with_sheets([order.file("sizes" if table else "pieces")]), force=force)
    if not table:
        return [order.print_pieces(draft_job(order.job))], []
    from reports.ask.imported import IMPORTED
    from reports.ask.sizes import table_for
    from reports.sizes.by_rules import grade_sizes
    from reports.sizes.sizes import draft_sizes

    if order.job.garment == IMPORTED:
        ruled = grade_sizes(order.job, Path(table))
        drafted, refused, of = ruled.drafted, ruled.refused, f"grade rules of {Path(table).name}"
    else:
        graded = draft_sizes(order.job, table_for(order.job, table))
        drafted, refused, of = graded.drafted, graded.refused, graded.table.title
    left = [f"note: size {size} is left out: {reason}" for size, reason in refused.items()]
    return [order.print_sizes(drafted, of)], left


def _lays(
    order: Order, files: Sequence[Path], folder: Path, paper: Paper | None, notches: NotchCut, *, force: bool
) -> list[Printed]:
    """Print the markers of a run's lays."""
    from reports.checksheet.files import with_sheets
    from reports.output import refuse_overwriting
    from reports.paper.order import file_for
    from reports.run.lay_file import read_lays
    from reports.run.on_paper import print_lay

    named = {file_for(folder, paper, f"lay-{one.ticket}"): one for one in read_lays(order, files)}
    refuse_overwriting(with_sheets(list(named)), force=force)
    return [print_lay(one, order, path, paper, notches) for path, one in named.items()]


def _markers(
    order: PrintOrder, fabric: int | None, laying: TerminalLaying, *, force: bool
) -> tuple[list[Printed], list[str]]:
    """Lay and print the job's markers; and what was refused."""
    from reports.checksheet.files import with_sheets
    from reports.output import refuse_overwriting
    from reports.plan.words import refusal_lines

    asked: Job = order.job if fabric is None else order.job.with_cloth(fabric)
    first = fabric or 1
    numbers = range(first, first + len(asked.fabric))
    refuse_overwriting(with_sheets([order.file(f"marker-{number}") for number in numbers]), force=force)
    plan, _ = answer(asked, laying)
    printed = [order.print_marker(first - 1 + number, found) for number, found in plan.markers]
    return printed, list(refusal_lines(plan))
