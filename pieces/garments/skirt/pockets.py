"""Pockets in the side seams of a skirt. Their places are common practice, no source."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Literal, Protocol

from pieces.errors import DraftError
from pieces.garments.parts.pocket import mouth_ends, side_pocket
from pieces.piece.curve import point_along
from pieces.piece.piece import Notch
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pieces.body.body import Body
    from pieces.piece.piece import Piece

BELOW_WAIST, ABOVE_HEM = 1.5 * INCH, INCH
"""How far a bag keeps from waist and hem."""

MOUTH = 1 / 6.5
"""A mouth as a share of the hip: 6 in at 39."""


class PocketStyle(Protocol):
    """What a style says of pockets in its side seams, lengths in mm."""

    @property
    def length(self) -> float: ...  # noqa: D102 - said where it is an option
    @property
    def seam(self) -> float: ...  # noqa: D102
    @property
    def pockets(self) -> Literal["none", "side-seam"]: ...  # noqa: D102
    @property
    def pocket_mouth(self) -> float | None: ...  # noqa: D102
    @property
    def pocket_cloth(self) -> Literal["lining", "shell"]: ...  # noqa: D102


def side_pockets(
    shell: Sequence[Piece], body: Body, style: PocketStyle, edges: Sequence[str] = ("side",)
) -> tuple[list[Piece], list[Piece]]:
    """Pieces with the ends of a pocket on those edges, and the bags; DraftError if there is no room for them."""
    if style.pockets == "none":
        return list(shell), []
    mouth = MOUTH * body.hip if style.pocket_mouth is None else style.pocket_mouth
    bags = side_pocket(mouth, style.seam, style.seam, style.pocket_cloth)
    hangs = max(float(bag.sew_line[:, 0].max()) for bag in bags)
    if BELOW_WAIST + hangs > style.length - ABOVE_HEM:
        raise DraftError(
            f"pockets with a mouth of {format_both(mouth)} hang {format_both(BELOW_WAIST + hangs)} below the waist, and"
            f" the skirt is {format_both(style.length)} long: make it longer, or leave pockets out",
            about="pocket_mouth" if style.pocket_mouth is not None else "pockets",
        )
    ends = zip(("pocket top", "pocket end"), mouth_ends(mouth + INCH), strict=True)
    places = [(name, BELOW_WAIST + at) for name, at in ends]
    return [_marked(piece, places, edges) for piece in shell], bags


def _marked(piece: Piece, places: Sequence[tuple[str, float]], edges: Sequence[str]) -> Piece:
    """A piece with those notches on its side edges, so far below the waist, mm."""
    found = []
    for edge in piece.edges:
        if edge.name in edges:
            down = edge.points if edge.points[0, 0] < edge.points[-1, 0] else edge.points[::-1]
            found += [Notch(name, point_along(down, at)) for name, at in places]
    return replace(piece, notches=(*piece.notches, *found))
