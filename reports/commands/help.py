"""The command `help`: a page on a topic, or the list of all."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Annotated, NamedTuple

import typer

from reports.commands.kit.terminal import emit, show

if TYPE_CHECKING:
    from rich.console import Console, ConsoleOptions, RenderResult

WIDEST = 100
"""Columns of a page in the terminal: longer lines are hard to read."""

STYLES = {
    "markdown.code": "bold",
    "markdown.h1": "bold",
    "markdown.h2": "bold underline",
    "markdown.table.border": "",
    "markdown.table.header": "bold",
}
"""No colours: they could be hard to read on the terminal's own."""


class _Formatted(NamedTuple):
    """A page of Markdown, set for a terminal."""

    text: str

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        from rich.markdown import Markdown
        from rich.theme import Theme

        with console.use_theme(Theme(STYLES)):
            page = Markdown(self.text, code_theme="ansi_light")
            yield from console.render(page, options.update(max_width=min(WIDEST, options.max_width)))


def help(
    topic: Annotated[
        str | None, typer.Argument(metavar="TOPIC", help="A topic or a command; without it, all topics are listed.")
    ] = None,
) -> None:
    """Show the help on a topic, or list all topics."""
    from reports.help.topics import INDEX, topic_called

    text = topic_called(topic or INDEX).in_terminal
    if sys.stdout.isatty():
        show(_Formatted(text))
    else:
        emit(text.rstrip("\n"))
