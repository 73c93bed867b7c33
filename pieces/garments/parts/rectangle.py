"""Rectangles: straps, belts, bands, sleeves and whole bags are cut as such."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from pieces.piece.curve import Line, Point
from pieces.piece.outline import Edge
from pieces.piece.piece import Piece

if TYPE_CHECKING:
    from collections.abc import Sequence

EdgeFrom = tuple[str, Point, float]
"""An edge by its name, where it starts, and its allowance; one that is called ``fold`` is a fold."""


def straight_edges(sides: Sequence[EdgeFrom]) -> tuple[Edge, ...]:
    """Straight edges, each from its own start to that of the next; those without length are left out."""
    found = []
    for (name, start, allowance), (_, end, _) in zip(sides, [*sides[1:], sides[0]], strict=True):
        if start != end:
            is_fold = name.endswith("fold")
            found.append(Edge(name, Line(start, end).flatten(), allowance, "fold" if is_fold else "seam"))
    return tuple(found)


def rectangle(
    name: str,
    long: float,
    wide: float,
    names: tuple[str, str, str, str],
    allowances: tuple[float, float, float, float],
    **more: Any,
) -> Piece:
    """A rectangle with its grainline along the middle.

    Parameters
    ----------
    long, wide
        Sewn size along and across the grain, mm.
    names, allowances
        Of its edges: down the near side, across the foot, up the far side, and back across the top.
    more
        All else as of `Piece`.
    """
    corners: tuple[Point, ...] = ((0.0, 0.0), (long, 0.0), (long, wide), (0.0, wide))
    middle = 0.0 if names[0].endswith("fold") else wide / 2
    edges = straight_edges(list(zip(names, corners, allowances, strict=True)))
    return Piece(name, edges, grain=((0.2 * long, middle), (0.8 * long, middle)), **more)
