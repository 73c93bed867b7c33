"""The command `serve`: the page, on which the whole job can be done."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from collections.abc import Callable

PASSWORD = "ELLWAND_PASSWORD"
"""Where a password may be given without being asked for."""

WARNING = (
    "warning: anyone who can reach this machine over the network and knows the password can use the page. Nothing is "
    "encrypted: use it only on a network you trust, never on the internet"
)


def serve(
    port: Annotated[
        int | None, typer.Option(min=0, max=65_535, help="By default 8437, or any free port if that is taken.")
    ] = None,
    host: Annotated[
        str, typer.Option(help="The address to serve at; any address but this machine's own needs --password.")
    ] = "127.0.0.1",
    password: Annotated[
        bool,
        typer.Option("--password", help=f"Ask for a password to open the page; or take it from {PASSWORD}."),
    ] = False,
    no_open: Annotated[bool, typer.Option("--no-open", help="Do not open the browser.")] = False,
    folder: Annotated[
        Path | None, typer.Option(metavar="DIR", help="Folder where work is saved; by default ~/.local/share/ellwand.")
    ] = None,
    while_open: Annotated[
        float | None,
        typer.Option(
            min=0,
            max=10_000,
            metavar="MINUTES",
            help="End after so many minutes without an open page and without a search; as an icon starts it.",
        ),
    ] = None,
) -> None:
    """Open a page in the browser for the whole job; it needs no network."""
    from reports.folder import own_folder
    from reports.page.server.serving import is_loopback
    from reports.page.server.serving import serve as serve_page

    word = _password() if password else None
    if not is_loopback(host):
        if word is None:
            raise typer.BadParameter(f"{host} can be reached by others: add --password", param_hint="--host")
        typer.echo(WARNING, err=True)
    kept = folder or own_folder()

    def ready(address: str) -> None:
        typer.echo(f"The page is open at  {address}\nWork is saved in {kept}. Stop with Ctrl-C.")
        sys.stdout.flush()
        if not no_open and _has_screen():
            import webbrowser

            webbrowser.open(address)

    if while_open is None:
        serve_page(kept, host, port, word, ready)
        return
    is_seen = no_open or sys.stderr.isatty() or not _has_screen()
    _with_the_page(kept, ready, lambda: serve_page(kept, host, port, word, ready, 60 * while_open), is_seen=is_seen)


def _with_the_page(folder: Path, ready: Callable[[str], None], run: Callable[[], None], *, is_seen: bool) -> None:
    """Open the page, as an icon does; what goes wrong is shown in the browser, unless it is seen in a terminal."""
    import webbrowser

    from reports.errors import ReportError
    from reports.page.once import open_or_serve, tell_in_browser

    try:
        open_or_serve(folder, ready, run)
    except ReportError as error:
        if not is_seen:
            tell_in_browser(str(error), webbrowser.open)
        raise


def _password() -> str:
    from reports.page.server.session import SHORTEST_PASSWORD

    word = os.environ.get(PASSWORD)
    if word is None and not sys.stdin.isatty():
        raise typer.BadParameter(f"no terminal to ask for it: set {PASSWORD}", param_hint="--password")
    if word is None:
        word = str(typer.prompt("Password", hide_input=True, confirmation_prompt=True, err=True))
    if len(word) < SHORTEST_PASSWORD:
        raise typer.BadParameter(f"too short: take {SHORTEST_PASSWORD} letters or more", param_hint="--password")
    return word


def _has_screen() -> bool:
    """Whether a browser can show itself: one in the terminal would take it over."""
    return sys.platform != "linux" or bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))
