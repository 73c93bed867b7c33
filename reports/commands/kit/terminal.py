"""What a command prints, and how it ends."""

from __future__ import annotations

import os
import signal
import sys
from typing import TYPE_CHECKING, Any, NoReturn

import typer

from reports.signals import tell

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path


def show_files(written: Sequence[Path]) -> None:
    """Say which files were written, and where."""
    if written:
        folder = str(written[0].parent)
        where = "here" if folder == "." else f"to {folder}"
        show("", f"Written {where}:  {'  '.join(path.name for path in written)}")


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
