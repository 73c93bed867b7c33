"""A sarong: a panel on a waistband, the waist alone is measured."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from pieces import Piece, PieceSet
from pieces.body.rules import measured_or_usual
from pieces.dimensioned import Mm, MmOrNone
from pieces.errors import DraftError
from pieces.garments import Garment
from pieces.garments.garment import ABOVE_NOTHING, option
from pieces.garments.sewing import SewingStep
from pieces.garments.style import GarmentStyle
from pieces.length import mm
from pieces.piece.finished import Finished
from pieces.piece.pieces import Seam
from pieces.trims.trim import TrimNeeded
from pieces.units import INCH

if TYPE_CHECKING:
    from pieces import Body

ROUND = 1.5
"""It goes round the waist so often: a rule of this package alone."""


class SarongStyle(GarmentStyle):
    """How a sarong is made."""

    length: Mm = option(30 * INCH, "finished length, from the waist down", example="30 in", least=ABOVE_NOTHING)
    seam: Mm = option(INCH / 2, "seam allowance of every edge", example="1/2 in", least=0)
    band: MmOrNone = option(None, "finished depth of the waistband; by default 2 in", example="2 in")
    closure: Literal["tie", "buttons"] = option("tie", "how it is closed", "choice")


def _rectangle(name: str, long: float, wide: float, style: SarongStyle) -> Piece:
    corners = [(0.0, 0.0), (long, 0.0), (long, wide), (0.0, wide)]
    return Piece.from_polygon(corners, name, unit="mm", seam=mm(style.seam))


def draft(body: Body, style: SarongStyle) -> PieceSet:
    """A panel and a waistband of the same length."""
    waist = measured_or_usual(body, "waist")
    depth = 2 * INCH if style.band is None else style.band
    if style.length <= depth:
        raise DraftError("length leaves nothing below the waistband: make it longer", about="length")
    wide = ROUND * waist
    panel = _rectangle("panel", style.length - depth, wide, style)
    band = _rectangle("waistband", 2 * depth, wide, style)
    top, lower = (piece.edges[-1].name for piece in (panel, band))
    return PieceSet(
        "sarong",
        (panel, band),
        (Seam("waist", (("waistband", lower),), (("panel", top),)),),
        measures={"round": wide},
        finished=(Finished("waist", wide, waist),),
    )


def trims(drafted: PieceSet, style: SarongStyle) -> tuple[TrimNeeded, ...]:
    """Two buttons where it is buttoned."""
    return (TrimNeeded("buttons or snaps", ("waistband",), count=2),) if style.closure == "buttons" else ()


def steps(drafted: PieceSet, style: SarongStyle) -> tuple[SewingStep, ...]:
    """The panel is hemmed, then sewn to its band."""
    seam = drafted.seams[0]
    hem = ("panel", drafted["panel"].edges[1].name)
    return (
        SewingStep("Hem", "Turn the hem up twice, and stitch it.", (hem,)),
        SewingStep("Waistband", "Sew it on, fold it in half, and stitch it down.", (*seam.first, *seam.second)),
    )


SKETCH = "M25 10H75V22H25ZM25 22L15 110H85L75 22M60 22L50 110"

SARONG = Garment("sarong", "wrapped sarong", ("waist",), SarongStyle, draft, trims, steps, SKETCH)
