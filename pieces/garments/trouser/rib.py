"""Bands of rib on trousers: cuffs, and a waistband that the elastic runs in. Common practice, no source."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from pieces.body.rules import measured_or_usual
from pieces.errors import DraftError
from pieces.garments.trouser.block import foot_girth
from pieces.garments.trouser.trousers import RibBands
from pieces.piece.curve import polyline_length
from pieces.piece.finished import Finished
from pieces.piece.pieces import Seam
from pieces.piece.ribbing import LEAST_SHARE, MOST_STRETCH, cut_depth, rib_band
from pieces.units import format_both

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.body.body import Body
    from pieces.garments.trouser.block import TrouserBlock
    from pieces.garments.trouser.style import JoggerStyle
    from pieces.piece.piece import Piece

ANKLE_OF_FOOT, LOOSE = 0.7, 1.25
"""An ankle as a share of the girth round heel and instep (from memory), and how many times it a cuff is loose."""

CUFF_SEAM = Seam("cuff", (("cuff", "end"),), (("cuff", "other end"),))
WAISTBAND_SEAM = Seam("waistband ends", (("waistband", "end"),), (("waistband", "other end"),))


def rib_bands(block: TrouserBlock, body: Body, style: JoggerStyle) -> RibBands:
    """Two cuffs, and a waistband where it is of rib.

    Raises
    ------
    DraftError
        If a band can meet its opening by no rib, or cannot pass what it must.
    """
    ankle, side = block.front.hem + block.back.hem, block.front.hem
    cuff, notes = _band("cuff", ankle, style.rib_depth, style, (("side seam", side / ankle),))
    told = [*notes, *_passing("cuff", cuff, "foot", foot_girth(body), style)]
    measures = _measures("cuff", cuff)
    told += _loose(cuff, block, body, style)
    if style.swatch is not None and style.band_rule == "share":
        told.append(f"swatch: it gave {style.swatch.ratio:.2f}; bands cut by share are held against it")
    sizes = [Finished("cuff", _sewn(cuff))]
    if style.waistband != "rib":
        return RibBands((cuff,), (CUFF_SEAM,), measures, tuple(told), tuple(sizes))
    behind = polyline_length(block.back.waist_line()) / block.waist
    places = (("right side seam", behind), ("centre front", 0.5), ("left side seam", 1 - behind))
    band, notes = _band("waistband", block.waist, style.casing_deep, style, places)
    band = replace(band, cut=1, label="seam at the centre back")
    most = max(body.hip, measured_or_usual(body, "waist"))
    told += [*notes, *_passing("waistband", band, "hip", most, style)]
    elastic = style.elastic_share * measured_or_usual(body, "waist")
    if _sewn(band) < elastic:
        told.append(
            f"waistband: sewn {format_both(_sewn(band))} long, shorter than its elastic of {format_both(elastic)},"
            " which then does nothing: give more waistband_share, or less elastic_share"
        )
    sizes.append(Finished("rib waistband", _sewn(band)))
    seams = (CUFF_SEAM, WAISTBAND_SEAM)
    return RibBands((cuff, band), seams, measures | _measures("waistband", band), tuple(told), tuple(sizes))


def _loose(cuff: Piece, block: TrouserBlock, body: Body, style: JoggerStyle) -> Iterator[str]:
    """A line on a cuff that hardly holds at the ankle; one that ends above the knee is held by the leg."""
    ankle = ANKLE_OF_FOOT * foot_girth(body)
    if block.front.levels.knee is not None and _sewn(cuff) > LOOSE * ankle:
        less = "hem_width, or less cuff_share" if style.band_rule == "share" else "hem_width"
        yield (
            f"cuff: sewn {format_both(_sewn(cuff))} long, loose on an ankle of about {format_both(ankle)}: give less"
            f" {less}"
        )


def _band(
    name: str, opening: float, depth: float, style: JoggerStyle, places: tuple[tuple[str, float], ...]
) -> tuple[Piece, list[str]]:
    """A band for an opening, and by which rule it was cut."""
    rule = style.cuff_rule() if name == "cuff" else style.waistband_rule()
    option = f"{name}_share" if style.band_rule == "share" else "swatch_stretched"
    try:
        length = rule.cut_length(name, opening)
    except DraftError as error:
        raise DraftError(str(error), about=option) from error
    sewn = length - 2 * style.allowance
    if sewn <= opening / MOST_STRETCH:
        raise DraftError(
            f"{name}: cut {format_both(length)} long with seams of {format_both(style.allowance)}, meets its opening of"
            f" {format_both(opening)} by no rib: give more {option}",
            about=option,
        )
    band = rib_band(name, length, cut_depth(depth, style.allowance), style.allowance, cut=2, places=places)
    said = f"{name}: cut by rule, {rule.describe()}; sewn {sewn / opening:.0%} of its opening"
    return band, [said, *_stretching(name, sewn, "meet its opening", opening, style)]


def _passing(name: str, band: Piece, what: str, girth: float, style: JoggerStyle) -> Iterator[str]:
    """What a closed band must pass when it is put on, and whether it can."""
    sewn = _sewn(band)
    about = "about " if what == "foot" else ""
    yield (
        f"{name}: must pass the {what}, {about}{format_both(girth)} round: it stretches {max(1.0, girth / sewn):.2f}"
        " times for that"
    )
    yield from _stretching(name, sewn, f"pass the {what}", girth, style)


def _stretching(name: str, sewn: float, to: str, girth: float, style: JoggerStyle) -> list[str]:
    """Where a band would have to stretch further than its rib."""
    if style.swatch is not None:
        return style.swatch.note(name, sewn, to, girth)
    if sewn < LEAST_SHARE * girth:
        return [f"{name}: must stretch {girth / sewn:.2f} times to {to}; try it on your rib first"]
    return []


def _sewn(band: Piece) -> float:
    return band.edge("edge").length


def _measures(name: str, band: Piece) -> dict[str, float]:
    return {f"{name}_cut_length": band.width, f"{name}_cut_depth": band.length}
