"""The command `fits`."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Annotated, Literal

import typer

from reports.shared import (
    DEFAULT_SECONDS,
    MOST_PROOF,
    PROOF,
    AsJson,
    Force,
    Iterations,
    JobPath,
    OutPath,
    Search,
    Seconds,
    Seed,
    Workers,
    emit,
    leave,
    show,
    show_files,
)

if TYPE_CHECKING:
    from nesting.fitting import Fitting
    from nesting.remnant import Remnant, RemnantSpread
    from reports.job import Job

Size = Annotated[
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
Laid = Annotated[
    Literal["open", "folded", "double-folded", "best"],
    typer.Option("--spread", help="How it lies; best tries folded, which is cut sooner, then open."),
]
Nap = Annotated[bool, typer.Option("--nap", help="It has a nap or a one-way print.")]
Selvedge = Annotated[str, typer.Option("--selvedge", metavar="WIDTH", help="Width of the selvedge it has either side.")]

NO = 1
"""Exit code where the pieces do not fit, or no layout was found."""


def fits(
    job: JobPath,
    remnant: Size,
    cut_out: CutOuts = None,
    spread: Laid = "open",
    nap: Nap = False,
    selvedge: Selvedge = "0 in",
    out: OutPath = None,
    seconds: Seconds = DEFAULT_SECONDS,
    iterations: Iterations = None,
    seed: Seed = 0,
    workers: Workers = 1,
    as_json: AsJson = False,
    force: Force = False,
) -> None:
    """Say whether the pieces fit on a remnant: yes (exit code 0), no with a proof, or not found (both 1)."""
    from reports.fits import FILES, fits_lines, fits_to_plain, parse_remnant, places_table, write_fits
    from reports.job import read_job
    from reports.output import refuse_overwriting

    asked = read_job(job)
    gap = asked.fabric[0].gap if asked.fabric else 0.0
    cloth = parse_remnant(remnant, cut_out or (), selvedge=selvedge, nap=nap, gap=gap)
    if out:
        refuse_overwriting([out / name for name in FILES], force=force)
    spreads: tuple[RemnantSpread, ...] = ("folded", "open") if spread == "best" else (spread,)
    fitting, signalled = _fit(asked, cloth, spreads, Search(seconds, iterations, seed, workers, quiet=as_json))
    written = write_fits(fitting, asked, out) if out else []
    if as_json:
        emit(json.dumps(fits_to_plain(fitting, asked)))
    else:
        found = fitting.layout
        if found and found.result:
            show(places_table(found.result.marker, asked.written_in))
        show(*fits_lines(fitting, asked))
        show_files(written)
    if fitting.answer == "not found":
        leave(signalled)
    if fitting.answer != "yes":
        raise typer.Exit(NO)


def _fit(job: Job, remnant: Remnant, spreads: tuple[RemnantSpread, ...], search: Search) -> tuple[Fitting, int]:
    """The answer, and the signal that cut the search short, or 0."""
    from nesting.fitting import fit_pieces
    from nesting.stop import MaxIterations, SearchTime
    from reports.plan import draft_job
    from reports.progress import Bars, Interrupt

    pieces = draft_job(job).of("shell")
    proof = 0.0 if search.iterations == 0 else PROOF if search.iterations else search.seconds * PROOF / DEFAULT_SECONDS
    with Interrupt() as interrupt, Bars(search.seconds, job.written_in, quiet=search.quiet) as bars:
        fitting = fit_pieces(
            pieces,
            remnant,
            spreads,
            lambda: (
                interrupt,
                SearchTime(search.seconds) if search.iterations is None else MaxIterations(search.iterations),
            ),
            seed=search.seed,
            workers=search.workers,
            proof=min(proof, MOST_PROOF),
            garments=job.garments,
            waste_twins=bool(job.fabric) and job.fabric[0].waste_twins,
            listener=bars.listener,
        )
    return fitting, interrupt.signal
