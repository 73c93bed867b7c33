"""The command `ellwand`: parses, calls, prints. Heavy packages are imported only by the commands that need them."""

from __future__ import annotations

import errno
import gc
import json
import os
import sys
from contextvars import copy_context
from importlib.resources import files
from io import TextIOWrapper
from itertools import count
from pathlib import Path
from typing import Annotated

import typer

from reports.commands.answering import ALL, answer, show_answer
from reports.commands.chart import chart
from reports.commands.check import check
from reports.commands.export import export
from reports.commands.fits import fits
from reports.commands.guide import guide
from reports.commands.import_pieces import import_pieces
from reports.commands.measures import measures
from reports.commands.options import AsJson, Force, Iterations, JobPath, OutPath, Seconds, Seed, Workers
from reports.commands.print import print as print_out
from reports.commands.report import report
from reports.commands.run import run
from reports.commands.saves import saves
from reports.commands.schema import schema
from reports.commands.serve import serve
from reports.commands.sizes import sizes
from reports.commands.terminal import emit, leave, show, show_files
from reports.commands.widths import widths
from reports.plan.effort import SearchOptions
from reports.signals import say, tell

MISTAKE = 2
"""Exit code where something is wrong in the job or on the command line."""

OBJECTS = 100_000
"""New objects after which Python looks for cycles: there are hardly any, and looking took 8 % of `buy`."""

FULL = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO)
"""What the system says where there is no room to write."""

OUR_FAULT = 70
"""Exit code where this program itself made a mistake: that of the BSD headers for an internal error of software."""

app = typer.Typer(
    name="ellwand",
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode="rich",
    help="Drafts a garment from body measurements, lays its pieces on cloth, and says how many yards to buy.",
    epilog="Start with:  ellwand demo   or   ellwand new jacket.toml",
)


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
    file: Annotated[Path, typer.Argument(metavar="FILE", help="Where to write the file.")],
    for_run: Annotated[bool, typer.Option("--run", help="An order file, for a production run.")] = False,
    as_json: AsJson = False,
    force: Force = False,
) -> None:
    """Write a commented job file to start from, or an order file."""
    from reports.output import refuse_overwriting, write_text

    refuse_overwriting([file], force=force)
    write_text(file, _template("order" if for_run else "job"))
    if as_json:
        emit(json.dumps({"file": str(file)}))
    elif for_run:
        typer.echo(f"Wrote {file}. Fill in the order, the cloths and the prices, then:  ellwand run {file}")
    else:
        typer.echo(f"Wrote {file}. Fill in the measurements, then:  ellwand buy {file}")


@app.command(epilog="Example:  ellwand demo")
def demo(
    out: OutPath = None,
    seconds: Seconds = None,
    seed: Seed = 0,
    workers: Workers = 1,
    as_json: AsJson = False,
    force: Force = False,
) -> None:
    """Do a whole job of our own: a zipped jacket, two widths of canvas, two kinds of ribbing."""
    from reports.ask.job import parse_job
    from reports.output import write_text
    from reports.plan.plain import plan_to_plain

    folder = out or _fresh_folder("ellwand-demo")
    file = folder / "jacket.toml"
    if not as_json:
        typer.echo("The demo: a zipped jacket with rib cuffs, hem and neck; two canvases, two kinds of ribbing.")
    job = parse_job(_template(), file.name)
    plan, signalled, written = answer(
        job, SearchOptions(seconds, None, seed, workers, quiet=as_json), folder, ALL, force=force, also=[file]
    )
    write_text(file, _template())
    if as_json:
        emit(json.dumps(plan_to_plain(plan)))
    else:
        show_answer(plan)
        show_files([file, *written])
        typer.echo(f"Change a measurement in {file}, then:  ellwand buy {file}")
    leave(signalled)


@app.command(epilog="Example:  ellwand draft jacket.toml --out jacket-pieces")
def draft(job: JobPath, out: OutPath = None, as_json: AsJson = False, force: Force = False) -> None:
    """Draft the pattern pieces: sizes, seams checked, a sheet of all pieces."""
    from pieces.exchange.own.plain import to_plain
    from reports.ask.draft import draft_job
    from reports.ask.job import read_job
    from reports.buy.files import planned_files, write_pieces
    from reports.output import refuse_overwriting

    asked = read_job(job)
    if out:
        refuse_overwriting(planned_files(asked, out, ["pieces"]), force=force)
    pieces = draft_job(asked)
    written = write_pieces(asked, pieces, out) if out else []
    if as_json:
        emit(json.dumps(to_plain(pieces)))
        return
    from reports.plan.words import measures_table, pieces_table

    show(pieces_table(pieces, asked.written_in), measures_table(pieces, asked.written_in))
    show(*(f"note: {note}" for note in (*asked.measured().remarks(asked.written_in), *pieces.notes)))
    show_files(written)


@app.command(epilog="Example:  ellwand lay jacket.toml --out jacket-marker --seconds 10")
def lay(
    job: JobPath,
    out: OutPath = None,
    seconds: Seconds = None,
    iterations: Iterations = None,
    seed: Seed = 0,
    workers: Workers = 1,
    as_json: AsJson = False,
    force: Force = False,
) -> None:
    """Lay the pieces on each cloth; draw each marker to cut from (into JOB-marker or --out; with --json only --out)."""
    from reports.ask.job import read_job
    from reports.plan.plain import lay_to_plain

    asked = read_job(job)
    folder = out or (None if as_json else Path(f"{job.stem}-marker"))
    search = SearchOptions(seconds, iterations, seed, workers, quiet=as_json)
    plan, signalled, written = answer(asked, search, folder, ("pieces", "markers"), force=force, rib=False)
    if as_json:
        emit(json.dumps(lay_to_plain(plan)))
    else:
        from reports.plan.words import fabric_table, laid_lines

        show(fabric_table(plan), *laid_lines(plan))
        show_files(written)
    leave(signalled)


@app.command(epilog="Example:  ellwand buy jacket.toml --json")
def buy(
    job: JobPath,
    out: OutPath = None,
    seconds: Seconds = None,
    iterations: Iterations = None,
    seed: Seed = 0,
    workers: Workers = 1,
    as_json: AsJson = False,
    force: Force = False,
) -> None:
    """Say how much cloth and rib to buy, what it costs, and how far the best possible could still be."""
    from reports.ask.job import read_job
    from reports.plan.plain import plan_to_plain

    search = SearchOptions(seconds, iterations, seed, workers, quiet=as_json)
    plan, signalled, written = answer(read_job(job), search, out, ALL, force=force)
    if as_json:
        emit(json.dumps(plan_to_plain(plan)))
    else:
        show_answer(plan)
        show_files(written)
    leave(signalled)


app.command(epilog="Example:  ellwand saves jacket.toml --out jacket-saves")(saves)


app.command(epilog='Example:  ellwand fits jacket.toml --remnant "60 in x 1 1/4 yd"')(fits)


app.command(epilog="Example:  ellwand guide jacket.toml --fabric 1 --out jacket-guide")(guide)


app.command(epilog='Example:  ellwand widths jacket.toml --from "36 in" --to "72 in" --out jacket-widths')(widths)


app.command(epilog='Example:  ellwand chart jacket.toml --widths "45 in, 60 in" --out jacket-chart')(chart)


app.command(epilog="Example:  ellwand sizes women --job jacket.toml --out jacket-sizes")(sizes)


app.command(epilog="Example:  ellwand measures --out tape")(measures)


app.command("import", epilog="Example:  ellwand import coat.dxf --out coat")(import_pieces)


app.command(epilog="Example:  ellwand export jacket.toml --what pieces --as dxf --as svg --out jacket-files")(export)


app.command(epilog="Example:  ellwand print jacket.toml --paper a4 --out jacket-print")(print_out)


app.command(epilog="Example:  ellwand run forty.toml --out forty")(run)


app.command(epilog="Example:  ellwand report jacket.toml --out jacket.html")(report)


app.command(epilog="Example:  ellwand check jacket/marker-1.json --job jacket.toml")(check)


app.command(epilog="Example:  ellwand schema buy")(schema)


app.command(epilog="Example:  ellwand serve")(serve)


def _template(name: str = "job") -> str:
    return (files("reports") / "templates" / f"{name}.toml").read_text(encoding="utf-8")


def _fresh_folder(name: str) -> Path:
    """A folder of that name that is not there yet: nothing is overwritten."""
    tries = (Path(name if number == 1 else f"{name}-{number}") for number in count(1))
    return next(folder for folder in tries if not folder.exists())


def main() -> None:
    """Run the command: a user's mistake is one line on stderr and exit code 2."""
    gc.set_threshold(OBJECTS)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")  # a sign that the encoding lacks is no reason to fail
    try:
        sys.exit(copy_context().run(app, standalone_mode=False))  # what a job says of units ends with it
    except Exception as error:
        sys.exit(_code_of(error))


def _code_of(error: Exception) -> int:
    """Say in one line what went wrong, unless it is our fault; the exit code."""
    if isinstance(error, typer.TyperException) and not error.format_message():
        return MISTAKE  # a command without arguments has shown its help
    from nesting.errors import CheckError, NestingError, WrongMarkerError
    from pieces.errors import PieceError
    from reports.errors import NothingYetError, ReportError
    from reports.one_line import mistake, one_line

    if isinstance(error, NothingYetError):
        tell(f"ellwand: {error}")
        return 128 + error.signal
    if isinstance(error, typer.Abort):
        error = OSError("there is no more input: the command ended without an answer to its question")
    if isinstance(error, OSError) and error.errno in FULL and not error.filename:
        error = OSError(error.errno, os.strerror(error.errno), "standard output")  # files are named by who writes them
    mistakes = (PieceError, NestingError, ReportError, OSError, typer.TyperException)
    is_ours = isinstance(error, CheckError)
    if not isinstance(error, mistakes):
        raise error
    said = error.format_message() if isinstance(error, typer.TyperException) else mistake(error)
    if is_ours and not isinstance(error, WrongMarkerError):
        said = f"a fault in this program, not in your job: {said}"
    say(one_line(f"ellwand: {said}"))
    return OUR_FAULT if is_ours else MISTAKE
