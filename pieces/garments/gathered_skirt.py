"""A gathered skirt: straight panels gathered to the waist, and to one another where it has tiers.

How full gathers are, 1.5 to 3 times, is as pages of teachers on the web have it. The rest is common practice, no
source.
"""

from __future__ import annotations

from dataclasses import replace
from math import ceil
from typing import TYPE_CHECKING, Literal

from pieces.body.rules import measured_or_usual
from pieces.dimensioned import Mm
from pieces.errors import DraftError
from pieces.garments.garment import Garment, option
from pieces.garments.idle import idle_notes
from pieces.garments.parts.casing import casing_allowance, waist_elastic
from pieces.garments.skirt.checked import check_hem, checked
from pieces.garments.skirt.rectangle import rectangle
from pieces.garments.skirt.sewing import skirt_steps
from pieces.garments.skirt.style import (
    ZipAt,
    cloth_width_option,
    ease_option,
    finished_waist,
    interfacing_option,
    length_option,
    seam_option,
    usual_length,
    waistband_depth_option,
    zip_option,
)
from pieces.garments.skirt.trims import skirt_trims
from pieces.garments.skirt.waist import Waist, banded, zip_along, zip_past_hip
from pieces.garments.style import GarmentStyle
from pieces.piece.finished import Finished
from pieces.piece.piece import Notch
from pieces.piece.pieces import PieceSet, Seam
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.body.body import Body
    from pieces.piece.piece import Piece

OVER_HIP = 2 * INCH
"""How much wider than the hip a skirt on elastic is at the least, to be put on: common practice, no source."""

MOST_PANELS = 12
"""No tier is pieced of more."""


class GatheredSkirtStyle(GarmentStyle):
    """How a gathered skirt is to be made; lengths are given with their units."""

    length: Mm = length_option()
    fullness: Literal["1.5", "2", "2.5", "3"] = option(
        "2", "how many times its waist the top is: light, usual, full, very full", "choice"
    )
    tiers: Literal["1", "2", "3", "4"] = option("1", "how many tiers, all of one depth", "choice")
    tier_fullness: Literal["1.25", "1.5", "2"] = option(
        "1.5", "how many times the tier above each next one is", "choice"
    )
    panels: Literal["by cloth", "1", "2", "3", "4", "6", "8"] = option(
        "by cloth", "in how many panels each tier is cut, or as many as the cloth asks", "choice"
    )
    cloth_width: Mm = cloth_width_option()
    ease: Mm = ease_option()
    seam: Mm = seam_option()
    hem: Mm = option(1.5 * INCH, "turned up at the hem", example="1 1/2 in", least=0)
    waistband: Literal["elastic", "folded", "two-layer"] = option(
        "elastic", "elastic in a casing grown on to the top, or a waistband with a zip", "choice"
    )
    waistband_depth: Mm = waistband_depth_option()
    zip: ZipAt = zip_option("back")
    interfacing: Literal["none", "cut"] = interfacing_option()


def draft(body: Body, style: GatheredSkirtStyle) -> PieceSet:
    """Draft the skirt.

    Returns
    -------
    PieceSet
        A panel for each tier, and the waistband where there is one, checked.

    Raises
    ------
    DraftError
        If the zip does not fit into the first tier, or a tier takes too many panels.
    """
    worn = replace(style, length=usual_length(body, style.length))
    return checked("gathered-skirt", _draft, body, worn, more="fullness")


def _draft(body: Body, style: GatheredSkirtStyle) -> PieceSet:
    waist, on_elastic = finished_waist(body, style), style.waistband == "elastic"
    top = float(style.fullness) * waist
    if on_elastic:
        top = max(top, body.hip + OVER_HIP)
    rounds = [top * float(style.tier_fullness) ** number for number in range(int(style.tiers))]
    count, deep = panels_for(rounds[-1], style), style.length / len(rounds)
    _check_tier(deep, style)
    opening = None if on_elastic else _opening(body, style, deep)
    tiers = [_tier(number, girth / count, deep, count, style, opening) for number, girth in enumerate(rounds)]
    finish = Waist((), ()) if on_elastic else _banded(style, waist, tiers[0], count)
    measures = {"waist_seam": waist, "top_round": top, "tier_depth": deep}
    measures |= {"hem_round": rounds[-1]}
    measures |= {"waist_elastic": waist_elastic(measured_or_usual(body, "waist"))} if opening is None else {}
    measures |= {} if opening is None else {"zip_opening": opening}
    is_elastic = Finished("elastic", waist_elastic(measured_or_usual(body, "waist")), measured_or_usual(body, "waist"))
    return PieceSet(
        "gathered-skirt",
        (*tiers, *finish.pieces),
        (*_seams(tiers), *finish.seams),
        measures=measures,
        notes=tuple(_notes(body, style, waist, top, count)),
        finished=(
            is_elastic if on_elastic else Finished("waist", waist, measured_or_usual(body, "waist")),
            Finished("hip", top, body.hip),
            Finished("length from the waist seam", style.length),
            Finished("hem round", rounds[-1]),
        ),
    )


def panels_for(girth: float, style: GatheredSkirtStyle) -> int:
    """In how many panels a tier of that girth, mm, is cut: as asked, or as few as lie on the cloth.

    Raises
    ------
    DraftError
        If it takes more than anyone would piece.
    """
    if style.panels != "by cloth":
        return int(style.panels)
    count = ceil(girth / (style.cloth_width - 2 * style.seam) - 1e-9)
    if count > MOST_PANELS:
        raise DraftError(
            f"the lowest tier is {format_both(girth)} round and takes {count} panels of cloth"
            f" {format_both(style.cloth_width)} wide, more than {MOST_PANELS}: choose fewer tiers or less fullness",
            about="tiers",
        )
    return count


def _check_tier(deep: float, style: GatheredSkirtStyle) -> None:
    """Make sure that a tier is deeper than its seams and its hem."""
    if style.tiers != "1" and deep <= 2 * style.seam:
        raise DraftError(
            f"{style.tiers} tiers of {format_both(deep)} leave nothing between their two seams of"
            f" {format_both(style.seam)}: choose fewer tiers, or a longer skirt",
            about="tiers",
        )
    check_hem(style.hem, deep, "tier")


def _opening(body: Body, style: GatheredSkirtStyle, deep: float) -> float:
    """How long the zip is, mm; it ends within the first tier."""
    opening = zip_past_hip(body, finished_waist(body, style))
    if opening + INCH > deep:
        raise DraftError(
            f"a zip of {format_both(opening)} does not end within the first tier, which is {format_both(deep)} deep:"
            " choose fewer tiers, a longer skirt, or waistband 'elastic'",
            about="tiers" if style.tiers != "1" else "length",
        )
    return opening


def _tier(number: int, wide: float, deep: float, count: int, style: GatheredSkirtStyle, opening: float | None) -> Piece:
    """A panel of a tier, with the middle of its upper and its lower edge marked."""
    of_casing = casing_allowance(style.waistband_depth)
    top = ("top", style.seam) if number else ("waist", of_casing if opening is None else style.seam)
    foot = ("hem", style.hem) if number + 1 == int(style.tiers) else ("foot", style.seam)
    notches = [Notch("middle", (x, wide / 2)) for x in ((0.0, deep) if foot[0] == "foot" else (0.0,))]
    piece = rectangle(f"tier {number + 1}", (deep, wide), style.seam, top, foot, cut=count, notches=notches)
    if number or opening is None:
        return piece
    lines = (piece.edge("side").points, piece.edge("other side").points[::-1])
    ends = [notch for line in lines for notch in zip_along(line, opening)]
    return replace(piece, notches=(*piece.notches, *ends))


def _seams(tiers: list[Piece]) -> Iterator[Seam]:
    for above, piece in zip([None, *tiers], tiers, strict=False):
        yield Seam(f"{piece.name} panels", ((piece.name, "side"),), ((piece.name, "other side"),))
        if above is not None:
            less = above.edge("foot").length - piece.edge("top").length
            yield Seam(f"{piece.name} gathers", ((above.name, "foot"),), ((piece.name, "top"),), ease=less)


def _banded(style: GatheredSkirtStyle, waist: float, top: Piece, count: int) -> Waist:
    """The waistband; it meets the seams and the middles of the panels."""
    assert style.waistband != "elastic"
    round_it = [("middle" if n % 2 else "seam", n * waist / count / 2) for n in range(1, 2 * count)]
    gathered = waist - count * top.edge("waist").length
    return banded(style, waist, style.waistband, ((top.name, "waist"),) * count, round_it, ease=gathered)


def _notes(body: Body, style: GatheredSkirtStyle, waist: float, top: float, count: int) -> Iterator[str]:
    if top > float(style.fullness) * waist + 1e-6:
        yield f"fullness: {top / waist:.2f} times the waist, so that it passes the hip of {format_both(body.hip)}"
    if style.panels == "by cloth":
        width = format_both(style.cloth_width)
        yield f"panels: {count} in the lowest tier, each within the width of cloth {width} wide"
    yield from idle_notes(
        style,
        (("cloth_width",), style.panels != "by cloth", "the number of panels is given"),
        (("tier_fullness",), style.tiers == "1", "there is one tier"),
        (("interfacing", "zip"), style.waistband == "elastic", "a waist on elastic has none"),
    )


GATHERED_SKIRT = Garment(
    "gathered-skirt",
    "gathered skirt",
    ("waist", "hip"),
    GatheredSkirtStyle,
    draft,
    skirt_trims,
    skirt_steps,
    "M36 14H64V21H36ZM36 21C28 50 20 84 14 108H86C80 84 72 50 64 21M42 21L38 46M50 21V48M58 21L62 46M30 108L34 84"
    "M50 108V82M70 108L66 84",
)
