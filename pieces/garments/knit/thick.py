"""What sweatshirt and hoodie have in common: thick knit, cuffs and hem band of rib, a pocket."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from pieces.dimensioned import Mm, MmOrNone
from pieces.garments.garment import ABOVE_NOTHING, option
from pieces.garments.knit.fit import THICK
from pieces.garments.knit.style import RibbedStyle
from pieces.units import INCH

if TYPE_CHECKING:
    from pieces.garments.idle import Idle
    from pieces.garments.knit.fit import KnitFit

MEASURED = ("bust", "hip", "across_shoulder", "neck", "upper_arm", "wrist")
"""What these cannot do without."""


class ThickStyle(RibbedStyle):
    """A knit top with cuffs and hem band of rib."""

    rib_depth: Mm = option(2.5 * INCH, "finished depth of cuffs and hem band", example="2 1/2 in", least=ABOVE_NOTHING)
    cuff_share: float = option(0.8, "share rule: cuff as a share of the sleeve's end", "share", example="0.8")
    hem_share: float = option(0.875, "share rule: hem band as a share of the hem opening", "share", example="0.875")
    pockets: Literal["none", "kangaroo"] = option("none", "a pocket across the middle of the front", "choice")
    pocket_mouth: MmOrNone = option(
        None,
        "finished mouth of a pocket; by default a sixth of the bust, or what there is room for",
        example="6 in",
        least=ABOVE_NOTHING,
    )

    @property
    def shape(self) -> KnitFit:
        """That of thick knit."""
        return THICK[self.fit]

    @property
    def band_depth(self) -> float:
        """The rib's depth, mm."""
        return self.rib_depth

    @property
    def has_pocket(self) -> bool:
        """Whether a kangaroo pocket is asked for."""
        return self.pockets == "kangaroo"

    @property
    def mouth(self) -> float | None:
        """The mouth that is asked for, mm."""
        return self.pocket_mouth

    @property
    def idle(self) -> tuple[Idle, ...]:
        """A pocket's mouth as well, where there is none."""
        return (
            *super().idle,
            (("pocket_mouth",), lambda style: style.pockets == "none", "no pockets are asked for"),
        )
