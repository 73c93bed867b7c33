"""Tables and lines as they are printed: no line wider than a page takes, for terminals and for files of text."""

from __future__ import annotations

import re
import textwrap
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Sequence

    from rich.table import Table

WIDEST = 100
"""Characters in a line of a file of text at the most; a single word may be longer."""

BETWEEN = 2
"""Blanks between columns."""

TextCells = list[tuple[str, ...]]
"""Cells of a table, its heads first."""


def printed(*what: Any, wide: int = 0) -> str:
    """Tables and lines as they are printed, for a file of text.

    Parameters
    ----------
    wide
        Where longer lines of words are broken; 0: nowhere.
    """
    from io import StringIO

    from rich.console import Console
    from rich.table import Table

    console = Console(file=StringIO(), highlight=False, width=wide or 140)
    with console.capture() as capture:
        for before, thing in zip(("", *what), what, strict=False):
            if wide and before and isinstance(before, str) and isinstance(thing, Table):
                console.print()
            words = _broken(thing, wide) if wide and isinstance(thing, str) else thing
            console.print(words, soft_wrap=isinstance(thing, str), markup=isinstance(thing, Table))
            if isinstance(thing, Table):
                console.print()
    return "\n".join(line.rstrip() for line in capture.get().splitlines()) + "\n"


def _broken(line: str, wide: int) -> str:
    """A line over several; those after the first are set in."""
    blanks = " " * len((re.match(r" *", line) or [""])[0])
    return textwrap.fill(line, wide, subsequent_indent=f"{blanks}  ", break_long_words=False, break_on_hyphens=False)


def cells_table(
    title: str, cells: Sequence[Sequence[str]], *, left: int | None = None, bold: Collection[str] = ()
) -> Table:
    """Headings and lines of cells as a table; signs in them are shown, not obeyed.

    Parameters
    ----------
    left
        Columns whose cells begin below one another, all by default; of the others they end so.
    bold
        First cells of lines that are bold.
    """
    from rich.table import Table
    from rich.text import Text

    table = Table(
        title=title, title_justify="left", title_style="bold", box=None, pad_edge=False, padding=(0, BETWEEN, 0, 0)
    )
    heads, *lines = cells
    for at, head in enumerate(heads):
        table.add_column(Text(head), justify="left" if left is None or at < left else "right", header_style="dim")
    for line in lines:
        table.add_row(*map(Text, line), style="bold" if line[0] in bold else None)
    return table


def fitted_tables(
    title: str, grid: TextCells, *, turned: str, bold: Collection[str] = (), wide: int = WIDEST
) -> Iterator[Table]:
    """Cells as one table if it is no wider than a page; else with rows for columns, and then over several tables.

    Parameters
    ----------
    grid
        Its first column and its first row say what the others are of.
    turned
        What heads the first column where rows stand for columns.
    bold
        First cells of lines that are bold.
    """
    if _width(grid) > wide:
        heads, *rows = zip(*grid, strict=True)
        grid = [(turned, *heads[1:]), *rows]
    if _width(grid) <= wide:
        yield cells_table(title, grid, left=1, bold=bold)
        return
    parts = list(_parts(grid, wide))
    for number, columns in enumerate(parts, 1):
        told = title if len(parts) == 1 else f"{title}, {number} of {len(parts)}"
        yield cells_table(told, [(row[0], *(row[at] for at in columns)) for row in grid], left=1, bold=bold)


def _parts(grid: TextCells, wide: int) -> Iterator[list[int]]:
    """Columns behind the first, as many as go side by side."""
    room = wide - _widths(grid)[0]
    columns, taken = list[int](), 0
    for at, width in enumerate(_widths(grid)[1:], 1):
        if columns and taken + width + BETWEEN > room:
            yield columns
            columns, taken = [], 0
        columns.append(at)
        taken += width + BETWEEN
    yield columns


def _widths(grid: TextCells) -> list[int]:
    from rich.cells import cell_len

    return [max(map(cell_len, column)) for column in zip(*grid, strict=True)]


def _width(grid: TextCells) -> int:
    return sum(_widths(grid)) + BETWEEN * (len(grid[0]) - 1)
