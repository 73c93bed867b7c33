"""A straight waistband with an underlap for a hook, folded double or of two layers. Common practice, no source."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from pieces.piece.curve import Line, Point
from pieces.piece.outline import Edge
from pieces.piece.piece import InnerLine, Notch, Piece
from pieces.units import INCH

if TYPE_CHECKING:
    from collections.abc import Iterable

BandMake = Literal["folded", "two-layer"]
"""How a waistband is made of its layers."""

UNDERLAP = 1.25 * INCH
"""How far it goes on under its other end."""

UNDERLAP_NOTCH = "underlap"
"""Where a waistband goes on beyond the skirt."""


def waistband(
    waist: float, depth: float, seam: float, make: BandMake, places: Iterable[tuple[str, float]], *, underlap: float
) -> Piece:
    """A waistband, its length along the grain or across.

    Parameters
    ----------
    waist, depth, seam
        What it is sewn to, its finished depth and its allowance, mm.
    places
        What it meets when it is sewn on, from the end without the underlap: a name, and how far on, mm.
    underlap
        How far it goes on beyond what it is sewn to, mm; 0 where it is closed to a ring.
    """
    long, deep = waist + underlap, depth * (2 if make == "folded" else 1)
    corners: list[Point] = [(0.0, 0.0), (waist, 0.0), (long, 0.0), (long, deep), (0.0, deep)]
    names = ["waist", "underlap", "end", "inside" if make == "folded" else "upper edge", "other end"]
    if underlap == 0:
        del corners[1], names[1]
    edges = tuple(
        Edge(name, Line(corners[i], corners[(i + 1) % len(corners)]).flatten(), seam) for i, name in enumerate(names)
    )
    notches = [Notch(name, (at, 0.0)) for name, at in places]
    if underlap > 0:
        notches.append(Notch(UNDERLAP_NOTCH, (waist, 0.0)))
    fold = (InnerLine("line", ((0.0, depth), (long, depth))),) * (make == "folded")
    return Piece(
        "waistband",
        edges,
        cut=1 if make == "folded" else 2,
        lies="cross",
        grain=((0.3 * long, deep / 2), (0.7 * long, deep / 2)),
        notches=tuple(notches),
        label="folded along its middle" if make == "folded" else "",
        inner=fold,
    )
