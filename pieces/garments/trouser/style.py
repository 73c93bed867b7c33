"""Options of trousers that are pulled on. Every default is common practice, no source, but for the crotch ease."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from pieces.body.rules import measured_or_usual
from pieces.dimensioned import Mm, MmOrNone
from pieces.errors import DraftError
from pieces.garments.garment import ABOVE_NOTHING, option
from pieces.garments.parts.casing import casing_depth
from pieces.garments.style import GarmentStyle
from pieces.piece.ribbing import BandRule, Swatch
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from collections.abc import Mapping

    from pieces.body.body import Body
    from pieces.garments.idle import IdleOptions

Casing = Literal["grown-on", "separate", "rib"]
"""What the elastic at the waist runs in: the leg folded over, a strip of the shell, or a band of rib."""

LEAST_SHARE, MOST_SHARE = 0.6, 1.0
"""Elastic is neither shorter nor longer than these shares of the waist."""


JOGGER_EASE: Mapping[str, float] = {"knit": 2 * INCH, "woven": 4 * INCH}
"""Room round the hip of joggers, by their cloth."""

CUFF_STRETCH, WAIST_STRETCH = 0.5, 0.3
"""Share of a swatch's stretch that a sewn band uses up where it meets the leg or the waist; the rest is to move in."""

OF_INSIDE_LEG = 1 / 4
"""The inseam of shorts as a share of the inside leg."""


class TrouserStyle(GarmentStyle):
    """What all trousers that are pulled on have in common; lengths are given with their units."""

    length: MmOrNone = option(
        None, "finished length at the side, upper edge to hem; or give inseam", example="40 in", least=ABOVE_NOTHING
    )
    inseam: MmOrNone = option(
        None,
        "finished inside leg seam, cuff included; by default by the inside leg of the body",
        example="28 in",
        least=ABOVE_NOTHING,
    )
    ease: MmOrNone = option(
        None, "room round the hip; by default 3 in, of joggers 2 in, or 4 in of woven cloth", example="3 in", least=0
    )
    rise_ease: MmOrNone = option(
        None, "room between body and crotch; by default 1/2, 3/4 or 1 in by the hip", example="3/4 in", least=0
    )
    hem_width: MmOrNone = option(
        None, "leg round at the hem; by default by the leg above", example="18 in", least=ABOVE_NOTHING
    )
    waist_width: MmOrNone = option(
        None,
        "waist of the cloth before the elastic draws it in; by default about the hip",
        example="42 in",
        least=ABOVE_NOTHING,
    )
    elastic_width: Mm = option(INCH, "width of the elastic", example="1 in", least=ABOVE_NOTHING)
    elastic_share: float = option(0.9, "elastic as a share of the waist", "share", example="0.9")
    cord: Literal["none", "cord"] = option("none", "a cord in the casing, tied at the front", "choice")
    pockets: Literal["none", "side-seam", "patch"] = option(
        "none", "two pockets: in the side seams, or patches behind", "choice"
    )
    pocket_mouth: MmOrNone = option(
        None, "finished mouth of a pocket; by default 0.15 of the hip, or what there is room for", example="6 in"
    )
    pocket_cloth: Literal["lining", "shell"] = option("lining", "what the bags of pockets are cut of", "choice")
    seam: Mm = option(INCH / 2, "seam allowance", example="1/2 in", least=ABOVE_NOTHING)

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.length is not None and self.inseam is not None:
            raise DraftError(
                f"length of {format_both(self.length)} and inseam of {format_both(self.inseam)} both say where the hem"
                " lies: leave one of them out",
                about="length",
            )
        if not LEAST_SHARE <= self.elastic_share <= MOST_SHARE:
            raise DraftError(
                f"elastic_share must be {LEAST_SHARE:g} to {MOST_SHARE:g} of the waist, not {self.elastic_share:g}",
                about="elastic_share",
            )

    @property
    def idle(self) -> tuple[IdleOptions, ...]:
        """Options of its own that may change nothing."""
        return ()

    @property
    def leg_option(self) -> Literal["length", "inseam"]:
        """The option by which the hem lies where it does."""
        return "inseam" if self.length is None else "length"

    @property
    def casing(self) -> Casing:
        """What the elastic runs in."""
        return "grown-on"

    @property
    def casing_deep(self) -> float:
        """Finished depth of the casing, mm."""
        return casing_depth(self.elastic_width)

    @property
    def allowance(self) -> float:
        """Seam allowance, mm."""
        return self.seam

    @property
    def room(self) -> float:
        """Ease round the hip, mm."""
        return self.usual_ease if self.ease is None else self.ease

    @property
    def usual_ease(self) -> float:
        """Ease round the hip where it is not given, mm."""
        return 3 * INCH

    @property
    def turned_up(self) -> float:
        """What is cut beyond the finished hem, mm."""
        return 0.0

    @property
    def below_leg(self) -> float:
        """What a band at the hem adds to the length of the leg, mm."""
        return 0.0

    @property
    def knee(self) -> float | None:
        """The leg round at the knee, as asked, mm."""
        return None

    @property
    def hem_share(self) -> float:
        """The leg round at the floor, as a share of that at the crotch."""
        return 0.73

    @property
    def most_at_ankle(self) -> float | None:
        """The leg round at the ankle, as times the foot, at the most; None where it follows the leg."""
        return None

    def usual_inseam(self, body: Body, rise_ease: float) -> float:
        """The inside leg seam where neither it nor the length is given, mm."""
        return measured_or_usual(body, "inside_leg") - rise_ease - INCH


class HemmedStyle(TrouserStyle):
    """Trousers that are hemmed, their casing of the shell."""

    waistband: Literal["grown-on", "separate"] = option(
        "grown-on", "casing of the elastic: folded over, or a strip sewn on", "choice"
    )
    hem: Mm = option(1.25 * INCH, "turned up at the hem", example="1 1/4 in", least=ABOVE_NOTHING)

    @property
    def casing(self) -> Casing:
        """As asked."""
        return self.waistband

    @property
    def turned_up(self) -> float:
        """The hem."""
        return self.hem


class ElasticTrouserStyle(HemmedStyle):
    """How elastic trousers are to be made."""

    knee_width: MmOrNone = option(
        None, "leg round at the knee; by default 0.8 of the leg at the crotch", example="21 in", least=ABOVE_NOTHING
    )

    @property
    def knee(self) -> float | None:
        """As asked."""
        return self.knee_width


class ShortsStyle(HemmedStyle):
    """How shorts are to be made."""

    def usual_inseam(self, body: Body, rise_ease: float) -> float:
        """A quarter of the inside leg."""
        return OF_INSIDE_LEG * measured_or_usual(body, "inside_leg")


class JoggerStyle(TrouserStyle):
    """How joggers are to be made."""

    cloth: Literal["knit", "woven"] = option("knit", "what the shell is: by it goes the usual ease", "choice")
    knee_width: MmOrNone = option(
        None, "leg round at the knee; by default 0.8 of the leg at the crotch", example="20 in", least=ABOVE_NOTHING
    )
    waistband: Literal["grown-on", "separate", "rib"] = option(
        "grown-on", "casing of the elastic: folded over, a strip sewn on, or a band of rib", "choice"
    )
    rib_depth: Mm = option(2.5 * INCH, "finished depth of the cuffs", example="2 1/2 in", least=ABOVE_NOTHING)
    band_rule: Literal["share", "stretch"] = option(
        "share", "length of rib bands: a share of the opening, or by the stretch of a swatch", "choice"
    )
    cuff_share: float = option(0.7, "share rule: cuff as a share of the leg's end", "share", example="0.7")
    waistband_share: float = option(
        0.9, "share rule: rib waistband as a share of the waist of the cloth", "share", example="0.9"
    )
    swatch_relaxed: MmOrNone = option(None, "a swatch of the rib, measured across as it lies", example="4 in")
    swatch_stretched: MmOrNone = option(None, "the same swatch, pulled out by hand", example="6 in")

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.band_rule == "stretch" and self.swatch is None:
            said = "band_rule 'stretch' needs a swatch: add swatch_relaxed and swatch_stretched"
            raise DraftError(said, about="band_rule")

        for name, is_too_much in (
            ("cuff_share", self.cuff_share >= 1),
            ("waistband_share", self.waistband == "rib" and self.waistband_share > 1),
        ):
            if self.band_rule == "share" and is_too_much:
                raise DraftError(
                    f"{name} of {getattr(self, name):g} makes a band that holds nothing in, as it is no shorter than"
                    f" what it is sewn to: choose less than 1, such as {getattr(type(self), name):g}",
                    about=name,
                )

    @property
    def idle(self) -> tuple[IdleOptions, ...]:
        """Rules of bands that are cut otherwise, or not at all."""
        return (
            (("cuff_share", "waistband_share"), self.band_rule == "stretch", "bands are cut by the swatch"),
            (("waistband_share",), self.waistband != "rib", "there is no waistband of rib"),
        )

    @property
    def swatch(self) -> Swatch | None:
        """The rib's swatch, if one was measured; DraftError if it makes no sense, or half of it is missing."""
        return Swatch.given(self.swatch_relaxed, self.swatch_stretched)

    @property
    def casing(self) -> Casing:
        """As asked."""
        return self.waistband

    @property
    def usual_ease(self) -> float:
        """By the cloth."""
        return JOGGER_EASE[self.cloth]

    @property
    def below_leg(self) -> float:
        """The cuff."""
        return self.rib_depth

    @property
    def knee(self) -> float | None:
        """As asked."""
        return self.knee_width

    @property
    def hem_share(self) -> float:
        """Narrow enough for a cuff."""
        return 0.5

    @property
    def most_at_ankle(self) -> float:
        """Few ankles grow with the hip, and a cuff holds by them."""
        return 4 / 3

    def usual_inseam(self, body: Body, rise_ease: float) -> float:
        """To the ankle."""
        return measured_or_usual(body, "inside_leg") - rise_ease - 2 * INCH

    def cuff_rule(self) -> BandRule:
        """How a cuff is cut."""
        return self._rule(self.cuff_share, CUFF_STRETCH)

    def waistband_rule(self) -> BandRule:
        """How a rib waistband is cut."""
        return self._rule(self.waistband_share, WAIST_STRETCH)

    def _rule(self, share: float, used: float) -> BandRule:
        if self.swatch is None or self.band_rule == "share":
            return BandRule("share", share)
        return BandRule("stretch", 1 + used * (self.swatch.ratio - 1), 2 * self.allowance)
