"""A T-shirt of knit cloth, with a neckband of rib and turned hems."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, Literal

from pieces.dimensioned import Mm
from pieces.garments.garment import ABOVE_NOTHING, Garment, option
from pieces.garments.knit.fit import THIN
from pieces.garments.knit.sewing import top_steps
from pieces.garments.knit.style import RibbedStyle
from pieces.garments.knit.top import draft_top
from pieces.garments.knit.trims import top_trims
from pieces.units import INCH

if TYPE_CHECKING:
    from pieces.body.body import Body
    from pieces.garments.knit.fit import KnitFit
    from pieces.piece.pieces import PieceSet


class TShirtStyle(RibbedStyle):
    """How a T-shirt is to be made; lengths are given with their units."""

    stood_by: ClassVar[str] = "neck_rib_depth"

    sleeves: Literal["short", "long"] = option("short", "how long the sleeves are", "choice")
    hem: Mm = option(INCH, "turned up at the hem and the ends of the sleeves", example="1 in", least=ABOVE_NOTHING)
    neck_rib_depth: Mm = option(0.75 * INCH, "finished depth of the neckband", example="3/4 in", least=ABOVE_NOTHING)
    neck_share: float = option(0.8, "neckband as a share of the neck opening", "share", example="0.8")

    @property
    def shape(self) -> KnitFit:
        """That of thin knit."""
        return THIN[self.fit]

    @property
    def stands(self) -> float:
        """The neckband's depth, mm."""
        return self.neck_rib_depth

    @property
    def turned(self) -> float:
        """The hem's depth, mm."""
        return self.hem

    @property
    def is_short(self) -> bool:
        """Whether short sleeves are asked for."""
        return self.sleeves == "short"


def draft(body: Body, style: TShirtStyle) -> PieceSet:
    """Draft the T-shirt: back, front and sleeve of the shell, neckband of rib.

    Raises
    ------
    DraftError
        If the measurements and options do not go together, or cloth or rib stretch too little to pull it on.
    """
    return draft_top("t-shirt", body, style)


T_SHIRT = Garment(
    "t-shirt",
    "T-shirt of knit cloth",
    ("bust", "hip", "across_shoulder", "neck", "upper_arm"),
    TShirtStyle,
    draft,
    top_trims,
    top_steps,
    sketch=(
        "M38 14Q50 30 62 14M35 15Q50 36 65 15M38 14Q50 19 62 14M38 14L24 20L6 44L19 54L26 45M62 14L76 20L94 44L81 54"
        "L74 45M24 20Q29 31 26 45V104H74V45Q71 31 76 20M26 100H74M9 40L22 50M91 40L78 50"
    ),
)
