"""A circle skirt, or three quarters, half or a quarter of a circle, in one piece or in panels.

The waist is an arc of radius waist / (2 pi fullness), and the hem one of that radius and the length: arithmetic.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Literal

import numpy as np

from pieces.body.rules import measured_or_usual
from pieces.dimensioned import Mm
from pieces.garments.garment import Garment, option
from pieces.garments.parts.waistband import BandMake
from pieces.garments.skirt.arc import arc
from pieces.garments.skirt.checked import checked
from pieces.garments.skirt.sewing import skirt_steps
from pieces.garments.skirt.style import (
    ZipAt,
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
from pieces.garments.skirt.waist import banded, zip_along, zip_opening
from pieces.garments.style import GarmentStyle
from pieces.piece.curve import Line, Point, point_along
from pieces.piece.finished import Finished
from pieces.piece.outline import Edge
from pieces.piece.piece import Notch, Piece
from pieces.piece.pieces import PieceSet, Seam
from pieces.piece.root import root
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from pieces.body.body import Body

    Floats = NDArray[np.float64]

CircleShare = Literal["full", "three-quarter", "half", "quarter"]

SHARES: dict[CircleShare, float] = {"full": 1.0, "three-quarter": 0.75, "half": 0.5, "quarter": 0.25}
"""Of a circle, all round."""

PANELS = ("1", "2", "4", "6", "8")

HALVED_BY_SEAMS = (4, 8)
"""With so many panels each quarter of the waist is at a seam; with others some are at the middle of a panel."""

CUT_OPEN = 1.0
"""A full circle in one piece is cut open behind; so far apart its edges lie as drawn, mm."""

NARROW_HEM = 0.75 * INCH
"""A deeper hem of a curve is noted, since it has to be eased in."""

USUAL_CLOTH = (45 * INCH, 60 * INCH)
"""Widths of cloth in most shops: common practice, no source."""

TOLERANCE = 1e-6


class CircleSkirtStyle(GarmentStyle):
    """How a circle skirt is to be made; lengths are given with their units."""

    length: Mm = length_option()
    fullness: CircleShare = option("half", "how much of a circle it is all round", "choice")
    panels: Literal["1", "2", "4", "6", "8"] = option("2", "in how many pieces it is cut, all alike", "choice")
    ease: Mm = ease_option()
    seam: Mm = seam_option()
    hem: Mm = option(INCH / 2, "turned up at the hem: little, as the hem is curved", example="1/2 in", least=0)
    zip: ZipAt = zip_option("side")
    waistband: BandMake = option("folded", "one piece folded double, or two layers", "choice")
    waistband_depth: Mm = waistband_depth_option()
    interfacing: Literal["none", "cut"] = interfacing_option()


def draft(body: Body, style: CircleSkirtStyle) -> PieceSet:
    """Draft the skirt.

    Returns
    -------
    PieceSet
        The panel, or half of it on a fold where there is one, and the waistband, checked.

    Raises
    ------
    DraftError
        If the zip does not fit into the length, or the waist leaves no room for a seam allowance.
    """
    worn = replace(style, length=usual_length(body, style.length))
    return checked("circle-skirt", _draft, body, worn, more="fullness")


def _draft(body: Body, style: CircleSkirtStyle) -> PieceSet:
    waist, share, count = finished_waist(body, style), SHARES[style.fullness], int(style.panels)
    opening, on_fold = zip_opening(body, style), count == 1 and share > 0.5
    radius = waist_radius(waist, share, count, style.seam)
    skirt = _half(radius, share, style, opening) if on_fold else _panel(radius, share, style, opening)
    times = 2 if on_fold else count
    band = banded(style, waist, style.waistband, ((skirt.name, "waist"),) * times, _places(waist, count, style))
    ends = [edge.name for edge in skirt.edges if edge.name.endswith(("side", "centre back"))]
    hip, round_hem = measured_or_usual(body, "hip_depth"), times * skirt.edge("hem").length
    name = "centre back" if count == 1 else "panels"
    return PieceSet(
        "circle-skirt",
        (skirt, *band.pieces),
        (Seam(name, ((skirt.name, ends[0]),), ((skirt.name, ends[-1]),)), *band.seams),
        measures={
            "waist_radius": radius,
            "hem_radius": radius + style.length,
            "waist_seam": waist,
            "hem_round": round_hem,
            "zip_opening": opening,
            **({"cut_open": CUT_OPEN} if _is_cut_open(share, count) else {}),
        },
        notes=tuple(_notes(skirt, waist, share, style)),
        finished=(
            Finished("waist", waist, measured_or_usual(body, "waist")),
            Finished("hip", waist + 2 * math.pi * share * hip, body.hip),
            Finished("length from the waist seam", style.length),
            Finished("hem round", round_hem),
        ),
    )


def _places(waist: float, count: int, style: CircleSkirtStyle) -> list[tuple[str, float]]:
    """What the waistband meets: the quarters of the body, and the seams between them."""
    is_behind = style.zip == "back" or count == 1  # one piece has no other seam
    quarters = ("side", "centre front", "side") if is_behind else ("centre front", "side", "centre back")
    places = {number / 4: name for number, name in enumerate(quarters, 1)}
    places |= {number / count: places.get(number / count, "seam") for number in range(1, count)}
    if count not in HALVED_BY_SEAMS:
        places |= {at: places.get(at, "middle") for at in ((number + 0.5) / count for number in range(count))}
    return [(name, at * waist) for at, name in sorted(places.items())]


def waist_radius(waist: float, share: float, panels: int, seam: float) -> float:
    """The radius of the waist seam, mm: waist / (2 pi share).

    A full circle in one piece is a little larger, as it is cut open and loses two seam allowances there.
    """
    radius = waist / (2 * math.pi * share)
    if not _is_cut_open(share, panels):
        return radius
    gap = _half_gap(seam)
    return root(lambda r: 2 * r * (math.pi - math.asin(min(1.0, gap / r))) - waist, max(radius, gap), 2 * radius + gap)


def _is_cut_open(share: float, panels: int) -> bool:
    return share == 1.0 and panels == 1


def _half_gap(seam: float) -> float:
    """How far the sewn edge lies from the line at which a ring is cut open, mm."""
    return seam + CUT_OPEN / 2


def _half(radius: float, share: float, style: CircleSkirtStyle, opening: float) -> Piece:
    """Half the skirt, its centre front on the fold, its centre back a seam."""
    hem = radius + style.length
    if _is_cut_open(share, 1):
        gap = _half_gap(style.seam)
        ends = [math.pi - math.asin(gap / r) for r in (radius, hem)]
    else:
        ends = [math.pi * share] * 2
    low, high = arc(hem, 0.0, ends[1]), arc(radius, ends[0], 0.0)
    behind = Line(_point(low[-1]), _point(high[0])).flatten()
    edges = (
        Edge("centre front", Line((radius, 0.0), (hem, 0.0)).flatten(), 0.0, "fold"),
        Edge("hem", low, style.hem),
        Edge("centre back", behind, style.seam),
        Edge("waist", high, style.seam),
    )
    quarter = Notch("side", point_along(high, edges[3].length / 2))
    notches = (Notch("centre front", (radius, 0.0)), quarter, *zip_along(behind[::-1], opening))
    grain = _grain(radius, hem)
    return Piece("skirt", edges, grain=grain, notches=notches, label="centre front on fold")


def _panel(radius: float, share: float, style: CircleSkirtStyle, opening: float, panels: int | None = None) -> Piece:
    """One of several panels, or all in one, its grain along its middle."""
    count = panels or int(style.panels)
    hem, half = radius + style.length, math.pi * share / count
    low, high = arc(hem, -half, half), arc(radius, half, -half)
    side, other = Line(_point(high[-1]), _point(low[0])).flatten(), Line(_point(low[-1]), _point(high[0])).flatten()
    name = "centre back" if count == 1 else "side"
    edges = (
        Edge(name, side, style.seam),
        Edge("hem", low, style.hem),
        Edge(f"other {name}", other, style.seam),
        Edge("waist", high, style.seam),
    )
    return Piece(
        "skirt" if count == 1 else "panel",
        edges,
        cut=count,
        lies="free" if count == 1 else "cross",
        grain=_grain(radius, hem),
        notches=(*_of_quarters(edges[3], count), *zip_along(side, opening), *zip_along(other[::-1], opening)),
    )


def _of_quarters(waist: Edge, count: int) -> Iterator[Notch]:
    """Notches at the quarters of the body's waist, where they fall on no seam."""
    if count not in HALVED_BY_SEAMS:
        yield Notch("centre front" if count == 1 else "middle", point_along(waist.points, waist.length / 2))
    if count == 1:
        for share in (1 / 4, 3 / 4):
            yield Notch("side", point_along(waist.points, share * waist.length))


def _grain(waist: float, hem: float) -> tuple[Point, Point]:
    return (waist + 0.2 * (hem - waist), 0.0), (waist + 0.8 * (hem - waist), 0.0)


def _point(row: Floats) -> Point:
    return float(row[0]), float(row[1])


def _notes(skirt: Piece, waist: float, share: float, style: CircleSkirtStyle) -> Iterator[str]:
    yield "hem: cloth on the bias drops; hang the skirt for a day, level it, then hem it (common practice, no source)"
    yield from _width_notes(skirt, waist, share, style)
    if style.panels == "1":
        yield "zip: in the only seam, centre back"
    if _is_cut_open(share, int(style.panels)):
        yield "panels: cut as a ring, then cut open behind; its waist is a little larger, for both allowances there"
    if style.hem > NARROW_HEM:
        more = 2 * math.pi * share * style.hem
        yield f"hem: its cut edge is {format_both(more)} longer than where it is sewn: ease it in, or turn up less"


def _width_notes(skirt: Piece, waist: float, share: float, style: CircleSkirtStyle) -> Iterator[str]:
    """On which usual cloth the panels cannot lie, and in how many they can."""
    needs = across(skirt)
    narrow = [cloth for cloth in USUAL_CLOTH if needs > cloth + TOLERANCE]
    if narrow:
        fewest = next((n for n in PANELS if _across_in(n, waist, share, style) <= narrow[0] + TOLERANCE), None)
        turn = f"cut it in {fewest} panels" if fewest else "make it shorter or less full"
        widths = " or ".join(format_both(cloth) for cloth in narrow)
        yield (
            f"panels: the {skirt.name} is {format_both(needs)} across, too much for cloth {widths} wide:"
            f" {turn}, or use wider cloth"
        )


def _across_in(panels: str, waist: float, share: float, style: CircleSkirtStyle) -> float:
    """The least width of cloth, mm, for so many panels."""
    count = int(panels)
    if count == 1 and share > 0.5:
        return math.inf  # drawn on a fold, it is as wide as it was found to be
    return across(_panel(waist_radius(waist, share, count, style.seam), share, style, 0.0, count))


def across(skirt: Piece) -> float:
    """The least width of cloth that a panel can lie on, mm, in each of the ways that its grain may run."""
    turns = {"straight": (90,), "cross": (0, 90), "free": (0, 45, 90, 135)}[skirt.lies]
    outline = skirt.unfolded
    return min(float(np.ptp(outline @ (math.cos(at), math.sin(at)))) for at in map(math.radians, turns))


CIRCLE_SKIRT = Garment(
    "circle-skirt",
    "circle skirt",
    ("waist", "hip"),
    CircleSkirtStyle,
    draft,
    skirt_trims,
    skirt_steps,
    "M38 16H62V22H38ZM38 22C34 50 22 84 10 104C36 115 64 115 90 104C78 84 66 50 62 22M40 22C38 54 33 84 29 110"
    "M50 22V112M60 22C62 54 67 84 71 110",
)
