"""The rib jacket's options. Every default is common practice, no source."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, ClassVar, Literal

from pieces.body.corrections import Corrections
from pieces.dimensioned import Mm, MmOrNone
from pieces.errors import DraftError
from pieces.garments.garment import ABOVE_NOTHING, option
from pieces.garments.jacket.allowances import NAMED, Allowances, Habit
from pieces.garments.jacket.fit import FITS, FitName
from pieces.garments.style import GarmentStyle
from pieces.length import mm
from pieces.piece.ribbing import BandRule, Swatch
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from pieces.body.body import Body

CUFF_STRETCH, HEM_STRETCH, NECK_STRETCH = 0.5, 0.25, 0.5
"""Share of the swatch's stretch that a sewn band uses up; the rest is left to move in.

Common practice, no source; a rib that gives 5/3 to 2 times gets cuffs of 3/4 to 2/3 of their opening by it.
"""

WIDEST_EXTENSION = 8 * INCH
"""A double-breasted front overlaps no further."""


class JacketStyle(GarmentStyle):
    """How a rib-trimmed jacket is to be made; lengths are given with their units."""

    called: ClassVar[str] = "jacket"
    """What messages call the garment that is drafted by it."""

    has_rib: ClassVar[bool] = True
    """Whether it has bands of rib, may lack a facing, and may drop its shoulders."""

    length: Mm = option(
        26 * INCH,
        "finished length from the neck point, hem rib included; a loose fit ends up to 1/4 in shorter",
        example="26 in",
        least=ABOVE_NOTHING,
    )
    sleeve: MmOrNone = option(
        None, "finished sleeve from the shoulder point, cuff included; by default the arm length", example="23 in"
    )
    fit: FitName = option("loose", "how close it lies: ease, armhole, width across and sleeve together", "choice")
    ease: MmOrNone = option(None, "room round the body; by default by the fit: 3 1/8, 4 or 5 in", example="5 in")
    seam: Mm = option(INCH / 2, "seam allowance", example="1/2 in", least=ABOVE_NOTHING)
    allowances: Habit = option("one", "seam allowances: one for all, or as usual at home or in the trade", "choice")
    side_seam: MmOrNone = option(None, "allowance of side and underarm seams", example="5/8 in", least=0)
    shoulder_seam: MmOrNone = option(None, "allowance of the shoulder seams", example="1/2 in", least=0)
    armhole_seam: MmOrNone = option(None, "allowance of armholes and sleeve caps", example="3/8 in", least=0)
    centre_seam: MmOrNone = option(None, "allowance of a centre-back seam", example="3/4 in", least=0)
    neck_seam: MmOrNone = option(None, "allowance of necklines and neckband", example="1/4 in", least=0)
    hem_seam: MmOrNone = option(None, "allowance of the hem and its band", example="3/8 in", least=0)
    wrist_seam: MmOrNone = option(None, "allowance of the wrist ends and cuffs", example="3/8 in", least=0)
    front_seam: MmOrNone = option(
        None, "allowance of the front edges, where no zip takes more", example="1/4 in", least=0
    )
    closure: Literal["buttons", "zip", "none"] = option("buttons", "how the front closes", "choice")
    front_extension: Mm = option(
        INCH, "cut beyond the centre front, for a button or zip closure", example="1 in", least=0
    )
    facing: Literal["separate", "grown-on", "none"] = option("separate", "facing of the front edge", "choice")
    facing_width: MmOrNone = option(
        None, "finished width of the facing; by default 2 1/2 in, or less at a narrower neckline", example="2 1/2 in"
    )
    back_facing: Literal["none", "facing"] = option("none", "facing of the back neckline", "choice")
    lining: Literal["none", "full"] = option("none", "a lining, with a pleat and longer at hem and wrist", "choice")
    interfacing: Literal["none", "cut"] = option(
        "none", "pieces of interfacing for facings, welts, tabs and collar", "choice"
    )
    pockets: Literal["none", "patch", "side-seam", "welt"] = option("none", "two pockets, and of what kind", "choice")
    pocket_mouth: MmOrNone = option(
        None, "finished mouth of a pocket; by default a sixth of the bust, or what there is room for", example="6 in"
    )
    pocket_cloth: Literal["lining", "shell"] = option("lining", "what the bags of pockets are cut of", "choice")
    hanger_loop: Literal["none", "loop"] = option("none", "a loop at the back of the neck to hang it by", "choice")
    bust_shape: Literal["ease", "dart"] = option(
        "ease", "length for a full bust: left at armhole and hem, or taken up by a dart at the side", "choice"
    )
    yoke: Literal["none", "back"] = option("none", "a yoke across the back", "choice")
    sleeve_pieces: Literal["one", "two"] = option("one", "a sleeve of one piece, or upper and under sleeve", "choice")
    back: Literal["fold", "seam"] = option("fold", "centre back: on a fold, or with a seam", "choice")
    side: Literal["shaped", "straight"] = option("shaped", "side seam: shaped from bust to hip, or straight", "choice")
    drop_shoulder: Mm = option(
        0.0,
        "how far the armhole seam lies beyond the body's shoulder point; the sleeve is shorter by the same amount",
        example="0 in",
        least=0,
    )
    sleeve_ease: Mm = option(2 * INCH, "ease round the upper arm", example="2 in")
    sleeve_room: MmOrNone = option(
        None,
        "room and seams round the upper arm; by default by the fit, loose 3/8 of it, or less to meet the armhole",
        example="4 1/2 in",
    )
    sleeve_hem: MmOrNone = option(None, "sewn width of the wrist end; by default the cuff over 0.8", example="12 in")
    ends: Literal["rib", "elastic"] = option(
        "rib", "hem and wrist end in rib, or in bands of the shell with elastic", "choice"
    )
    neckline: Literal["band", "collar", "hood"] = option("band", "what stands on the neckline", "choice")
    collar_height: Mm = option(2 * INCH, "finished height of a stand collar", example="2 in", least=ABOVE_NOTHING)
    hood_height: MmOrNone = option(
        None, "of a hood, from the neckline over the head; by default by the wearer, 13 1/2 in", example="13 1/2 in"
    )
    rib_depth: Mm = option(3 * INCH, "finished depth of cuffs and hem band", example="3 in", least=ABOVE_NOTHING)
    neck_rib_depth: Mm = option(INCH, "finished depth of the neckband", example="1 in", least=ABOVE_NOTHING)
    tab_width: Mm = option(0.0, "finished width of a fabric tab at each hem front; 0 for none", example="0 in", least=0)
    band_rule: Literal["subtract", "share", "stretch"] = option(
        "subtract",
        "length of rib bands: the opening less an amount, a share of the opening, or by the stretch of a swatch",
        "choice",
    )
    cuff_add: Mm = option(INCH, "subtract rule: added to the wrist for a cuff", example="1 in")
    hem_less: Mm = option(4 * INCH, "subtract rule: taken off the hem opening", example="4 in")
    neck_less: Mm = option(2 * INCH, "subtract rule: taken off the neck opening", example="2 in")
    cuff_share: float = option(0.75, "share rule: cuff as a share of the wrist end", "share", example="0.75")
    hem_share: float = option(0.875, "share rule: hem band as a share of the hem opening", "share", example="0.875")
    neck_share: float = option(0.75, "share rule: neckband as a share of the neck opening", "share", example="0.75")
    swatch_relaxed: MmOrNone = option(None, "a swatch of the rib, measured across as it lies", example="4 in")
    swatch_stretched: MmOrNone = option(None, "the same swatch, pulled out by hand", example="6 in")

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.front_extension > WIDEST_EXTENSION:
            raise DraftError(
                f"front_extension of {format_both(self.front_extension)} is more than a closure needs: write "
                f"{format_both(WIDEST_EXTENSION)} or less, or check the unit",
                about="front_extension",
            )
        if self.closure == "buttons" and self.front_extension <= self.seam:
            raise DraftError(
                f"front_extension of {format_both(self.front_extension)} leaves no overlap after a seam of"
                f" {format_both(self.seam)}: make it wider, or set closure to 'zip' or 'none'",
                about="front_extension",
            )

        swatch = self.swatch  # makes sense, or is refused, whatever the rule
        if self.band_rule == "stretch" and swatch is None:
            said = "band_rule 'stretch' needs a swatch: add swatch_relaxed and swatch_stretched"
            raise DraftError(said, about="band_rule")

    @classmethod
    def if_rib(cls, words: str) -> str:
        """Words of a message that hold of a jacket with rib alone."""
        return words if cls.has_rib else ""

    @property
    def swatch(self) -> Swatch | None:
        """The rib's swatch, if one was measured; DraftError if it makes no sense, or half of it is missing."""
        return Swatch.given(self.swatch_relaxed, self.swatch_stretched)

    @property
    def wrist_by(self) -> str:
        """The option by which the wrist end is as wide as it is."""
        return "sleeve_hem" if self.sleeve_hem is not None else "cuff_add"

    @property
    def above_neckline(self) -> float:
        """How far the closed front edge goes on above the neckline, mm."""
        return {"band": self.neck_rib_depth, "collar": self.collar_height, "hood": 0.0}[self.neckline]

    def corrected(self, body: Body) -> JacketStyle:
        """The style with what a try-on has shown of length, sleeve and ease."""
        tried, sleeve = body.tried_on, body.arm_length if self.sleeve is None else self.sleeve
        if tried == Corrections():
            return self
        return replace(
            self,
            length=mm(self.length + tried.length),
            sleeve=None if sleeve is None else mm(sleeve + tried.sleeve),
            ease=mm(self.room + tried.ease),
        )

    @property
    def room(self) -> float:
        """Ease round the body, mm: as asked, or by the fit."""
        return FITS[self.fit].ease if self.ease is None else self.ease

    @property
    def overlap(self) -> float:
        """How far the finished front edge lies beyond the centre front, mm."""
        if self.closure != "buttons":
            return 0.0
        return self.front_extension - (0.0 if self.facing == "grown-on" else self.seam)

    @property
    def seams(self) -> Allowances:
        """The allowances of all edges; a zip is set into all of the extension."""
        asked = {kind: mm for kind in NAMED if (mm := getattr(self, f"{kind}_seam")) is not None}
        has_edge = self.closure == "zip" and self.facing != "grown-on"  # else the zip is sewn under the fold
        return Allowances(
            self.seam, self.allowances, asked, self.front_extension if has_edge else 0.0, has_tabs=self.tab_width > 0
        )

    def cuff_rule(self) -> BandRule:
        """How the cuff is cut from the wrist end; by the subtract rule it goes by the wrist instead."""
        return self._rule("cuff", 0.0, self.cuff_share, CUFF_STRETCH)

    def hem_rule(self) -> BandRule:
        """How the hem band is cut."""
        return self._rule("hem", self.hem_less, self.hem_share, HEM_STRETCH)

    def neck_rule(self) -> BandRule:
        """How the neckband is cut."""
        return self._rule("neck", self.neck_less, self.neck_share, NECK_STRETCH)

    def _rule(self, band: str, less: float, share: float, used: float) -> BandRule:
        if self.band_rule == "subtract":
            return BandRule("subtract", less, option=f"{band}_less")
        if self.swatch is None or self.band_rule == "share":
            return BandRule("share", share, option=f"{band}_share")
        return BandRule("stretch", 1 + used * (self.swatch.ratio - 1), 2 * self.seam)
