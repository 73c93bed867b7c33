"""The command `fits`."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Annotated, Literal

import typer

from reports.commands.kit.options import AsJson, Force, Iterations, JobPath, OutPath, Seconds, Seed, Workers
from reports.commands.kit.terminal import emit, leave, show, show_files
from reports.plan.effort import SearchOptions

if TYPE_CHECKING:
    from nesting.fit.fitting import Fitting
    from nesting.fit.remnant import Remnant, RemnantSpread
    from reports.fit.question import Question

RemnantSize = Annotated[
    str, typer.Option("--remnant", metavar="SIZE", help='Width x length, its ends squared: "60 in x 1 1/4 yd".')
]
CutOuts = Annotated[
    list[str] | None,
    typer.Option(
        "--cut-out",
        metavar="X,Y,L,W",
        help="What is missing or flawed: distance from the start, from the lower edge, length, width;"
        ' "0 in,30 in,12 in,15 in". May repeat.',
    ),
]
LaidHow = Annotated[
    Literal["open", "folded", "double-folded", "best"],
    typer.Option("--spread", help="How it lies; best tries folded, which is cut sooner, then open."),
]
Cloth = Annotated[
    str | None,
    typer.Option(
        "--cloth", metavar="NAME", help="The job's cloth that it is like, and whose pieces are meant; or the first."
    ),
]
LaidNap = Annotated[
    bool | None, typer.Option("--nap/--no-nap", help="Whether it has a nap or a one-way print; or as the cloth.")
]
Selvedge = Annotated[
    str | None,
    typer.Option(
        "--selvedge", metavar="WIDTH", help='Width of the selvedge either side, or as the cloth; "0 in": none.'
    ),
]

NO = 1
"""Exit code where the pieces do not fit, or no layout was found."""


def fits(
    job: JobPath,
    remnant: RemnantSize,
    cut_out: CutOuts = None,
    cloth: Cloth = None,
    spread: LaidHow = "open",
    nap: LaidNap = None,
    selvedge: Selvedge = None,
    out: OutPath = None,
    seconds: Seconds = 2.0,
    iterations: Iterations = None,
    seed: Seed = 0,
    workers: Workers = 1,
    as_json: AsJson = False,
    force: Force = False,
) -> None:
    """Say whether the pieces fit on a remnant: yes (exit code 0), no with a proof, or not found (both 1)."""
    from reports.ask.draft import draft_job
    from reports.ask.job import read_job
    from reports.fit.files import FILES, write_fits
    from reports.fit.plain import fits_to_plain
    from reports.fit.question import Question, cloth_named, parse_remnant
    from reports.fit.words import fits_lines, places_table
    from reports.output import refuse_overwriting

    asked = read_job(job)
    like = cloth_named(asked, cloth)
    given = parse_remnant(remnant, cut_out or (), selvedge=selvedge, nap=nap, cloth=like)
    question = Question.of(asked, like, draft_job(asked), selvedge=selvedge)
    if out:
        refuse_overwriting([out / name for name in FILES], force=force)
    spreads: tuple[RemnantSpread, ...] = ("folded", "open") if spread == "best" else (spread,)
    fitting, signalled = _fit(
        question, given, spreads, SearchOptions(seconds, iterations, seed, workers, quiet=as_json)
    )
    written = write_fits(fitting, question, out) if out else []
    if as_json:
        emit(json.dumps(fits_to_plain(fitting, question)))
    else:
        found = fitting.layout
        if found and found.result:
            show(places_table(found.result.marker, question.units))
        show(*fits_lines(fitting, question))
        show_files(written)
    if fitting.answer == "not found":
        leave(signalled)
    if fitting.answer != "yes":
        raise typer.Exit(NO)


def _fit(
    question: Question, remnant: Remnant, spreads: tuple[RemnantSpread, ...], search: SearchOptions
) -> tuple[Fitting, int]:
    """The answer, and the signal that cut the search short, or 0."""
    from nesting.fit.fitting import fit_pieces
    from reports.batch.progress import Bars, Interrupt

    garments = question.job.garments
    with Interrupt() as interrupt, Bars(search.total, search.is_timed, question.units, quiet=search.quiet) as bars:
        fitting = fit_pieces(
            question.pieces,
            remnant,
            spreads,
            lambda: (interrupt, search.limit()),
            seed=search.seed,
            workers=search.workers,
            proof=search.proof,
            garments=garments,
            waste_twins=question.cloth is not None and question.cloth.waste_twins,
            listener=bars.listener,
        )
    return fitting, interrupt.signal
