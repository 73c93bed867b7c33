"""The command `ellwand`: parses, calls, prints. Heavy packages are imported only by the commands that need them."""

from __future__ import annotations

import json
import os
import signal
import sys
from importlib.resources import files
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, NamedTuple, NoReturn

import typer

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reports.folder import Part
    from reports.job import Job
    from reports.plan import Plan

app = typer.Typer(
    name="ellwand",
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode="rich",
    help="Drafts a garment from body measurements, lays its pieces on cloth, and says how many yards to buy.",
    epilog="Start with:  ellwand demo   or   ellwand new jacket.toml",
)

JobPath = Annotated[Path, typer.Argument(metavar="JOB", help="The job file, TOML; 'ellwand new' writes one.")]
OutPath = Annotated[Path | None, typer.Option("--out", metavar="DIR", help="Folder to write files to.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print one JSON object, and nothing else, on stdout.")]
Force = Annotated[bool, typer.Option("--force", help="Overwrite files that are already there.")]
Seconds = Annotated[float, typer.Option(min=0, max=86_400, help="Search time for each marker.")]
Iterations = Annotated[
    int | None, typer.Option(min=0, help="Search by count instead of time: with one worker, a run repeats exactly.")
]
Seed = Annotated[int, typer.Option(min=0, help="Start of all random choices.")]
Workers = Annotated[int, typer.Option(min=1, max=64, help="Searches side by side, each on a core of its own.")]

DEFAULT_SECONDS = 2.0

PROOF, MOST_PROOF = 0.2, 2.0
"""Effort for a sharper bound at the default search time, growing with it; and at most."""


def _version(asked: bool) -> None:
    if asked:
        from importlib.metadata import version

        typer.echo(f"ellwand {version('ellwand')}")
        raise typer.Exit


@app.callback()
def _main(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Say which version.")
    ] = False,
) -> None:
    """Take the options that stand before any command."""


@app.command(epilog="Example:  ellwand new jacket.toml")
def new(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="Where to write the job file.")],
    as_json: AsJson = False,
    force: Force = False,
) -> None:
    """Write a commented job file to start from."""
    from reports.output import refuse_overwriting, write_text

    refuse_overwriting([file], force=force)
    write_text(file, _template())
    if as_json:
        _emit(json.dumps({"file": str(file)}))
        return
    typer.echo(f"Wrote {file}. Fill in the measurements, then:  ellwand buy {file}")


@app.command(epilog="Example:  ellwand demo")
def demo(
    out: OutPath = None,
    seconds: Seconds = DEFAULT_SECONDS,
    seed: Seed = 0,
    workers: Workers = 1,
    as_json: AsJson = False,
    force: Force = False,
) -> None:
    """Do a whole job of our own: a zipped jacket, two widths of canvas, two kinds of ribbing."""
    from reports.job import parse_job
    from reports.machine import plan_to_plain
    from reports.output import write_text

    folder = out or _fresh_folder("ellwand-demo")
    file = folder / "jacket.toml"
    if not as_json:
        typer.echo("The demo: a zipped jacket with rib cuffs, hem and neck; two canvases, two kinds of ribbing.")
    job = parse_job(_template(), file.name)
    plan, signalled, written = _answer(
        job, _Search(seconds, None, seed, workers, quiet=as_json), folder, ALL, force=force, also=[file]
    )
    write_text(file, _template())
    if as_json:
        _emit(json.dumps(plan_to_plain(plan)))
    else:
        _show_answer(plan)
        _show_files([file, *written])
        typer.echo(f"Change a measurement in {file}, then:  ellwand buy {file}")
    _leave(signalled)


@app.command(epilog="Example:  ellwand draft jacket.toml --out jacket-pieces")
def draft(job: JobPath, out: OutPath = None, as_json: AsJson = False, force: Force = False) -> None:
    """Draft the pattern pieces: sizes, seams checked, a sheet of all pieces."""
    from pieces.exchange.plain import to_plain
    from reports.folder import planned_files, write_pieces
    from reports.job import read_job
    from reports.output import refuse_overwriting
    from reports.plan import draft_job

    asked = read_job(job)
    if out:
        refuse_overwriting(planned_files(asked, out, ["pieces"]), force=force)
    pieces = draft_job(asked)
    written = write_pieces(asked, pieces, out) if out else []
    if as_json:
        _emit(json.dumps(to_plain(pieces)))
        return
    from reports.words import measures_table, pieces_table

    _print(pieces_table(pieces, asked.written_in), measures_table(pieces, asked.written_in))
    _print(*(f"note: {note}" for note in (*asked.measured().remarks(asked.written_in), *pieces.notes)))
    _show_files(written)


@app.command(epilog="Example:  ellwand lay jacket.toml --out jacket-marker --seconds 10")
def lay(
    job: JobPath,
    out: OutPath = None,
    seconds: Seconds = DEFAULT_SECONDS,
    iterations: Iterations = None,
    seed: Seed = 0,
    workers: Workers = 1,
    as_json: AsJson = False,
    force: Force = False,
) -> None:
    """Lay the pieces on each cloth; draw each marker to cut from (into JOB-marker or --out; with --json only --out)."""
    from reports.job import read_job
    from reports.machine import marker_to_plain

    asked = read_job(job)
    folder = out or (None if as_json else Path(f"{job.stem}-marker"))
    search = _Search(seconds, iterations, seed, workers, quiet=as_json)
    plan, signalled, written = _answer(asked, search, folder, ("pieces", "markers"), force=force, rib=False)
    if as_json:
        _emit(json.dumps({"markers": [marker_to_plain(fabric) for _, fabric in plan.markers]}))
    else:
        from reports.words import fabric_table, laid_lines

        _print(fabric_table(plan), *laid_lines(plan))
        _show_files(written)
    _leave(signalled)


@app.command(epilog="Example:  ellwand buy jacket.toml --json")
def buy(
    job: JobPath,
    out: OutPath = None,
    seconds: Seconds = DEFAULT_SECONDS,
    iterations: Iterations = None,
    seed: Seed = 0,
    workers: Workers = 1,
    as_json: AsJson = False,
    force: Force = False,
) -> None:
    """Say how much cloth and rib to buy, what it costs, and how far the best possible could still be."""
    from reports.job import read_job
    from reports.machine import plan_to_plain

    search = _Search(seconds, iterations, seed, workers, quiet=as_json)
    plan, signalled, written = _answer(read_job(job), search, out, ALL, force=force)
    if as_json:
        _emit(json.dumps(plan_to_plain(plan)))
    else:
        _show_answer(plan)
        _show_files(written)
    _leave(signalled)


ALL: tuple[Part, ...] = ("pieces", "markers", "rib", "answer")


class _Search(NamedTuple):
    seconds: float
    iterations: int | None
    seed: int
    workers: int
    quiet: bool = False


def _answer(
    job: Job,
    search: _Search,
    folder: Path | None,
    parts: tuple[Part, ...],
    *,
    force: bool,
    rib: bool = True,
    also: Sequence[Path] = (),
) -> tuple[Plan, int, list[Path]]:
    """Plan a job and write its files; the plan, the signal that cut the search short (or 0), and the files."""
    from nesting.stop import AnyOf, MaxIterations, SearchTime
    from reports.folder import planned_files, write_plan
    from reports.output import refuse_overwriting
    from reports.plan import Effort, plan_job
    from reports.progress import Bars, Interrupt

    if folder:
        refuse_overwriting([*planned_files(job, folder, parts), *also], force=force)
    with Interrupt() as interrupt, Bars(search.seconds, job.written_in, quiet=search.quiet) as bars:

        def stop() -> AnyOf:
            limit = SearchTime(search.seconds) if search.iterations is None else MaxIterations(search.iterations)
            return AnyOf(interrupt, limit)

        proof = (
            0.0 if search.iterations == 0 else PROOF if search.iterations else search.seconds * PROOF / DEFAULT_SECONDS
        )
        effort = Effort(stop, search.seed, search.workers, bars.listener, min(proof, MOST_PROOF))
        plan = plan_job(job, effort, rib=rib)
    return plan, interrupt.signal, write_plan(plan, folder, parts) if folder else []


def _template() -> str:
    return (files("reports") / "templates" / "job.toml").read_text(encoding="utf-8")


def _fresh_folder(name: str) -> Path:
    """A folder of that name that is not there yet: nothing is overwritten."""
    tries = (Path(name if number == 1 else f"{name}-{number}") for number in count(1))
    return next(folder for folder in tries if not folder.exists())


def _show_answer(plan: Plan) -> None:
    from reports.words import additions_table, answer_lines, fabric_table, rib_table

    _print(fabric_table(plan), additions_table(plan))
    if plan.ribs:
        _print(rib_table(plan))
    _print(*(f"note: {remark}" for remark in plan.remarks), "")
    _print(*answer_lines(plan))


def _show_files(written: Sequence[Path]) -> None:
    if written:
        _print("", f"Written to {written[0].parent}:  {'  '.join(path.name for path in written)}")


def _print(*what: Any) -> None:
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


def _emit(text: str) -> None:
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


def _leave(signalled: int) -> None:
    if signalled:
        typer.echo("ellwand: interrupted; this is the best found so far", err=True)
        raise typer.Exit(128 + signalled)


def main() -> None:
    """Run the command: a user's mistake is one line on stderr and exit code 2."""
    try:
        app()
    except KeyboardInterrupt:
        typer.echo("ellwand: interrupted before there was anything to show", err=True)
        sys.exit(128 + signal.SIGINT)
    except Exception as error:
        from nesting.errors import CheckError, NestingError
        from pieces.errors import PieceError
        from reports.errors import ReportError

        mistakes = (PieceError, NestingError, ReportError, OSError)
        if not isinstance(error, mistakes) or isinstance(error, CheckError):
            raise
        _fail(error)


def _fail(error: Exception) -> None:
    said = str(error)
    if isinstance(error, OSError) and error.strerror:
        said = f"{error.strerror}: {error.filename}" if error.filename else error.strerror
    typer.echo(f"ellwand: {' '.join(said.split())}", err=True)
    sys.exit(2)
