"""The command `launcher`: an icon where the system shows programs."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from reports.launcher.system import System, programs_folder, this_system


def launcher(
    to: Annotated[
        Path | None, typer.Option("--to", metavar="DIR", help="Where the icon goes; by default among your programs.")
    ] = None,
    folder: Annotated[
        Path | None, typer.Option(metavar="DIR", help="Folder where work is saved; by default ~/.local/share/ellwand.")
    ] = None,
    system: Annotated[
        System | None, typer.Option("--for", help="The system; by default this one. Those of others are untried.")
    ] = None,
    remove: Annotated[bool, typer.Option("--remove", help="Take the icon away.")] = False,
    force: Annotated[bool, typer.Option("--force", help="Overwrite what is there.")] = False,
) -> None:
    """Put an icon among your programs that opens the page by a click; the program ends some minutes after the page."""
    from reports.launcher.launcher import put, take_away
    from reports.launcher.program import program

    asked = system or this_system()
    place = to or programs_folder(asked)
    if remove:
        typer.echo(f"Removed {take_away(asked, place)}. Your work stays where it is saved.")
        return
    command = program(folder, is_here=asked is this_system())
    path, is_new = put(command, asked, place, force=force)
    typer.echo(f"{'Written' if is_new else 'Already there'}: {path}")
    if asked is System.LINUX:
        typer.echo("Look for Ellwand among your programs. To take it away:  ellwand launcher --remove")
    else:
        typer.echo(f"Open it by a double click. Not tried on {asked.value}; ellwand must be installed there.")
