"""Tables of what was drafted, or read: nothing of cloth is loaded for them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.table import Table

from pieces.units import Units, format_size

if TYPE_CHECKING:
    from pieces import PieceSet


def measures_table(pieces: PieceSet, units: Units) -> Table:
    """Named finished and cut dimensions."""
    table = bare_table("Measures", ("measure", "left"), ("size", "right"))
    for name, mm in pieces.measures.items():
        table.add_row(name.replace("_", " "), format_size(mm, units))
    return table


def finished_table(pieces: PieceSet, units: Units) -> Table:
    """What the garment measures once it is sewn, beside the body, and the ease."""
    table = bare_table("Finished", ("", "left"), ("garment", "right"), ("body", "right"), ("ease", "right"))
    for size in pieces.finished:
        beside = ["" if mm is None else format_size(mm, units) for mm in (size.body, size.ease)]
        table.add_row(size.name, format_size(size.garment, units), *beside)
    return table


def pieces_table(pieces: PieceSet, units: Units) -> Table:
    """The pieces with what they are cut from, how often, and how large."""
    table = bare_table(
        "Pieces", ("piece", "left"), ("cut", "left"), ("from", "left"), ("length", "right"), ("width", "right")
    )
    for piece in pieces:
        how = f"{piece.cut} on fold" if piece.on_fold else f"{piece.cut}"
        how += f" ({piece.cut // 2} left, {piece.cut // 2} right)" if piece.mirrored_pair else ""
        table.add_row(
            piece.name, how, piece.material, format_size(piece.length, units), format_size(piece.width, units)
        )
    return table


def bare_table(title: str, *columns: tuple[str, str]) -> Table:
    """A table without lines, of columns with their side."""
    table = Table(title=title, title_justify="left", title_style="bold", box=None, pad_edge=False, padding=(0, 2, 0, 0))
    for name, side in columns:
        table.add_column(name, justify="right" if side == "right" else "left", header_style="dim")
    return table
