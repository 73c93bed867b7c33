"""A sweatshirt of knit cloth, with neckband, cuffs and hem band of rib."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from pieces.dimensioned import Mm
from pieces.garments.garment import ABOVE_NOTHING, Garment, option
from pieces.garments.knit.sewing import top_steps
from pieces.garments.knit.thick import MEASURED, ThickStyle
from pieces.garments.knit.top import draft_top
from pieces.garments.knit.trims import top_trims
from pieces.units import INCH

if TYPE_CHECKING:
    from pieces.body.body import Body
    from pieces.piece.pieces import PieceSet


class SweatshirtStyle(ThickStyle):
    """How a sweatshirt is to be made; lengths are given with their units."""

    stood_by: ClassVar[str] = "neck_rib_depth"

    neck_rib_depth: Mm = option(INCH, "finished depth of the neckband", example="1 in", least=ABOVE_NOTHING)
    neck_share: float = option(0.8, "share rule: neckband as a share of the neck opening", "share", example="0.8")

    @property
    def stands(self) -> float:
        """The neckband's depth, mm."""
        return self.neck_rib_depth


def draft(body: Body, style: SweatshirtStyle) -> PieceSet:
    """Draft the sweatshirt: back, front, sleeve and pocket of the shell, cuffs, hem band and neckband of rib.

    Raises
    ------
    DraftError
        If the measurements and options do not go together, or cloth or rib stretch too little to pull it on.
    """
    return draft_top("sweatshirt", body, style)


SWEATSHIRT = Garment(
    "sweatshirt",
    "sweatshirt with rib cuffs, hem and neck",
    MEASURED,
    SweatshirtStyle,
    draft,
    top_trims,
    top_steps,
    sketch=(
        "M38 14Q50 28 62 14M35 15Q50 34 65 15M38 14Q50 19 62 14M38 14L24 19Q14 26 4 92L14 94L25 48M62 14L76 19"
        "Q86 26 96 92L86 94L75 48M24 19Q29 32 25 48V97H75V48Q71 32 76 19M27 97V105H73V97M5 84L16 86M95 84L84 86"
    ),
)
