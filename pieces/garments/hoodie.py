"""A hoodie of knit cloth, pulled on: a sweatshirt with a hood in place of the neckband, without a cord."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.dimensioned import MmOrNone
from pieces.garments.garment import ABOVE_NOTHING, Garment, option
from pieces.garments.knit.sewing import top_steps
from pieces.garments.knit.thick import MEASURED, ThickStyle
from pieces.garments.knit.top import draft_top
from pieces.garments.knit.trims import top_trims
from pieces.garments.parts.neck import HOOD_HEIGHT
from pieces.units import INCH

if TYPE_CHECKING:
    from pieces.body.body import Body
    from pieces.body.ranges import Wearer
    from pieces.piece.pieces import PieceSet

HOOD_STANDS = INCH
"""How far a hood's neckline lies outside the neck: common practice, no source."""


class HoodieStyle(ThickStyle):
    """How a hoodie is to be made; lengths are given with their units."""

    hood_height: MmOrNone = option(
        None,
        "of the hood, from the neckline over the head; by default by the wearer",
        example="13 1/2 in",
        least=ABOVE_NOTHING,
    )

    @property
    def stands(self) -> float:
        """How far the neckline lies outside the neck, mm."""
        return HOOD_STANDS

    def hood_over(self, wearer: Wearer) -> float:
        """As asked, or by the wearer, mm."""
        return HOOD_HEIGHT[wearer] if self.hood_height is None else self.hood_height


def draft(body: Body, style: HoodieStyle) -> PieceSet:
    """Draft the hoodie: back, front, sleeve, hood and pocket of the shell, cuffs and hem band of rib.

    Raises
    ------
    DraftError
        If the measurements and options do not go together, or cloth or rib stretch too little to pull it on.
    """
    return draft_top("hoodie", body, style)


HOODIE = Garment(
    "hoodie",
    "hoodie with rib cuffs and hem",
    MEASURED,
    HoodieStyle,
    draft,
    top_trims,
    top_steps,
    sketch=(
        "M36 24Q30 4 50 3Q70 4 64 24Q58 34 50 36Q42 34 36 24M50 36Q40 26 41 16Q50 4 59 16Q60 26 50 36M36 24L24 28"
        "Q14 35 4 98L14 100L25 56M64 24L76 28Q86 35 96 98L86 100L75 56M24 28Q29 41 25 56V103H75V56Q71 41 76 28"
        "M27 103V111H73V103M5 90L16 92M95 90L84 92M42 74H58L67 91V103M42 74L33 91V103"
    ),
)
