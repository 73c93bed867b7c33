"""A skirt of gores, fitted at waist and hip and wider at the hem.

Of the five-gore skirt of The Perfect Dressmaking System (1914) come the equal widths at waist and hip, the depth of the
hip and the narrow front gore: at the hem twice as wide as at its top. The rest is common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Literal

import numpy as np

from pieces.body.rules import measured_or_usual
from pieces.dimensioned import Mm, MmOrNone
from pieces.garments.garment import ABOVE_NOTHING, Garment, option
from pieces.garments.parts.hem import fold_line, fold_of, turned_up
from pieces.garments.parts.waistband import BandMake
from pieces.garments.skirt.checked import checked
from pieces.garments.skirt.gore import Gore, gore, mirrored
from pieces.garments.skirt.sewing import skirt_steps
from pieces.garments.skirt.style import (
    ZipAt,
    ease_option,
    finished_waist,
    hip_ease_option,
    interfacing_option,
    length_option,
    seam_option,
    usual_length,
    waistband_depth_option,
    zip_option,
)
from pieces.garments.skirt.trims import skirt_trims
from pieces.garments.skirt.waist import banded, zip_along, zip_opening
from pieces.garments.style import GarmentStyle
from pieces.piece.curve import Line, point_along
from pieces.piece.finished import Finished
from pieces.piece.outline import Edge
from pieces.piece.piece import Notch, Piece
from pieces.piece.pieces import PieceSet, Seam
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.body.body import Body

FLARE = 3 * INCH
"""How much wider a gore is at the hem than at the hip, unless the hem is asked for: common practice, no source."""

NARROW_FRONT = 2.0
"""A narrow front gore is so many times as wide at the hem as at the waist (book of 1914, see above)."""

HIP = "hip"
"""The notch on each seam at the level of the hip."""


class GoredSkirtStyle(GarmentStyle):
    """How a gored skirt is to be made; lengths are given with their units."""

    length: Mm = length_option()
    gores: Literal["4", "5", "6", "7", "8"] = option("6", "how many gores it has", "choice")
    front_gore: Literal["even", "narrow"] = option("even", "gores all alike, or the front one narrow", "choice")
    hem_round: MmOrNone = option(
        None,
        "round the finished hem; by default each gore is 3 in wider than at the hip",
        example="72 in",
        least=ABOVE_NOTHING,
    )
    ease: Mm = ease_option()
    hip_ease: Mm = hip_ease_option()
    seam: Mm = seam_option()
    hem: Mm = option(INCH, "turned up at the hem", example="1 in", least=0)
    zip: ZipAt = zip_option("back")
    waistband: BandMake = option("folded", "one piece folded double, or two layers", "choice")
    waistband_depth: Mm = waistband_depth_option()
    interfacing: Literal["none", "cut"] = interfacing_option()


def draft(body: Body, style: GoredSkirtStyle) -> PieceSet:
    """Draft the skirt.

    Returns
    -------
    PieceSet
        The gore, the front gore where it is another, and the waistband, checked.

    Raises
    ------
    DraftError
        If the zip does not fit into the length, or the hem is too wide or too narrow for it.
    """
    worn = replace(style, length=usual_length(body, style.length))
    return checked("gored-skirt", _draft, body, worn, more="hip_ease")


def _draft(body: Body, style: GoredSkirtStyle) -> PieceSet:
    count, waist, hip = int(style.gores), finished_waist(body, style), body.hip + style.hip_ease
    opening, deep = zip_opening(body, style), measured_or_usual(body, "hip_depth")
    round_hem = hip + count * FLARE if style.hem_round is None else style.hem_round
    is_even = style.front_gore == "even"
    in_front = round_hem / count if is_even else NARROW_FRONT * waist / count
    others = (round_hem - in_front) / (count - 1)
    drawn = gore(waist / count, hip / count, others, deep, style.length)
    pieces = [_whole(drawn, style, count if is_even else count - 1, deep, opening)]
    seams = [Seam("panels", (("gore", "side"),), (("gore", "other side"),))]
    sewn_to = [("gore", "waist")] * count
    if not is_even:
        pieces.append(_front(gore(waist / count, hip / count, in_front, deep, style.length), style, deep, opening))
        seams.append(Seam("front gore", (("front gore", "side"),), (("gore", "side"),)))
        sewn_to[-1:] = [("front gore", "waist")] * 2
    band = banded(style, waist, style.waistband, tuple(sewn_to), _places(waist, style))
    return PieceSet(
        "gored-skirt",
        (*pieces, *band.pieces),
        (*seams, *band.seams),
        measures={
            "waist_seam": waist,
            "gore_waist": waist / count,
            "gore_hip": hip / count,
            "gore_hem": others,
            "front_gore_hem": in_front,
            "hip_depth": deep,
            "hem_round": round_hem,
            "zip_opening": opening,
        },
        notes=tuple(_notes(pieces, round_hem, hip, style)),
        finished=(
            Finished("waist", waist, measured_or_usual(body, "waist")),
            Finished("hip", hip, body.hip),
            Finished("length along the seams", style.length),
            Finished("hem round", round_hem),
        ),
    )


def seams_round(style: GoredSkirtStyle) -> list[float]:
    """Where the seams lie, as shares of the way round from the centre front; all alike, they are turned for the zip."""
    count = int(style.gores)
    has_front_gore = count % 2 == 1 or style.front_gore == "narrow" or (count == 6 and style.zip == "side")
    return [(number + (0.5 if has_front_gore else 0.0)) / count for number in range(count)]


def zip_seam(style: GoredSkirtStyle) -> float:
    """The seam nearest to where the zip is wanted, as a share of the way round from the centre front."""
    wanted = 0.5 if style.zip == "back" else 0.75
    return min(seams_round(style), key=lambda at: abs(at - wanted))


def _places(waist: float, style: GoredSkirtStyle) -> list[tuple[str, float]]:
    """What the waistband meets on its way round from the zip: each seam, and the middle of a front gore."""
    start, named = zip_seam(style), {0.0: "centre front", 0.25: "side", 0.5: "centre back", 0.75: "side"}
    found = [(named.get(at, "seam"), (at - start) % 1.0) for at in seams_round(style) if at != start]
    if style.front_gore == "narrow":
        found.append(("centre front", -start % 1.0))
    return [(name, share * waist) for name, share in sorted(found, key=lambda one: one[1])]


def _whole(drawn: Gore, style: GoredSkirtStyle, cut: int, deep: float, opening: float) -> Piece:
    """A gore, its grain along its middle."""
    line, raw = turned_up(drawn.side, drawn.hem, style.hem)
    other, side = np.ascontiguousarray(line[::-1]), np.ascontiguousarray(line * (1, -1))
    edges = (
        Edge("side", side, style.seam),
        Edge("hem", np.vstack([mirrored(raw), raw[1:]]), 0.0, turned=style.hem),
        Edge("other side", other, style.seam),
        Edge("waist", np.vstack([drawn.waist[::-1], mirrored(drawn.waist)[-2::-1]]), style.seam),
    )
    notches = tuple(
        notch
        for down in (side, line)
        for notch in (Notch(HIP, point_along(down, deep)), *zip_along(down, opening), *fold_of(down, style.hem))
    )
    fold = np.vstack([mirrored(drawn.hem), drawn.hem[1:]])
    return Piece("gore", edges, cut=cut, grain=_grain(style), notches=notches, inner=fold_line(fold, style.hem))


def _front(drawn: Gore, style: GoredSkirtStyle, deep: float, opening: float) -> Piece:
    """A front gore of its own, half of it on the fold."""
    side, raw = turned_up(drawn.side, drawn.hem, style.hem)
    edges = (
        Edge("centre front", Line((0.0, 0.0), (float(raw[0, 0]), 0.0)).flatten(), 0.0, "fold"),
        Edge("hem", raw, 0.0, turned=style.hem),
        Edge("side", np.ascontiguousarray(side[::-1]), style.seam),
        Edge("waist", np.ascontiguousarray(drawn.waist[::-1]), style.seam),
    )
    notches = (
        Notch("centre front", (0.0, 0.0)),
        Notch(HIP, point_along(drawn.side, deep)),
        *zip_along(side, opening),
        *fold_of(side, style.hem),
    )
    return Piece(
        "front gore",
        edges,
        grain=_grain(style),
        notches=notches,
        label="centre front on fold",
        inner=fold_line(drawn.hem, style.hem),
    )


def _grain(style: GoredSkirtStyle) -> tuple[tuple[float, float], tuple[float, float]]:
    return (0.25 * style.length, 0.0), (0.85 * style.length, 0.0)


def _notes(gores: list[Piece], round_hem: float, hip: float, style: GoredSkirtStyle) -> Iterator[str]:
    raw = sum(gore.cut * (2 if gore.on_fold else 1) * gore.edge("hem").length for gore in gores)
    at, wanted = zip_seam(style), 0.5 if style.zip == "back" else 0.75
    if at != wanted:
        where = "centre back" if style.zip == "back" else "left side"
        yield f"zip: no seam lies at the {where} with these gores; it is in the nearest seam"
    if round_hem > hip and raw > round_hem + 1.0:
        yield f"hem: its raw edge is {format_both(raw - round_hem)} longer than its fold: ease it in, or turn up less"
    if round_hem < hip:
        yield (
            f"hem_round: {format_both(round_hem)}, {format_both(hip - round_hem)} less than the hip, little to walk in:"
            f" give {format_both(hip)} or more, or make the skirt shorter"
        )


GORED_SKIRT = Garment(
    "gored-skirt",
    "gored skirt",
    ("waist", "hip"),
    GoredSkirtStyle,
    draft,
    skirt_trims,
    skirt_steps,
    "M36 14H64V20H36ZM36 20C31 32 28 44 26 52L12 108C36 116 64 116 88 108L74 52C72 44 69 32 64 20"
    "M44 20C41 34 40 44 39 54L34 113M56 20C59 34 60 44 61 54L66 113",
)
