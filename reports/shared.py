"""What commands share: their options, a search with its progress and files, and how they print."""

from __future__ import annotations

import os
import signal
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, NamedTuple, NoReturn

import typer

from reports.start import tell

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nesting.stop import MaxIterations, SearchTime
    from reports.folder import Part
    from reports.job import Job
    from reports.plan import Plan

JobPath = Annotated[Path, typer.Argument(metavar="JOB", help="The job file, TOML; 'ellwand new' writes one.")]
OutPath = Annotated[Path | None, typer.Option("--out", metavar="DIR", help="Folder to write files to.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print one JSON object, and nothing else, on stdout.")]
Force = Annotated[bool, typer.Option("--force", help="Overwrite files that are already there.")]
ClothNumber = Annotated[
    int | None, typer.Option("--fabric", metavar="N", help="Only the job's N-th cloth; by default every one.")
]
MOST = 2**31 - 1
"""Of a whole number on the command line: what every library takes."""

Seconds = Annotated[
    float | None,
    typer.Option(min=0, max=86_400, help="Search time for each marker, making ready apart: instead of --iterations."),
]
Iterations = Annotated[
    int | None,
    typer.Option(
        min=0, max=MOST, help="Rounds of search for each marker, by default 60; with one worker, a run repeats exactly."
    ),
]
Seed = Annotated[int, typer.Option(min=0, max=MOST, help="Start of all random choices.")]
Workers = Annotated[int, typer.Option(min=1, max=64, help="Searches side by side, each on a core of its own.")]

ITERATIONS = 60
"""Of the search for each marker, where neither these nor a time are asked for: some half a second for a jacket, more
for larger markers, and the same answer each time. More brings less than a step of what is sold, mostly."""

PROOF, MOST_PROOF = 0.1, 2.0
"""Effort for a sharper bound: by default, twice as much for each second of search time, and at most."""

ALL: tuple[Part, ...] = ("pieces", "markers", "rib", "answer")


class Search(NamedTuple):
    """How a command was asked to search."""

    seconds: float | None
    iterations: int | None
    seed: int
    workers: int
    quiet: bool = False

    @property
    def total(self) -> float:
        """Iterations of the search for each marker, or its seconds."""
        if self.iterations is None and self.seconds is not None:
            return self.seconds
        return ITERATIONS if self.iterations is None else self.iterations

    @property
    def is_timed(self) -> bool:
        """Whether the search is limited by time, not by iterations."""
        return self.iterations is None and self.seconds is not None

    def limit(self) -> SearchTime | MaxIterations:
        """A fresh criterion for one search."""
        from nesting.stop import MaxIterations, SearchTime

        return SearchTime(self.total) if self.is_timed else MaxIterations(int(self.total))

    @property
    def proof(self) -> float:
        """Effort for a sharper bound on each marker."""
        return min(2 * PROOF * self.total, MOST_PROOF) if self.is_timed else PROOF * (self.total > 0)


def only_cloth(job: Job, number: int) -> Job:
    """The job with one of its cloths."""
    from reports.errors import JobError

    if job.fabric and not 1 <= number <= len(job.fabric):
        cloths = "1 cloth" if len(job.fabric) == 1 else f"{len(job.fabric)} cloths"
        raise JobError(f"--fabric {number}: {job.name} offers {cloths}: choose a number from 1 to {len(job.fabric)}")
    return job.model_copy(update={"fabric": job.fabric[number - 1 : number]})


def answer(
    job: Job,
    search: Search,
    folder: Path | None,
    parts: tuple[Part, ...],
    *,
    force: bool,
    rib: bool = True,
    also: Sequence[Path] = (),
) -> tuple[Plan, int, list[Path]]:
    """Plan a job and write its files; the plan, the signal that cut the search short (or 0), and the files."""
    from nesting import prepare
    from nesting.stop import AnyOf
    from reports.answers import Effort
    from reports.folder import planned_files, write_plan
    from reports.output import refuse_overwriting
    from reports.plan import plan_job
    from reports.progress import Bars, Interrupt

    if folder:
        refuse_overwriting([*planned_files(job, folder, parts), *also], force=force)
    if search.total:
        prepare.begin()  # beside the drafting
    with Interrupt() as interrupt, Bars(search.total, search.is_timed, job.written_in, quiet=search.quiet) as bars:
        effort = Effort(
            lambda: AnyOf(interrupt, search.limit()), search.seed, search.workers, bars.listener, search.proof
        )
        plan = plan_job(job, effort, rib=rib)
    return plan, interrupt.signal, write_plan(plan, folder, parts) if folder else []


def show_answer(plan: Plan) -> None:
    """Print a plan: cloth, rib, remarks, and the answer in words."""
    from reports.words import additions_table, answer_lines, fabric_table, rib_table

    show(fabric_table(plan), additions_table(plan))
    if plan.ribs:
        show(rib_table(plan))
    show(*(f"note: {remark}" for remark in plan.remarks), "")
    show(*answer_lines(plan))


def show_files(written: Sequence[Path]) -> None:
    """Say which files were written, and where."""
    if written:
        show("", f"Written to {written[0].parent}:  {'  '.join(path.name for path in written)}")


def printed(*what: Any) -> str:
    """Tables and lines as they are printed, for a file of text."""
    from io import StringIO

    from rich.console import Console
    from rich.table import Table

    console = Console(file=StringIO(), highlight=False, width=140)
    with console.capture() as capture:
        for thing in what:
            console.print(thing, soft_wrap=isinstance(thing, str), markup=isinstance(thing, Table))
            if isinstance(thing, Table):
                console.print()
    return "\n".join(line.rstrip() for line in capture.get().splitlines()) + "\n"


def show(*what: Any) -> None:
    """Print tables and lines for a person; plain where stdout is no terminal."""
    from rich.console import Console
    from rich.table import Table

    class Page(Console):
        def on_broken_pipe(self) -> None:
            _end_quietly()

    console = Page(highlight=False)
    if not console.is_terminal:
        console = Page(highlight=False, width=140)
    for thing in what:
        console.print(thing, soft_wrap=isinstance(thing, str), markup=isinstance(thing, Table))
        if isinstance(thing, Table):
            console.print()


def emit(text: str) -> None:
    """Data on stdout; a reader that has gone away ends the program quietly, as a signal would."""
    try:
        sys.stdout.write(text + "\n")
        sys.stdout.flush()
    except BrokenPipeError:
        _end_quietly()


def _end_quietly() -> NoReturn:
    """End as a signal would, now that whoever read the output went away."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    raise typer.Exit(128 + signal.SIGPIPE) from None


def leave(signalled: int) -> None:
    """End as the signal asks that cut the search short; 0 is none."""
    if signalled:
        tell("ellwand: interrupted; this is the best found so far")
        raise typer.Exit(128 + signalled)
