"""Pattern pieces at full scale, in one size."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import shapely

from pieces.piece.notched import USUAL_CUT, NotchCut
from pieces.units import format_size
from reports.draw.kit.label import Label
from reports.draw.kit.marks import Marks
from reports.draw.pieces import cut_words
from reports.paper.arrange import arrange
from reports.paper.drawing import KeptDrawing
from reports.paper.front import FrontHead

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

    from pieces import Piece, PieceSet
    from pieces.units import Units
    from reports.draw.kit.surface import Style
    from reports.paper.size import Paper

    Floats = NDArray[np.float64]

MAGNIFY = 1.6
"""How much larger lettering, marks and lines are than on a picture of the same piece."""

CUT = 0.9
"""Width of the cut line, points, before it is magnified."""


def draw_pieces(
    pieces: PieceSet,
    paper: Paper,
    units: Units,
    notches: NotchCut = USUAL_CUT,
) -> KeptDrawing:
    """Every piece with its marks and label, as drafted: on the fold as a half.

    Parameters
    ----------
    units
        In which the pieces' own sizes are written.
    """
    drawing, drawn = KeptDrawing(MAGNIFY), list(pieces)
    poses = arrange([piece.cut_line for piece in drawn], [piece.name for piece in drawn], paper)
    for number, (piece, pose) in enumerate(zip(drawn, poses, strict=True), 1):
        marks = Marks.of(piece, pose, opened=False, cut=notches)
        wide, high = (format_size(float(side), units) for side in np.ptp(piece.cut_line[:, ::-1], axis=0))
        remarks = (f"{cut_words(piece)}, {piece.material}", f"{high} long, {wide} wide", *own_words(piece))
        draw_piece(drawing, marks, pose(piece.cut_line), Label(str(number), piece.name, remarks))
    return drawing


def pieces_head(pieces: PieceSet, title: str, subtitle: str, units: Units, notes: Sequence[str] = ()) -> FrontHead:
    """The first page's words for pieces of one size."""
    return FrontHead(title, subtitle, [*list_pieces(pieces), *notes], units)


def draw_piece(
    drawing: KeptDrawing,
    marks: Marks | None,
    outline: Floats,
    label: Label,
    *,
    sewn: bool = True,
    line: tuple[Style, float] | None = None,
) -> None:
    """One piece in place, with or without its sew line; a bare outline has no marks.

    `line` are the dashes and the width of its cut line, where sizes are told apart by them.
    """
    rooms: list[BaseGeometry] = [shapely.Polygon(outline)]
    if marks:
        draw_nicks(drawing, marks)
        marks = marks if sewn else replace(marks, sewn=())
        marks.draw(drawing)
        rooms = [*marks.rooms(outline, drawing.pt), *rooms]
    style, width = line or ("-", CUT)
    if marks and marks.cut:
        drawing.curve(marks.cut, width, style=style)
    else:
        drawing.line(outline, width, style=style, closed=True)
    if not label.write(drawing, rooms):
        middle = rooms[-1].representative_point()
        drawing.text(middle.x, middle.y, label.number, 5, bold=True, side="center", upright="center")


def list_pieces(pieces: PieceSet) -> list[str]:
    """Each piece with its number and how many to cut."""
    return [f"{n}: {piece.name}, {cut_words(piece)}, {piece.material}" for n, piece in enumerate(pieces, 1)]


def own_words(piece: Piece) -> tuple[str, ...]:
    """What the draft says of a piece, if anything."""
    return (piece.label,) if piece.label else ()


def draw_nicks(drawing: KeptDrawing, marks: Marks) -> None:
    """Each notch as it is cut, from the edge inwards; its diamond stands where it is on the sew line."""
    for line in marks.nicks:
        drawing.line(line, 0.5)
