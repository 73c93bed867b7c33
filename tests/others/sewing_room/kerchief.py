"""A kerchief: one square, nothing is measured."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces import Piece, PieceSet
from pieces.dimensioned import Mm
from pieces.garments import Garment
from pieces.garments.garment import ABOVE_NOTHING, option
from pieces.garments.style import GarmentStyle
from pieces.length import mm
from pieces.units import INCH

if TYPE_CHECKING:
    from pieces import Body


class KerchiefStyle(GarmentStyle):
    """How a kerchief is made."""

    side: Mm = option(22 * INCH, "finished length of a side", example="22 in", least=ABOVE_NOTHING)
    seam: Mm = option(INCH / 2, "hem of every edge", example="1/2 in", least=0)


def draft(body: Body, style: KerchiefStyle) -> PieceSet:
    """One square with a hem all round."""
    corners = [(0.0, 0.0), (style.side, 0.0), (style.side, style.side), (0.0, style.side)]
    return PieceSet("kerchief", (Piece.from_polygon(corners, "square", unit="mm", seam=mm(style.seam)),))


KERCHIEF = Garment("kerchief", "square kerchief", (), KerchiefStyle, draft, sketch="M10 20H90L50 100Z")
