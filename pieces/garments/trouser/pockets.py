"""Pockets of trousers: bags in the side seams, or patches behind. All sizes are common practice, no source."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from pieces.errors import DraftError
from pieces.garments.parts.pocket import BAG_LOWER, BAG_MORE, PATCH_DEPTH, mouth_ends, patch_pocket, side_pocket
from pieces.piece.curve import Point, point_along, polyline_length
from pieces.piece.piece import InnerLine, Notch
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from pieces.body.body import Body
    from pieces.garments.trouser.block import TrouserBlock
    from pieces.garments.trouser.style import TrouserStyle
    from pieces.piece.piece import Piece

MOUTH_OF_HIP, LEAST_MOUTH = 0.15, 4 * INCH
"""The mouth of a pocket as a share of the hip, and the least where there is room."""

BELOW_CASING, ABOVE_HEM = INCH, 0.5 * INCH
"""How far a pocket keeps from the casing, and a bag from the hem."""

ACROSS = 0.7
"""A pocket takes no more of the width of its panel than this share."""


def add_pockets(
    front: Piece, back: Piece, block: TrouserBlock, body: Body, style: TrouserStyle
) -> tuple[Piece, Piece, list[Piece]]:
    """Front and back with the places of their pockets, and what these are made of.

    Raises
    ------
    DraftError
        If there is no room for a pocket.
    """
    if style.pockets == "none":
        return front, back, []
    begin = (style.casing_deep if style.casing == "grown-on" else 0.0) + BELOW_CASING
    mouth = _mouth(block, body, style, begin)
    if style.pockets == "patch":
        return front, replace(back, inner=(_place(block, mouth, begin),)), patch_pocket(mouth, style.seam)
    marked = (_with_notches(piece, begin, mouth) for piece in (front, back))
    return (*marked, side_pocket(mouth, style.seam, style.seam, style.pocket_cloth))  # type: ignore[return-value]


def _mouth(block: TrouserBlock, body: Body, style: TrouserStyle, begin: float) -> float:
    """How wide a mouth is, mm: as asked, or by the hip, or what there is room for."""
    levels = block.front.levels
    if style.pockets == "patch":
        room = min(ACROSS * block.back.hip, (levels.crotch - levels.top - begin) / PATCH_DEPTH)
    else:
        down = polyline_length(block.front.side_seam()) - begin - ABOVE_HEM
        room = min(ACROSS * block.front.hip, down - BAG_MORE - BAG_LOWER)
    usual = min(max(MOUTH_OF_HIP * body.hip, LEAST_MOUTH), room)
    mouth = usual if style.pocket_mouth is None else style.pocket_mouth
    if not 0 < mouth <= room + 1e-6:
        raise DraftError(
            f"a {style.pockets} pocket with a mouth of {format_both(mouth)} finds no room: there are"
            f" {format_both(max(room, 0.0))}: choose a smaller pocket_mouth, a longer leg, or no pockets",
            about="pocket_mouth" if style.pocket_mouth is not None else "pockets",
        )
    return mouth


def _with_notches(piece: Piece, begin: float, mouth: float) -> Piece:
    """A panel with the ends of a pocket on its side seam."""
    side = piece.edge("side").points[::-1]  # from the waist down
    ends = mouth_ends(mouth + BAG_MORE)
    places = zip(("pocket top", "pocket end"), ends, strict=True)
    return replace(
        piece, notches=(*piece.notches, *(Notch(name, point_along(side, begin + at)) for name, at in places))
    )


def _place(block: TrouserBlock, mouth: float, begin: float) -> InnerLine:
    """Where a patch lies on the back: in the middle, a third of its room below the waist."""
    levels, middle, deep = block.back.levels, 0.52 * block.back.hip, PATCH_DEPTH * mouth
    top = levels.top + begin + (levels.crotch - levels.top - begin - deep) / 3
    left, right, low = middle - mouth / 2, middle + mouth / 2, top + deep
    corners: tuple[Point, ...] = ((top, left), (low, left), (low, right), (top, right), (top, left))
    return InnerLine("line", corners)
