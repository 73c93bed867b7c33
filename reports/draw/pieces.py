"""The pieces of a garment on one sheet, upright, at one scale: to check a draft by, before any cloth is cut."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nesting.problem.transform import Transform
from pieces.units import Units, format_size
from reports.draw.kit.cells import CaptionedDrawing, cells_page
from reports.draw.kit.marks import Marks

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from pieces import Piece, PieceSet
    from reports.draw.kit.sheet import Sheet

UPRIGHT = 270.0
"""The turn that brings the top of a garment to the top of the page."""

NOTE = (
    "Full line: cut.  Dashed: sew.  Line with two heads: grain, parallel to the selvedge.  Bracket: edge to lay on a"
    " fold.  Diamond: notch, matched on the sew line."
)


def pieces_page(pieces: PieceSet, *, title: str, units: Units) -> Figure:
    """Draw every piece upright with its marks, what to cut of it, and its main dimensions.

    Parameters
    ----------
    units
        In which dimensions are written.

    Returns
    -------
    Figure
        A4 on its side; taller where very many pieces would otherwise be too small to read.
    """
    cells = [_cell(piece, units) for piece in sorted(pieces, key=lambda piece: -piece.length)]
    return cells_page(cells, title=title, units=units, note=NOTE)


def _cell(piece: Piece, units: Units) -> CaptionedDrawing:
    """A piece with what is written under it."""
    deep, across = (float(side) for side in np.ptp(piece.cut_line, axis=0))

    def paint(sheet: Sheet) -> None:
        pose = Transform.to_corner(piece.cut_line, UPRIGHT)
        sheet.line(pose(piece.cut_line), 0.9, closed=True)
        Marks.of(piece, pose, opened=False).draw(sheet)

    along, wide = format_size(piece.length, units), format_size(across, units)
    size = f"{wide} long, in the stretch; {along} deep" if piece.material == "rib" else f"{along} long, {wide} wide"
    if piece.on_fold:
        size += f"; opened out {format_size(piece.width, units)}"
    lines = (piece.name, f"{cut_words(piece)}, {piece.material}", size)
    return CaptionedDrawing(across, deep, (*lines, piece.label) if piece.label else lines, paint)


def cut_words(piece: Piece) -> str:
    """How many to cut, as it is written on a pattern piece."""
    if piece.on_fold:
        return f"cut {piece.cut} on fold"
    if piece.mirrored_pair:
        pairs = piece.cut // 2
        return f"cut {piece.cut} ({pairs} pair{'' if pairs == 1 else 's'})"
    return f"cut {piece.cut}"
