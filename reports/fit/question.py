"""The question whether the pieces fit on a remnant."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Annotated, Any, Literal, NamedTuple, cast

import typer

from reports.asking.options import LayFiles, OneSearch
from reports.asking.question import Question
from reports.asking.subject import JOB, ORDER
from reports.plan.effort import Effort

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence
    from pathlib import Path

    from rich.table import Table

    from nesting.fit.fitting import Fitting
    from nesting.fit.remnant import Remnant, RemnantSpread
    from reports.ask.job import Job
    from reports.ask.order.order import Order
    from reports.asking.laying import LaysMarkers
    from reports.asking.subject import SubjectFile
    from reports.fit.remnant import RemnantTask
    from reports.fit.ways import TriedWayOut
    from reports.plan.cut_cloth import CutCloth
    from reports.plan.piecing import ClothAcross
    from reports.schema.written_answer import WrittenAnswer

    ReadLays = Callable[[Order, Sequence[Path]], Sequence[CutCloth]]

NO = 1
"""Exit code where the pieces do not fit, or no layout was found."""


class FitsOptions(NamedTuple):
    """The remnant, or the table, and how it lies; or a lay of a run."""

    remnant: Annotated[
        str | None,
        typer.Option(
            "--remnant", metavar="SIZE", help='Width x length, measured after squaring the ends: "60 in x 1 1/4 yd".'
        ),
    ] = None
    lay: LayFiles = None
    table: Annotated[
        str | None,
        typer.Option("--table", metavar="LENGTH", help="With --lay, instead of a remnant: the length of a table."),
    ] = None
    cut_out: Annotated[
        list[str] | None,
        typer.Option(
            "--cut-out",
            metavar="X,Y,L,W",
            help="A missing or flawed area: distance from the start, from the lower edge, length, width;"
            ' "0 in,30 in,12 in,15 in". Repeat for more.',
        ),
    ] = None
    cloth: Annotated[
        str | None,
        typer.Option("--cloth", metavar="NAME", help="Use this cloth of the job and its pieces; by default the first."),
    ] = None
    spread: Annotated[
        Literal["open", "folded", "double-folded", "best"] | None,
        typer.Option(
            "--spread",
            help="How it lies: by default open, or as the lay; best tries folded, which is quicker to cut, then open.",
        ),
    ] = None
    nap: Annotated[
        bool | None,
        typer.Option("--nap/--no-nap", help="Whether it has a nap or a one-way print; by default as the cloth."),
    ] = None
    selvedge: Annotated[
        str | None,
        typer.Option(
            "--selvedge",
            metavar="WIDTH",
            help='Width of the selvedge on each side; by default as the cloth; "0 in" for none.',
        ),
    ] = None
    least_seam: Annotated[
        str,
        typer.Option("--least-seam", metavar="WIDTH", help="Least that a way out trims seam allowances to."),
    ] = "3/8 in"  # what the trade cuts, by two pages of a teacher of the trade


def _spreads(spread: str) -> tuple[RemnantSpread, ...]:
    """The ways to try, in this order."""
    return ("folded", "open") if spread == "best" else (cast("RemnantSpread", spread),)


def _require_one(options: FitsOptions) -> None:
    """Refuse no remnant and no table, both, and options that go with the other."""
    from reports.errors import JobError

    if options.lay and len(options.lay) > 1:
        raise JobError("fits takes one lay at a time: give --lay once")
    if options.table and not options.lay:
        raise JobError("--table asks about a lay of a run: add --lay FILE, or give --remnant SIZE")
    if (options.remnant is None) == (options.table is None):
        more = ", or --table LENGTH" if options.lay else ""
        raise JobError(f'give what the pieces are to fit on: --remnant SIZE, such as "60 in x 1 1/4 yd"{more}')
    table = options.table is not None
    told = {
        "--cloth": bool(options.lay and options.cloth),
        "--cut-out": bool(table and options.cut_out),
        "--selvedge": table and options.selvedge is not None,
        "--nap": table and options.nap is not None,
    }
    for name, wrong in told.items():
        if wrong:
            raise JobError(f"leave {name} out: the lay has its own cloth")


class FitsAsked(NamedTuple):
    """What is to be cut, the remnant, and the ways in which it may lie."""

    task: RemnantTask
    remnant: Remnant
    spreads: tuple[RemnantSpread, ...]
    across: ClothAcross | None
    least_seam: float


class FitsFound(NamedTuple):
    """What came of it."""

    fitting: Fitting
    task: RemnantTask
    ways: tuple[TriedWayOut, ...] = ()


class Fits(Question[FitsAsked, FitsFound]):
    """Say whether the pieces fit on a remnant: yes (exit code 0), no with a proof, or not found (both 1).

    Parameters
    ----------
    read_lays
        Reads the lays of an order from their files.
    """

    name = "fits"
    example = 'ellwand fits jacket.toml --remnant "60 in x 1 1/4 yd"'
    Options = FitsOptions
    search = OneSearch
    usual = Effort()

    def __init__(self, read_lays: ReadLays) -> None:
        self._read_lays = read_lays

    def subject_of(self, options: FitsOptions) -> SubjectFile:
        """With a lay the file is an order."""
        _require_one(options)
        return ORDER if options.lay else JOB

    def read(self, subject: Job | Order, options: FitsOptions) -> FitsAsked:
        """Read the remnant, and draft what is cut of it; or read the lay."""
        from reports.ask.job import Job

        if not isinstance(subject, Job):
            return self._read_lay(subject, options)
        assert options.remnant is not None
        from reports.ask.draft import draft_job
        from reports.change.ways_out import least_of
        from reports.fit.remnant import RemnantTask, cloth_named, parse_remnant
        from reports.plan.piecing import ClothAcross

        like, selvedge = cloth_named(subject, options.cloth), options.selvedge
        given = parse_remnant(options.remnant, options.cut_out or (), selvedge=selvedge, nap=options.nap, cloth=like)
        spreads = _spreads(options.spread or "open")
        across = ClothAcross.of_remnant(given, spreads, like.tilt if like else 0.0)
        task = RemnantTask.of(subject, like, draft_job(subject), across, selvedge=selvedge)
        return FitsAsked(task, given, spreads, across, least_of(options.least_seam))

    def _read_lay(self, order: Order, options: FitsOptions) -> FitsAsked:
        """Read a lay, and the remnant or the table that it is to lie on."""
        from reports.fit.lay import FitLay
        from reports.fit.remnant import RemnantTask, parse_remnant

        (cut,) = self._read_lays(order, options.lay or ())
        lay = FitLay.of(cut, options.table)
        if lay.table is not None:
            given = lay.cloth_on(cut.offer)
        else:
            assert options.remnant is not None
            given = parse_remnant(
                options.remnant, options.cut_out or (), selvedge=options.selvedge, nap=options.nap, cloth=cut.offer
            )
        task = RemnantTask.of_lay(order, cut, lay, selvedge=options.selvedge)
        usual = cut.spread if cut.spread in ("open", "folded") else "open"
        return FitsAsked(task, given, _spreads(options.spread or usual), None, 0.0)

    def lay(self, posed: FitsAsked, laying: LaysMarkers) -> FitsFound:
        """Prove that they do not fit, or search for a layout."""
        from nesting.fit.fitting import FitTerms, fit_sets
        from reports.fit.ways import try_ways_out, was_interrupted

        task = posed.task
        with laying.watched(task.units) as usual:
            effort = replace(usual, sold=task.cloth)
            terms = FitTerms(
                effort.criteria,
                effort.seed,
                effort.workers,
                effort.proof_in_all,
                effort.listener,
                effort.aims,
                effort.proving,
                effort.interrupt,
            )
            fitting = fit_sets(
                task.sets, posed.remnant, posed.spreads, terms, waste_twins=task.waste_twins, known=task.marker
            )
            ways: tuple[TriedWayOut, ...] = ()
            if posed.across and fitting.answer == "not found" and not was_interrupted(fitting):
                ways = try_ways_out(task, posed.remnant, posed.spreads, posed.across, posed.least_seam, effort)
        return FitsFound(fitting, task, ways)

    def plain(self, found: FitsFound) -> dict[str, Any]:
        """The answer with its proof, and the layout where there is one."""
        from reports.fit.plain import fits_to_plain

        return fits_to_plain(*found)

    def words(self, found: FitsFound) -> Iterator[Table | str]:
        """Where each piece lies, and the answer."""
        from reports.fit.ways import way_out_lines
        from reports.fit.words import fits_lines, places_table

        layout = found.fitting.layout
        if layout and layout.result:
            yield places_table(layout.result.marker, found.task.units)
        fit = found.ways[-1].fitting if found.ways else None
        if fit and fit.layout and fit.layout.result:
            yield places_table(fit.layout.result.marker, found.task.units)
        yield from fits_lines(found.fitting, found.task)
        yield from way_out_lines(found.ways, found.task)

    def files(self, posed: FitsAsked) -> list[str]:
        """The answer as data, in words and as a picture; and a picture of the way out."""
        from reports.fit.files import FILES, WAY_FILES

        return [*FILES, *WAY_FILES]

    def write(self, found: FitsFound, folder: Path) -> list[Path]:
        """Write them."""
        from reports.fit.files import write_fits

        return write_fits(found.fitting, found.task, found.ways, folder)

    def schema(self) -> WrittenAnswer:
        """Yes with a layout, no with a proof, or not found."""
        from reports.fit.schema import FitsAnswer
        from reports.schema.written_answer import WrittenAnswer

        return WrittenAnswer("whether the pieces fit on a remnant", FitsAnswer, 4)

    def code(self, found: FitsFound) -> int:
        """0 where they fit."""
        return 0 if found.fitting.answer == "yes" else NO

    def is_settled(self, found: FitsFound) -> bool:
        """Whether it is yes or no."""
        return found.fitting.answer != "not found"
