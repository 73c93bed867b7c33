"""Rib bands of the jacket: cuffs, hem band and neckband, each by its rule; or of the shell, gathered by elastic."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from pieces.errors import DraftError
from pieces.piece.piece import Notch
from pieces.piece.ribbing import LEAST_SHARE, ZIP_END, cut_depth, half_on_fold, rib_band
from pieces.units import format_both

if TYPE_CHECKING:
    from pieces.body.body import Body
    from pieces.garments.jacket.style import JacketStyle
    from pieces.piece.piece import Piece
    from pieces.piece.ribbing import BandRule

SEEN = 0.05
"""A smaller difference is none, mm."""


def draft_bands(
    openings: dict[str, float], places: dict[str, tuple[tuple[str, float], ...]], body: Body, style: JacketStyle
) -> tuple[list[Piece], list[str]]:
    """Cuff, hem band and neckband, and notes on how each was measured and whether the rib stretches that far."""
    deep, shallow = (cut_depth(depth, style.seam) for depth in (style.rib_depth, style.neck_rib_depth))
    pieces, notes, suffices = [], [], style.swatch is not None
    wanted = [("cuff", openings["wrist_opening"], deep, 2), ("hem band", openings["hem_opening"], deep, 1)]
    if style.neckline == "band":
        wanted.append(("neckband", openings["neck_opening"], shallow, 1))
    for name, opening, depth, count in wanted:
        length = _cut_length(name, opening, body, style)
        if style.ends == "elastic" and name != "neckband":
            band = replace(
                rib_band(name, opening + 2 * style.seam, depth, style.seam, cut=count, places=places[name]),
                material="shell",
            )
            pieces.append(band if name == "cuff" else half_on_fold(band))
            notes.append(f"{name}: of the shell, gathered by elastic {format_both(length - 2 * style.seam)} long")
            continue
        pieces.append(rib_band(name, length, depth, style.seam, cut=count, places=places[name]))
        sewn = length - 2 * style.seam
        notes.append(
            f"{name}: cut by rule, {_rule(name, style)}{_ends(name, style)}; sewn {sewn / opening:.0%} of its opening"
        )
        lacking = _stretch_notes(name, sewn, opening, body, style)
        notes += lacking
        suffices = suffices and not lacking
    if style.swatch and suffices and any(piece.material == "rib" for piece in pieces):
        notes.append(f"rib: the swatch gave {style.swatch.gave:.2f} times, enough for each band")
    if style.closure == "zip":
        closed = ("neckband",) if style.tab_width > 0 else ("neckband", "hem band")
        pieces = [_with_zip_end(piece) if piece.name in closed else piece for piece in pieces]
    return pieces, notes


def _with_zip_end(band: Piece) -> Piece:
    """A band with a notch where the zip ends: at its fold, on each end that meets a front edge."""
    ends = [edge for edge in band.edges if edge.name in ("end", "other end")]
    marks = (Notch(ZIP_END, (float(edge.points[:, 0].mean()), float(edge.points[0, 1]))) for edge in ends)
    return replace(band, notches=(*band.notches, *marks))


def _cut_length(name: str, opening: float, body: Body, style: JacketStyle) -> float:
    """How long a band of rib is cut by its rule, mm; a cuff by the wrist."""
    if name == "cuff" and style.band_rule == "subtract":
        length = body.wrist + style.cuff_add
        if length - 2 * style.seam > opening:
            raise DraftError(
                f"cuff_add of {format_both(style.cuff_add)} makes a cuff of {format_both(length)}, wider than the"
                f" sleeve at the wrist, {format_both(opening)}: give less cuff_add, or more sleeve_hem",
                about="cuff_add",
            )
        return length
    return _band_rule(name, style).cut_length(name, opening)


def _band_rule(name: str, style: JacketStyle) -> BandRule:
    return {"cuff": style.cuff_rule, "hem band": style.hem_rule, "neckband": style.neck_rule}[name]()


def _rule(name: str, style: JacketStyle) -> str:
    """The rule of a band in words."""
    if name == "cuff" and style.band_rule == "subtract":
        return f"the wrist plus {format_both(style.cuff_add)}"
    return _band_rule(name, style).describe()


def _ends(name: str, style: JacketStyle) -> str:
    """What a band's cut length has beyond its rule, which is about ends with the one seam of all."""
    more = 2 * (style.seams.of(style.seams.end_of(name)) - style.seam)
    if abs(more) < SEEN:
        return ""
    return f", and {format_both(abs(more))} {'more' if more > 0 else 'less'} for the allowances at its ends"


def _stretch_notes(name: str, sewn: float, opening: float, body: Body, style: JacketStyle) -> list[str]:
    """Where a band would have to stretch further than its rib. No neckband passes the head: the front opens."""
    if style.swatch is None:
        few = sewn < LEAST_SHARE * opening
        return [f"{name}: must stretch {opening / sewn:.2f} times; try it on your rib first"] if few else []
    if name != "cuff":
        return style.swatch.note(name, sewn, "meet its opening", opening)
    return [
        *style.swatch.note(name, sewn, "meet its opening", opening, remedy="gather the wrist end, or cut it longer"),
        *style.swatch.passing_hand(name, sewn, body.wrist, body.wearer),
    ]


def elastics(openings: dict[str, float], body: Body, style: JacketStyle) -> dict[str, float]:
    """How long the elastic of each band is as it lies, mm: as long as a band of rib would be sewn."""
    if style.ends != "elastic":
        return {}
    return {
        f"{name}_elastic": _cut_length(band, openings[f"{opening}_opening"], body, style) - 2 * style.seam
        for name, band, opening in (("cuff", "cuff", "wrist"), ("hem", "hem band", "hem"))
    }
