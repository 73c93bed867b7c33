"""Pockets: patches, bags in a side seam, and bags behind a welt.

Every size is common practice, no source, but for the mouth.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.garments.parts.rectangle import rectangle
from pieces.piece.curve import Cubic, Line, Point, flatten
from pieces.piece.outline import Edge
from pieces.piece.piece import Notch, Piece
from pieces.units import INCH

if TYPE_CHECKING:
    from pieces.piece.piece import Material

MOUTH_SHARE = 1 / 6
"""Of the chest, of a lower pocket: 6 in for size 36 (Rosenfeld, The Practical Designer, 1911, lesson 27)."""

PATCH_DEPTH = 1.1
"""Depth of a patch, as a share of its mouth."""

PATCH_HEM = INCH
"""Turned in at the mouth of a patch."""

WELT = INCH
"""Finished width of a welt."""

BAG_ABOVE, BAG_BELOW, BAG_ACROSS = 0.5 * INCH, 0.75 * INCH, 5 * INCH
"""How far a bag behind a welt reaches beyond its mouth, and how deep it is where there is room."""

FACED = 2 * INCH
"""Finished width of the strip of shell that is seen through an open mouth."""

BAG_LOWER = 10.0
"""How far a bag in a side seam hangs below its side, mm: not into the hem."""

BAG_MORE = INCH
"""How much longer the side of a bag in a side seam is than its mouth, half of it at each end."""


def patch_pocket(mouth: float, seam: float) -> list[Piece]:
    """Two patches, to be turned in on three sides; the mouth is hemmed.

    Parameters
    ----------
    mouth, seam
        Finished width, and the allowance of the other sides, mm.
    """
    depth = PATCH_DEPTH * mouth
    edges = _rectangle(depth, mouth, ("pocket side", "bottom", "other pocket side", "mouth"), seam)
    hemmed = Edge("mouth", edges[3].points.copy(), PATCH_HEM)
    return [Piece("patch pocket", (*edges[:3], hemmed), cut=2, grain=_grain(depth, mouth))]


def middle_pocket(mouth: float, depth: float, seam: float, cloth: Material = "shell") -> Piece:
    """One patch in the middle of a piece, cut on a fold; else as `patch_pocket`."""
    names = ("middle fold", "bottom", "pocket side", "mouth")
    allowances = (0.0, seam, seam, PATCH_HEM)
    return rectangle("patch pocket", depth, mouth / 2, names, allowances, material=cloth, label="on fold")


def side_pocket(mouth: float, seam: float, side_seam: float, cloth: Material) -> list[Piece]:
    """Two bags that hang from the side seams, each of two layers.

    Parameters
    ----------
    side_seam
        The allowance of the seam that they are sewn into, mm.
    """
    side, deep = mouth + BAG_MORE, 0.95 * mouth
    low = side + BAG_LOWER
    outer = flatten(
        [
            Cubic((side, 0.0), (side + 0.2 * mouth, 0.25 * deep), (low, 0.4 * deep), (low, 0.6 * deep)),
            Cubic((low, 0.6 * deep), (low, 0.9 * deep), (low - 0.2 * mouth, deep), (0.6 * side, deep)),
            Cubic((0.6 * side, deep), (0.25 * side, deep), (0.0, 0.5 * deep), (0.0, 0.0)),
        ]
    )
    edges = (Edge("mouth", Line((0.0, 0.0), (side, 0.0)).flatten(), side_seam), Edge("bag", outer, seam))
    notches = [Notch(f"pocket {where}", (at, 0.0)) for where, at in zip(("top", "end"), mouth_ends(side), strict=True)]
    grain = ((0.3 * side, 0.4 * deep), (0.8 * side, 0.4 * deep))
    return [
        Piece("pocket bag", edges, cut=4, mirrored_pair=True, material=cloth, grain=grain, notches=tuple(notches)),
    ]


def mouth_ends(side: float) -> tuple[float, float]:
    """Where a mouth begins and ends on the side of a bag, mm from its top."""
    return BAG_MORE / 2, side - BAG_MORE / 2


def welt_pocket(mouth: float, seam: float, cloth: Material, room: float = BAG_ACROSS) -> list[Piece]:
    """Two welts, folded lengthwise; the strips of shell seen behind them; two bags of two layers each.

    Parameters
    ----------
    room
        From the mouth to the front edge, mm.
    """
    long, deep = mouth + BAG_ABOVE + BAG_BELOW, min(BAG_ACROSS, room)
    welt = _rectangle(mouth, 2 * WELT, ("mouth", "welt end", "other mouth", "other welt end"), seam)
    strip = _rectangle(mouth, FACED, ("mouth", "strip end", "inside", "other strip end"), seam)
    corner = 0.35 * deep
    outer = flatten(
        [
            Line((long, 0.0), (long, deep - corner)),
            Cubic((long, deep - corner), (long, deep - corner / 2), (long - corner / 2, deep), (long - corner, deep)),
            Line((long - corner, deep), (0.0, deep)),
            Line((0.0, deep), (0.0, 0.0)),
        ]
    )
    bag = (Edge("mouth", Line((0.0, 0.0), (long, 0.0)).flatten(), seam), Edge("bag", outer, seam))
    ends = tuple(Notch(f"pocket {at}", (x, 0.0)) for at, x in (("top", BAG_ABOVE), ("end", BAG_ABOVE + mouth)))
    return [
        Piece("welt", welt, cut=2, grain=_grain(mouth, 2 * WELT)),
        Piece("pocket strip", strip, cut=2, grain=_grain(mouth, FACED)),
        Piece("pocket bag", bag, cut=4, mirrored_pair=True, material=cloth, grain=_grain(long, deep), notches=ends),
    ]


def _rectangle(long: float, wide: float, names: tuple[str, str, str, str], seam: float) -> tuple[Edge, ...]:
    """Sides of a rectangle from its corner at 0, 0: down, across the foot, up, and back across the top."""
    corners: list[Point] = [(0.0, 0.0), (long, 0.0), (long, wide), (0.0, wide)]
    return tuple(Edge(name, Line(corners[i], corners[(i + 1) % 4]).flatten(), seam) for i, name in enumerate(names))


def _grain(long: float, wide: float) -> tuple[Point, Point]:
    return (0.2 * long, wide / 2), (0.8 * long, wide / 2)
