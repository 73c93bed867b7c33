"""The robe's options. Every default is common practice, no source."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Literal

from pieces.body.girths import to_hip
from pieces.dimensioned import Mm, MmOrNone
from pieces.garments.garment import ABOVE_NOTHING, option
from pieces.garments.style import GarmentStyle
from pieces.length import mm
from pieces.units import INCH

if TYPE_CHECKING:
    from pieces.body.body import Body

FACING = 2.5 * INCH
"""Finished width of a facing."""

BELOW_HIP = 1.9
"""Length by default, over that from the neck point to the hip: 49 in for a man with a chest of 40 in."""

BANDS = {"open": 2 * INCH, "closed": INCH}
"""Finished width of the band along an open front and the neck, and of one that stands on a closed neckline."""


class RobeStyle(GarmentStyle):
    """How a robe or kaftan of rectangles is to be made; lengths are finished, and given with their units."""

    length: MmOrNone = option(
        None,
        "from the neck point to the hem; by default 1.9 times as far as the hip",
        example="48 in",
        least=ABOVE_NOTHING,
    )
    sleeve: MmOrNone = option(
        None,
        "from the shoulder point; by default the arm length",
        example="22 in",
        least=ABOVE_NOTHING,
    )
    ease: Mm = option(8 * INCH, "room round the widest of bust, waist and hip that it covers", example="8 in")
    shoulder: Literal["seam", "fold"] = option(
        "seam", "shoulder seams, or front and back in one with seams down the centres", "choice"
    )
    front: Literal["closed", "open"] = option(
        "closed", "a neck opening with a slit, or open all the way down", "choice"
    )
    neckline: Literal["facing", "band"] = option("facing", "what finishes neck and front edges", "choice")
    facing_width: MmOrNone = option(
        None, "width of the facing; by default 2 1/2 in", example="2 1/2 in", least=ABOVE_NOTHING
    )
    band_width: MmOrNone = option(
        None,
        "width of the band; by default 2 in of an open front, 1 in of a closed one",
        example="2 in",
        least=ABOVE_NOTHING,
    )
    neck_depth: MmOrNone = option(
        None,
        "of the front neckline, below the neck point; by default 3 in, of an open front down to the armhole",
        example="3 in",
        least=ABOVE_NOTHING,
    )
    slit: MmOrNone = option(
        None, "of a closed front, below its neckline; by default 6 in, or what the head takes", example="6 in", least=0
    )
    sleeve_width: MmOrNone = option(
        None, "round the sleeve; by default by the line of the arm", example="20 in", least=ABOVE_NOTHING
    )
    gusset: Mm = option(0.0, "side of a square under each arm; 0 for none", example="0 in", least=0)
    side_slit: Mm = option(0.0, "left open at the foot of each side seam; 0 for none", example="0 in", least=0)
    hem: Mm = option(INCH, "depth of the hems below and at the wrists", example="1 in", least=ABOVE_NOTHING)
    seam: Mm = option(INCH / 2, "seam allowance", example="1/2 in", least=ABOVE_NOTHING)
    belt: Literal["none", "belt"] = option("none", "a belt, with a loop in each side seam", "choice")
    belt_length: MmOrNone = option(
        None, "of the belt; by default the waist and 40 in", example="72 in", least=ABOVE_NOTHING
    )
    belt_width: MmOrNone = option(None, "of the belt; by default 2 in", example="2 in", least=ABOVE_NOTHING)
    pockets: Literal["none", "patch"] = option("none", "two patch pockets", "choice")
    pocket_mouth: MmOrNone = option(
        None,
        "mouth of a pocket; by default a sixth of the bust, or what there is room for",
        example="6 in",
        least=ABOVE_NOTHING,
    )

    @property
    def faced(self) -> float:
        """Finished width of the facing, mm."""
        return FACING if self.facing_width is None or self.neckline != "facing" else self.facing_width

    @property
    def banded(self) -> float:
        """Finished width of the band, mm."""
        return BANDS[self.front] if self.band_width is None else self.band_width

    @property
    def is_open(self) -> bool:
        """Whether the front is open down to the hem."""
        return self.front == "open"

    @property
    def in_one(self) -> bool:
        """Whether front and back are cut in one, without a shoulder seam."""
        return self.shoulder == "fold"

    def long_for(self, body: Body) -> float:
        """Finished length from the neck point, mm: as asked, or by the body."""
        return BELOW_HIP * to_hip(body) if self.length is None else self.length

    def corrected(self, body: Body) -> RobeStyle:
        """The style with what a try-on has shown of length, sleeve and ease."""
        tried, sleeve = body.tried_on, body.arm_length if self.sleeve is None else self.sleeve
        return replace(
            self,
            length=mm(self.long_for(body) + tried.length),
            sleeve=None if sleeve is None else mm(sleeve + tried.sleeve),
            ease=mm(self.ease + tried.ease),
        )
