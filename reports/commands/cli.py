"""The command `ellwand`: parses, calls, prints. Heavy packages are imported only by the commands that need them."""

from __future__ import annotations

import errno
import gc
import os
import sys
from contextvars import copy_context
from inspect import cleandoc
from io import TextIOWrapper
from typing import TYPE_CHECKING, Annotated

import typer

from reports.apart import OBJECTS
from reports.commands.kit.flat import flat
from reports.commands.kit.usage import usage_words
from reports.commands.table import all_commands
from reports.signals import say, tell

if TYPE_CHECKING:
    from reports.commands.table import CommandRow

MISTAKE = 2
"""Exit code where something is wrong in the job or on the command line."""

FULL = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO)
"""What the system says where there is no room to write."""

OUR_FAULT = 70
"""Exit code where this program itself made a mistake: that of the BSD headers for an internal error of software."""


def _version(asked: bool) -> None:
    if asked:
        from importlib.metadata import version

        typer.echo(f"ellwand {version('ellwand')}")
        raise typer.Exit


def _main(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Show the version.")
    ] = False,
) -> None:
    """Take the options that come before any command."""


def command_line() -> typer.Typer:
    """The command line, with all commands that there are."""
    app = typer.Typer(
        name="ellwand",
        no_args_is_help=True,
        pretty_exceptions_enable=False,
        rich_markup_mode="rich",
        help="Drafts a garment from body measurements, lays its pieces on cloth, and says how many yards to buy.",
        epilog="Start with:  ellwand demo   or   ellwand new jacket.toml   Topics:  ellwand help",
    )
    app.callback()(_main)
    for row in all_commands():
        _add(app, row)
    return app


def _add(app: typer.Typer, row: CommandRow) -> None:
    """Add a command; of several actions, as a command line of its own."""
    said = f"Example:  {row.example}"
    if not row.actions:
        app.command(row.name, epilog=said)(flat(row.run))
        return
    own = typer.Typer(name=row.name, no_args_is_help=True, help=cleandoc(row.run.__doc__ or ""), epilog=said)
    for action in row.actions:
        _add(own, action)
    app.add_typer(own)


def main() -> None:
    """Run the command: a user's mistake is one line on stderr and exit code 2."""
    gc.set_threshold(OBJECTS)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")  # a sign that the encoding lacks is no reason to fail
    try:
        sys.exit(copy_context().run(command_line(), standalone_mode=False))  # what a job says of units ends with it
    except Exception as error:
        sys.exit(_code_of(error))


def _code_of(error: Exception) -> int:
    """Say in one line what went wrong, unless it is our fault; the exit code."""
    if isinstance(error, typer.TyperException) and not error.format_message():
        return MISTAKE  # a command without arguments has shown its help
    from nesting.errors import CheckError, NestingError, WrongMarkerError
    from pieces.errors import PieceError
    from reports.errors import CountError, NothingYetError, ReportError
    from reports.one_line import mistake, one_line

    if isinstance(error, NothingYetError):
        tell(f"ellwand: {error}")
        return 128 + error.signal
    if isinstance(error, typer.Abort):
        error = OSError("there is no more input: the command ended without an answer to its question")
    if isinstance(error, OSError) and error.errno in FULL and not error.filename:
        error = OSError(error.errno, os.strerror(error.errno), "standard output")  # files are named by who writes them
    mistakes = (PieceError, NestingError, ReportError, OSError, typer.TyperException)
    is_ours = isinstance(error, CheckError | CountError)
    if not isinstance(error, mistakes):
        raise error
    said = usage_words(error) if isinstance(error, typer.TyperException) else mistake(error)
    if is_ours and not isinstance(error, WrongMarkerError):
        said = f"a fault in this program, not in your job: {said}"
    say(one_line(f"ellwand: {said}"))
    return OUR_FAULT if is_ours else MISTAKE
