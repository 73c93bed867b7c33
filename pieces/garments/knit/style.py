"""The options that knit tops share. Every default is common practice, no source."""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import fields
from typing import TYPE_CHECKING, ClassVar, Literal

from pieces.dimensioned import Mm, MmOrNone
from pieces.errors import DraftError
from pieces.garments.garment import ABOVE_NOTHING, option
from pieces.garments.jacket.fit import FitName
from pieces.garments.jacket.style import CUFF_STRETCH, HEM_STRETCH, NECK_STRETCH
from pieces.garments.style import GarmentStyle
from pieces.piece.ribbing import BandRule, Swatch
from pieces.units import INCH

if TYPE_CHECKING:
    from collections.abc import Mapping

    from pieces.body.ranges import Wearer
    from pieces.garments.idle import Idle
    from pieces.garments.knit.fit import KnitFit

KnitBand = Literal["cuff", "hem band", "neckband"]

BANDS: Mapping[KnitBand, tuple[str, float]] = {
    "cuff": ("cuff_share", CUFF_STRETCH),
    "hem band": ("hem_share", HEM_STRETCH),
    "neckband": ("neck_share", NECK_STRETCH),
}
"""By band the option of its share, and how much of a rib's stretch it uses up."""

LEAST_GIRTH = 0.6
"""No knit top is narrower, as a share of the body."""


class KnitStyle(GarmentStyle, ABC):
    """How a knit top is to be made; lengths are given with their units."""

    stood_by: ClassVar[str] = "neck"
    """What says how far the neckline lies outside the neck: an option, or the measurement itself."""

    length: MmOrNone = option(
        None, "finished length from the neck point; by default a little below the hip", example="26 in", least=1
    )
    fit: FitName = option("regular", "how close it lies: girth, armhole, shoulder and sleeve together", "choice")
    ease: MmOrNone = option(None, "room round the body; by default by the fit", example="3 in", least=0)
    girth_share: float | None = option(
        None, "finished girth as a share of the bust: under 1 it is smaller than the body", "share", example="0.95"
    )
    sleeve: MmOrNone = option(None, "finished sleeve from the shoulder point", example="8 in", least=1)
    sleeve_hem: MmOrNone = option(None, "sewn width of the sleeve's lower end", example="13 in", least=1)
    seam: Mm = option(INCH / 2, "seam allowance", example="1/2 in", least=ABOVE_NOTHING)
    neck_wider: MmOrNone = option(
        None,
        "how far the neckline lies outside the usual one; by default what the head needs, up to 1 in",
        example="1/2 in",
        least=0,
    )
    knit_relaxed: MmOrNone = option(None, "a swatch of the shell's knit, measured across as it lies", example="4 in")
    knit_stretched: MmOrNone = option(None, "the same swatch, pulled out by hand", example="5 in")

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.ease is not None and self.girth_share is not None:
            raise DraftError("ease and girth_share both say how wide it is: write one of them", about="girth_share")
        if self.girth_share is not None and self.girth_share < LEAST_GIRTH:
            raise DraftError(
                f"girth_share of {self.girth_share:g} is narrower than any knit top: write {LEAST_GIRTH:g} or more",
                about="girth_share",
            )
        Swatch.given(self.knit_relaxed, self.knit_stretched, "knit")  # makes sense, or is refused

    @property
    def knit(self) -> Swatch | None:
        """The shell's swatch, if one was measured."""
        return Swatch.given(self.knit_relaxed, self.knit_stretched, "knit")

    @property
    def rib(self) -> Swatch | None:
        """The rib's swatch, if one was measured."""
        return None

    @property
    @abstractmethod
    def shape(self) -> KnitFit:
        """What the fit sets."""

    @property
    @abstractmethod
    def stands(self) -> float:
        """How far what is sewn to the neckline reaches inside it, mm."""

    @property
    def band_depth(self) -> float:
        """Finished depth of hem band and cuffs, mm; 0 where the hem is turned."""
        return 0.0

    @property
    def turned(self) -> float:
        """Allowance of hem and sleeve ends, mm."""
        return self.seam

    @property
    def has_pocket(self) -> bool:
        """Whether a kangaroo pocket lies on the front."""
        return False

    @property
    def mouth(self) -> float | None:
        """The mouth of a pocket that is asked for, mm."""
        return None

    def hood_over(self, wearer: Wearer) -> float | None:
        """The height of a hood, mm; None where there is none."""
        return None

    @property
    def both_seams(self) -> float:
        """The allowances of both ends of a band, mm."""
        return 2 * self.seam

    @property
    def is_short(self) -> bool:
        """Whether the sleeves end above the elbow."""
        return False

    @property
    def rule_is_share(self) -> bool:
        """Whether bands are cut as a share of their openings."""
        return True

    def rule(self, band: KnitBand) -> BandRule | None:
        """How a band is cut from its opening; None where there is none."""
        return None

    @property
    def idle(self) -> tuple[Idle, ...]:
        """Options by what makes them idle, and the words for it."""
        return ()


class RibbedStyle(KnitStyle):
    """A knit top with bands of rib."""

    band_rule: Literal["share", "stretch"] = option(
        "share", "length of rib bands: a share of the opening, or by the stretch of a swatch", "choice"
    )
    swatch_relaxed: MmOrNone = option(None, "a swatch of the rib, measured across as it lies", example="4 in")
    swatch_stretched: MmOrNone = option(None, "the same swatch, pulled out by hand", example="6 in")

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.rib is None and self.band_rule == "stretch":
            said = "band_rule 'stretch' needs a swatch: add swatch_relaxed and swatch_stretched"
            raise DraftError(said, about="band_rule")

    @property
    def rib(self) -> Swatch | None:
        """The rib's swatch, if one was measured."""
        return Swatch.given(self.swatch_relaxed, self.swatch_stretched)

    @property
    def rule_is_share(self) -> bool:
        """Whether bands are cut as a share of their openings."""
        return self.band_rule == "share"

    def rule(self, band: KnitBand) -> BandRule | None:
        """How a band is cut from its opening; None where there is none."""
        name, used = BANDS[band]
        share: float | None = getattr(self, name, None)
        if share is None:
            return None
        if self.rule_is_share or self.rib is None:
            return BandRule("share", share, option=name)
        return BandRule("stretch", 1 + used * (self.rib.ratio - 1), self.both_seams)

    @property
    def idle(self) -> tuple[Idle, ...]:
        """Shares, where bands are cut by the rib's stretch."""
        shares = tuple(each.name for each in fields(self) if each.name in dict(BANDS.values()))
        return ((shares, lambda style: not style.rule_is_share, "band_rule is 'stretch'"),)
