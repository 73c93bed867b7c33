"""A rectangular panel of a skirt, from its upper edge down, its grain along its middle."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.piece.curve import Line, Point
from pieces.piece.outline import Edge
from pieces.piece.piece import Piece

if TYPE_CHECKING:
    from collections.abc import Iterable

    from pieces.piece.piece import Notch


def rectangle(
    name: str,
    size: tuple[float, float],
    seam: float,
    top: tuple[str, float],
    foot: tuple[str, float],
    *,
    cut: int,
    notches: Iterable[Notch] = (),
) -> Piece:
    """A panel: x down, y from side to other side.

    Parameters
    ----------
    size
        Its length and its width, sewn, mm.
    top, foot
        What its upper and its lower edge are called, and their allowances, mm.
    """
    long, wide = size
    corners: list[Point] = [(0.0, 0.0), (long, 0.0), (long, wide), (0.0, wide)]
    named = (("side", seam), foot, ("other side", seam), top)
    edges = tuple(
        Edge(edge, Line(corners[i], corners[(i + 1) % 4]).flatten(), allowance)
        for i, (edge, allowance) in enumerate(named)
    )
    grain = ((0.25 * long, wide / 2), (0.75 * long, wide / 2))
    return Piece(name, edges, cut=cut, grain=grain, notches=tuple(notches))
