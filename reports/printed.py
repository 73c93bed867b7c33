"""Tables and lines as they are printed, for a file of text."""

from __future__ import annotations

from typing import Any


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
