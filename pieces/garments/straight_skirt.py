"""A fitted skirt with darts, straight from the hip down or a little wider at the hem.

The ease at the hip is that of School Sewing's foundation skirt, 2 in. The rest is common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Literal

from pieces.body.rules import measured_or_usual
from pieces.dimensioned import Mm, MmOrNone
from pieces.errors import DraftError
from pieces.garments.garment import Garment, option
from pieces.garments.idle import idle_notes
from pieces.garments.skirt.checked import checked
from pieces.garments.skirt.darted import quarter, side_takes
from pieces.garments.skirt.facing import facings
from pieces.garments.skirt.panel import Opening, panel
from pieces.garments.skirt.pockets import side_pockets
from pieces.garments.skirt.sewing import skirt_steps
from pieces.garments.skirt.style import (
    ZipAt,
    ease_option,
    finished_waist,
    hip_ease_option,
    interfacing_option,
    length_option,
    pocket_mouth_option,
    pockets_option,
    seam_option,
    usual_length,
    waistband_depth_option,
    zip_option,
)
from pieces.garments.skirt.trims import skirt_trims
from pieces.garments.skirt.waist import Waist, banded, zip_opening
from pieces.garments.style import GarmentStyle
from pieces.piece.finished import Finished
from pieces.piece.pieces import PieceSet, Seam
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.body.body import Body
    from pieces.garments.skirt.darted import Quarter
    from pieces.piece.piece import Piece

BEHIND_LESS, OF_SPARE = INCH / 4, 1 / 6
"""How much less than a quarter of the waist half the back's is, and how much more half the front's, at the most; and as
a share of what a quarter of the hip has more."""

FRONT_DART, BACK_DART = 0.5, 0.75
"""How long darts are, as shares of the hip depth."""

LINING_SHORTER, LINING_HEM = INCH, INCH
"""How far a lining ends above the hem, and what is turned up of it."""

WALKS_IN = 1.1
"""A straight hem narrower than so many times the hip needs a vent or a slit, if it is long."""

LONG = 20 * INCH


class StraightSkirtStyle(GarmentStyle):
    """How a straight skirt is to be made; lengths are given with their units."""

    length: Mm = length_option()
    shape: Literal["straight", "a-line"] = option("straight", "straight from the hip down, or wider below", "choice")
    flare: Mm = option(2 * INCH, "a-line: added at the hem on each side of a side seam", example="2 in", least=0)
    ease: Mm = ease_option()
    hip_ease: Mm = hip_ease_option()
    seam: Mm = seam_option()
    hem: Mm = option(1.5 * INCH, "turned up at the hem", example="1 1/2 in", least=0)
    back: Literal["seam", "fold"] = option("seam", "centre back: with a seam, or on a fold", "choice")
    zip: ZipAt = zip_option("back")
    opening: Literal["none", "vent", "slit"] = option("none", "at the hem of the centre back, to walk in", "choice")
    waistband: Literal["folded", "two-layer", "facing"] = option(
        "folded", "a waistband folded double or of two layers, or a facing inside", "choice"
    )
    waistband_depth: Mm = waistband_depth_option()
    pockets: Literal["none", "side-seam"] = pockets_option()
    pocket_mouth: MmOrNone = pocket_mouth_option()
    pocket_cloth: Literal["lining", "shell"] = option("lining", "what the bags of pockets are cut of", "choice")
    lining: Literal["none", "full"] = option("none", "a lining, 1 in shorter", "choice")
    interfacing: Literal["none", "cut"] = interfacing_option()

    def __post_init__(self) -> None:
        super().__post_init__()
        for asked, of, about in (
            (self.zip == "back", "a zip at the back", "zip"),
            (self.opening != "none", f"a {self.opening} at the back", "opening"),
        ):
            if asked and self.back == "fold":
                raise DraftError(f"{of} needs a seam there: set back to 'seam', or leave it out", about=about)
        if self.zip == "side" and self.pockets == "side-seam":
            raise DraftError("a zip in the side seam leaves no room for a pocket there: set zip to 'back'", about="zip")
        if self.opening != "none" and self.shape == "a-line":
            raise DraftError("an a-line skirt is wide enough to walk in: leave opening out", about="opening")


def draft(body: Body, style: StraightSkirtStyle) -> PieceSet:
    """Draft the skirt.

    Returns
    -------
    PieceSet
        Front and back, waistband or facings, and what else is asked for, checked.

    Raises
    ------
    DraftError
        If waist and hip do not go together, or there is no room for zip, vent or pockets.
    """
    worn = replace(style, length=usual_length(body, style.length))
    return checked("straight-skirt", _draft, body, worn, more="hip_ease")


def _draft(body: Body, style: StraightSkirtStyle) -> PieceSet:
    waist, hip, deep = finished_waist(body, style), body.hip + style.hip_ease, measured_or_usual(body, "hip_depth")
    less = min(BEHIND_LESS, max(0.0, OF_SPARE * (hip - waist) / 4))
    open_to, halves = zip_opening(body, style), (waist / 4 + less, waist / 4 - less)
    front, back = _quarters(halves, hip, deep, style, style.length)
    opening = Opening.of(style.opening, style.length, open_to, style.hem)
    ends = {"centre back" if style.zip == "back" else "side": open_to}
    shell = [
        panel("front", front, style.seam, style.hem, on_fold=True, zips=ends),
        panel("back", back, style.seam, style.hem, on_fold=style.back == "fold", zips=ends, opening=opening),
    ]
    seams = [Seam("sides", (("front", "side"),), (("back", "side"),))]
    if style.back == "seam":
        seams.append(Seam("centre back", (("back", "centre back"),), (("back", "centre back"),)))
    if style.opening == "vent":
        seams.append(Seam("vent", (("back", "vent top"),), (("back", "vent top"),)))
    shell, bags = side_pockets(shell, body, style)
    lining, of_lining = _lining(halves, hip, deep, style, open_to)
    finish = _finish(style, waist, halves, shell, (front, back))
    round_hem = 2 * sum(float(each.hem[-1, 1]) for each in (front, back))
    pieces = (*shell, *bags, *finish.pieces, *lining)
    takes = [sum(2 * (dart.other_leg[1] - dart.leg[1]) for dart in each.darts) for each in (front, back)]
    return PieceSet(
        "straight-skirt",
        pieces,
        (*seams, *finish.seams, *of_lining),
        measures={
            "waist_seam": waist,
            "hip_depth": deep,
            "front_darts": takes[0],
            "back_darts": takes[1],
            "hem_round": round_hem,
            "zip_opening": open_to,
        },
        notes=tuple(_notes(round_hem, hip, style)),
        finished=(
            Finished("waist", waist, measured_or_usual(body, "waist")),
            Finished("hip", hip, body.hip),
            Finished("length at the side", style.length),
            Finished("hem round", round_hem),
        ),
    )


def _quarters(
    halves: tuple[float, float], hip: float, deep: float, style: StraightSkirtStyle, length: float
) -> tuple[Quarter, Quarter]:
    """Half the front and half the back, as long as asked down the side."""
    flare = style.flare * (length - deep) / (style.length - deep) if style.shape == "a-line" else 0.0
    side = side_takes(halves, hip / 4)
    front, back = (
        quarter(half, hip / 4, flare, side, deep, length, share * deep)
        for half, share in zip(halves, (FRONT_DART, BACK_DART), strict=True)
    )
    return front, back


def _finish(
    style: StraightSkirtStyle, waist: float, halves: tuple[float, float], shell: list[Piece], drawn: tuple[Quarter, ...]
) -> Waist:
    """The waistband, or the facings."""
    if style.waistband == "facing":
        return facings(style.seam, shell, drawn, interfaced=style.interfacing == "cut")
    front, back = halves
    round_it = (
        (("side", back), ("centre front", back + front), ("side", back + 2 * front))
        if style.zip == "back"
        else (("centre front", front), ("side", 2 * front), ("centre back", 2 * front + back))
    )
    sewn_to = tuple((piece.name, edge.name) for piece in shell for edge in piece.edges if edge.name[:5] == "waist")
    return banded(style, waist, style.waistband, sewn_to * 2, round_it)


def _lining(
    halves: tuple[float, float], hip: float, deep: float, style: StraightSkirtStyle, open_to: float
) -> tuple[list[Piece], list[Seam]]:
    """Front and back of the lining, with the darts of the shell and a hem of its own; and its seams."""
    if style.lining == "none":
        return [], []
    drawn = _quarters(halves, hip, deep, style, style.length - LINING_SHORTER)
    kind: Literal["none", "slit"] = "none" if style.opening == "none" else "slit"
    slit = Opening.of(kind, style.length - LINING_SHORTER, open_to, LINING_HEM)
    zips = {"centre back" if style.zip == "back" else "side": open_to}
    pieces = [
        replace(
            panel(
                name, each, style.seam, LINING_HEM, on_fold=fold, zips=zips, opening=slit if name == "back" else None
            ),
            name=f"{name} lining",
            material="lining",
        )
        for name, each, fold, at_hem in (
            ("front", drawn[0], True, None),
            ("back", drawn[1], style.back == "fold", slit),
        )
    ]
    seams = [Seam("lining sides", (("front lining", "side"),), (("back lining", "side"),))]
    if style.back == "seam":
        behind = (("back lining", "centre back"),)
        seams.append(Seam("lining centre back", behind, behind))
    for piece in pieces:
        shell = piece.name.removesuffix(" lining")
        tops = [edge.name for edge in piece.edges if edge.name[:5] == "waist"]
        first, second = (tuple((name, top) for top in tops) for name in (piece.name, shell))
        seams.append(Seam(f"{shell} lining at the waist", first, second))
    return pieces, seams


def _notes(round_hem: float, hip: float, style: StraightSkirtStyle) -> Iterator[str]:
    yield from idle_notes(
        style,
        (("flare",), style.shape == "straight", "a straight skirt has none"),
        (("waistband_depth",), style.waistband == "facing", "a facing takes the place of the waistband"),
        (("pocket_mouth", "pocket_cloth"), style.pockets == "none", "no pockets are asked for"),
    )
    if style.opening == "none" and round_hem < WALKS_IN * hip and style.length > LONG:
        yield f"opening: the hem is {format_both(round_hem)} round, little to walk in: a vent or a slit gives room"


STRAIGHT_SKIRT = Garment(
    "straight-skirt",
    "straight or a-line skirt with darts",
    ("waist", "hip"),
    StraightSkirtStyle,
    draft,
    skirt_trims,
    skirt_steps,
    "M34 12H66V19H34ZM34 19C28 30 25 42 25 52L26 108H74L75 52C75 42 72 30 66 19M42 19L43 36M58 19L57 36",
)
