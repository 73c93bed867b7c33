"""A casing: a tunnel at the waist that elastic is drawn through, folded over or sewn on as a strip of its own.

All sizes are common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.piece.curve import Line, Point
from pieces.piece.outline import Edge
from pieces.piece.piece import Notch, Piece
from pieces.trims.stock import elastic_for
from pieces.units import INCH

if TYPE_CHECKING:
    from pieces.body.ranges import Wearer
    from pieces.trims.trim import TrimNeeded

ROOM = INCH / 4
"""How much deeper than its elastic a casing is: half of it to move in, half for the stitching."""

TURNED_UNDER = INCH / 4
"""Turned under at the lower edge of a casing that is folded over."""

SNUG = 0.95
"""How long elastic is as it lies, as a share of the waist it is for."""

FROM_CENTRE = 0.75 * INCH
"""From the centre front to each hole that a cord comes out of."""

MOST_STRETCH = 2.0
"""Elastic is not pulled out further when the garment is put on, in times its own length."""


def casing_depth(elastic_width: float) -> float:
    """Finished depth of the casing for an elastic, mm."""
    return elastic_width + ROOM


def folded_over(elastic_width: float) -> float:
    """What is cut beyond the finished edge for a casing that is folded over, mm."""
    return casing_allowance(casing_depth(elastic_width))


def casing_allowance(depth: float) -> float:
    """What is cut on beyond the upper edge for a casing of a finished depth, mm."""
    return depth + TURNED_UNDER


def waist_elastic(waist: float) -> float:
    """How long the elastic for a body's waist is as it lies, joined, mm."""
    return SNUG * waist


def elastic_for_waist(length: float, depth: float) -> TrimNeeded:
    """The elastic to buy for a length by `waist_elastic`, in a casing of a finished depth, mm."""
    return elastic_for(length, depth, ("waist",))


def casing_strip(half: float, depth: float, seam: float, side: float) -> Piece:
    """A casing of its own, folded lengthwise: two strips that meet at the centre front and the centre back.

    Parameters
    ----------
    half, depth
        Half the opening that it is sewn to, and its finished depth, mm.
    side
        From the centre front to the side seam, mm.
    """
    wide = 2 * depth
    corners: list[Point] = [(0.0, 0.0), (half, 0.0), (half, wide), (0.0, wide)]
    names = ("edge", "back end", "other edge", "front end")
    edges = tuple(Edge(name, Line(corners[i], corners[(i + 1) % 4]).flatten(), seam) for i, name in enumerate(names))
    notches = tuple(Notch("side seam", (side, y)) for y in (0.0, wide))
    grain = ((0.2 * half, depth), (0.8 * half, depth))
    return Piece("waistband", edges, cut=2, mirrored_pair=True, grain=grain, notches=notches, lies="cross")


def cord_caution(wearer: Wearer) -> list[str]:
    """What to mind where a cord is drawn through the waist of a child's garment."""
    if wearer != "children":
        return []
    return [
        "cord: at a child's waist a cord can catch; sew it down at the centre back, keep its ends short, and see local"
        " codes for how long they may be"
    ]
