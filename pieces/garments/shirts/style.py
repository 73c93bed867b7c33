"""The shirt's options. Every default is common practice, no source, but for the ease."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, Literal

from pieces.body.girths import to_hip
from pieces.dimensioned import Mm, MmOrNone
from pieces.errors import DraftError
from pieces.garments.garment import ABOVE_NOTHING, option
from pieces.garments.jacket.fit import FitName
from pieces.garments.jacket.style import WIDEST_EXTENSION, JacketStyle
from pieces.garments.style import GarmentStyle
from pieces.length import mm
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from collections.abc import Mapping

    from pieces.body.body import Body

EASE: Mapping[FitName, float] = {"close": 4.75 * INCH, "regular": 6.25 * INCH, "loose": 7.75 * INCH}
"""Round the chest: of men's shirts that are slim, normal and loose, in a sewing guide, read on the web."""

ARMHOLES: Mapping[FitName, FitName] = {"close": "close", "regular": "regular", "loose": "regular"}
"""Whose armhole, slope and width across of the jacket's fits it has: a loose jacket's is too low for a shirt."""

BELOW_HIP = 1.13
"""Length by default, over that from the neck point to the hip: 29 in for a man with a chest of 40 in."""

SHORT = 0.42
"""A short sleeve, as a share of the arm."""

CUFF_OVER, GATHERED = INCH, 2 * INCH
"""How far a cuff overlaps, and how much wider the wrist end is that is gathered into it."""

OPEN_END = 2 * INCH
"""How much wider than the wrist a long sleeve ends that has no cuff."""


class BlockStyle(JacketStyle):
    """The style of a jacket whose block, sleeve and facings a shirt has."""

    called: ClassVar[str] = "shirt"
    has_rib: ClassVar[bool] = False


class ShirtStyle(GarmentStyle):
    """How a shirt is to be made; lengths are finished, and given with their units."""

    length: MmOrNone = option(
        None,
        "from the neck point to the hem; by default 1.13 times as far as the hip",
        example="29 in",
        least=ABOVE_NOTHING,
    )
    sleeves: Literal["long", "short"] = option("long", "long or short sleeves", "choice")
    sleeve: MmOrNone = option(
        None,
        "from the shoulder point, cuff included; by default the arm length, of a short one 0.42 of it",
        example="23 in",
        least=ABOVE_NOTHING,
    )
    fit: FitName = option("regular", "how close it lies: ease, armhole, width across and sleeve together", "choice")
    ease: MmOrNone = option(
        None, "room round the body; by default by the fit: 4 3/4, 6 1/4 or 7 3/4 in", example="6 1/4 in"
    )
    ends: Literal["cuff", "hem"] = option("cuff", "of long sleeves: cuffs, or hems", "choice")
    cuff_depth: MmOrNone = option(
        None, "depth of the cuffs; by default 2 1/2 in", example="2 1/2 in", least=ABOVE_NOTHING
    )
    sleeve_ease: Mm = option(2 * INCH, "ease round the upper arm", example="2 in")
    sleeve_room: MmOrNone = option(
        None, "room and seams round the upper arm; by default by the fit, or to meet the armhole", example="3 in"
    )
    sleeve_hem: MmOrNone = option(
        None,
        "sewn width of the wrist end; by default 2 in more than cuff or wrist, of a short sleeve 1 in less than above",
        example="10 in",
        least=ABOVE_NOTHING,
    )
    collar_height: Mm = option(
        3 * INCH, "of the collar behind, stand and fall together", example="3 in", least=ABOVE_NOTHING
    )
    collar_point: Mm = option(INCH / 2, "how far its points reach beyond the neckline", example="1/2 in", least=0)
    overlap: Mm = option(
        0.75 * INCH, "of the fronts beyond the centre, for the buttons", example="3/4 in", least=ABOVE_NOTHING
    )
    facing: Literal["grown-on", "separate"] = option("grown-on", "facing of the front edge", "choice")
    facing_width: MmOrNone = option(
        None,
        "finished width of the facing; by default 2 1/2 in, or less at a narrower neckline",
        example="2 1/2 in",
        least=ABOVE_NOTHING,
    )
    yoke: Literal["none", "back"] = option("none", "a yoke across the back", "choice")
    pockets: Literal["none", "one", "two"] = option("none", "patch pockets on the chest", "choice")
    pocket_mouth: MmOrNone = option(
        None, "mouth of a pocket; by default an eighth of the bust", example="4 1/2 in", least=ABOVE_NOTHING
    )
    interfacing: Literal["none", "cut"] = option(
        "none", "pieces of interfacing for collar, cuffs and facings", "choice"
    )
    hem: Mm = option(0.75 * INCH, "depth of the hems, turned twice", example="3/4 in", least=ABOVE_NOTHING)
    seam: Mm = option(INCH / 2, "seam allowance", example="1/2 in", least=ABOVE_NOTHING)

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.overlap > WIDEST_EXTENSION - self.seam:
            raise DraftError(
                f"overlap of {format_both(self.overlap)} is more than buttons need: write"
                f" {format_both(WIDEST_EXTENSION - self.seam)} or less, or check the unit",
                about="overlap",
            )
        if self.facing == "grown-on" and self.overlap <= self.seam:
            raise DraftError(
                f"overlap of {format_both(self.overlap)} is no more than a seam of {format_both(self.seam)}: make it"
                " wider, or set facing to 'separate'",
                about="overlap",
            )

    @property
    def room(self) -> float:
        """Ease round the body, mm: as asked, or by the fit."""
        return EASE[self.fit] if self.ease is None else self.ease

    @property
    def has_cuff(self) -> bool:
        """Whether its sleeves end in cuffs."""
        return self.sleeves == "long" and self.ends == "cuff"

    @property
    def cuff(self) -> float:
        """Finished depth of a cuff, mm; 0 where there is none."""
        usual = 2.5 * INCH if self.cuff_depth is None else self.cuff_depth
        return usual if self.has_cuff else 0.0

    def long_for(self, body: Body) -> float:
        """Finished length from the neck point, mm: as asked, or by the body."""
        return BELOW_HIP * to_hip(body) if self.length is None else self.length

    def sleeve_of(self, body: Body) -> float:
        """Finished sleeve from the shoulder point, mm; DraftError if nothing says how long."""
        if self.sleeve is not None:
            return self.sleeve
        if body.arm_length is None:
            raise DraftError("the sleeve has no length: add sleeve or arm_length", about="sleeve")
        return body.arm_length * (SHORT if self.sleeves == "short" else 1.0)

    def wrist_end(self, body: Body) -> float | None:
        """Sewn width of the wrist end of the sleeve, mm; None where it goes by the width of a short sleeve."""
        if self.sleeve_hem is not None:
            return self.sleeve_hem
        if self.sleeves == "short":
            return None
        return self.cuff_length(body) + GATHERED if self.has_cuff else body.wrist + OPEN_END

    def cuff_length(self, body: Body) -> float:
        """Finished length of a cuff laid flat, mm."""
        return body.wrist + CUFF_OVER

    def block_style(self, body: Body, sleeve_hem: float | None = None) -> JacketStyle:
        """The style of the jacket whose block, sleeve and facings the shirt has, corrected as a try-on has shown.

        Parameters
        ----------
        sleeve_hem
            Sewn width of the wrist end, mm.
        """
        return BlockStyle(
            length=mm(self.long_for(body)),
            sleeve=mm(self.sleeve_of(body) - self.cuff),
            fit=ARMHOLES[self.fit],
            ease=mm(self.room),
            seam=mm(self.seam),
            front_extension=mm(self.overlap + (0.0 if self.facing == "grown-on" else self.seam)),
            facing=self.facing,
            sleeve_ease=mm(self.sleeve_ease),
            sleeve_room=None if self.sleeve_room is None else mm(self.sleeve_room),
            sleeve_hem=None if sleeve_hem is None else mm(sleeve_hem),
            facing_width=None if self.facing_width is None else mm(self.facing_width),
            neckline="collar",
            rib_depth=mm(ABOVE_NOTHING),
        ).corrected(body)
