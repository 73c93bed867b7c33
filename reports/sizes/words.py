"""Tables of sizes for people."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.table import Table
from rich.text import Text

from pieces.units import Units, bare_size, format_size

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from pieces.body.sizes import SizeTable
    from reports.sizes.sizes import Graded


def tables_table(tables: Iterable[SizeTable]) -> Table:
    """The tables built in: what they are called, and their sizes."""
    table = _table("Tables of sizes", ["table", "for", "sizes"], "left")
    for each in tables:
        table.add_row(each.name, each.title, " ".join(each.sizes))
    return table


def source_lines(tables: Iterable[SizeTable]) -> Iterator[str]:
    """Where the figures of tables come from."""
    for each in tables:
        yield f"{each.name}: {each.source}"


def size_table(table: SizeTable, units: Units) -> Table:
    """What each size measures."""
    shown = _table(table.title, ["size", *table.sizes], "right")
    for name in table.columns:
        cells = [format_size(row[name], units) if name in row else "" for row in table.rows.values()]
        shown.add_row(name.replace("_", " "), *cells)
    return shown


def note_lines(table: SizeTable) -> Iterator[str]:
    """How the figures of one table came about."""
    yield f"Source: {table.source}"
    for name, note in table.notes.items():
        yield f"  {name.replace('_', ' ')}: {note}"


def pieces_by_size(graded: Graded, units: Units) -> Table:
    """How long and how wide each piece is cut, size by size."""
    shown = _table(f"Pieces as cut ({units})", ["piece", *graded.drafted], "right")
    by_name = [{piece.name: piece for piece in pieces} for pieces in graded.drafted.values()]
    for name in dict.fromkeys(name for pieces in by_name for name in pieces):
        for what in ("length", "width"):
            shown.add_row(
                f"{name}, {what}",
                *(bare_size(getattr(p[name], what), units) if name in p else "" for p in by_name),
            )
    return shown


def drafted_lines(graded: Graded) -> Iterator[str]:
    """What does not change from size to size, and which sizes cannot be drafted, and why."""
    if graded.job is not None:
        options = [option.name for option in graded.job.model().options() if option.metadata["kind"] == "length"]
        same = [name for name in options if name in graded.job.style and name not in graded.table.columns]
        if same:
            yield f"The same as in the job in every size: {', '.join(same)}. Your own table may have a column for each."
    for size, reason in graded.refused.items():
        yield f"– size {size}: {reason}"


def _table(title: str, heads: Sequence[str], rest: str) -> Table:
    table = Table(title=title, title_justify="left", title_style="bold", box=None, pad_edge=False, padding=(0, 2, 0, 0))
    for number, head in enumerate(heads):
        justify = "left" if number == 0 or rest == "left" else "right"
        table.add_column(Text(head), justify=justify, header_style="dim")  # type: ignore[arg-type]
    return table
