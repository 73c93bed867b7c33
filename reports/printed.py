"""Tables and lines as they are printed, for a file of text."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rich.table import Table


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


def cells_table(title: str, cells: Sequence[Sequence[str]]) -> Table:
    """Headings and lines of cells as a table; signs in them are shown, not obeyed."""
    from rich.table import Table
    from rich.text import Text

    table = Table(title=title, title_justify="left", title_style="bold", box=None, pad_edge=False, padding=(0, 2, 0, 0))
    heads, *lines = cells
    for head in heads:
        table.add_column(head, header_style="dim")
    for line in lines:
        table.add_row(*map(Text, line))
    return table
