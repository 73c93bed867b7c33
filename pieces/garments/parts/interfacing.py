"""Interfacing cut for a piece: its sewn shape, and a little more, so that the seam holds it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from pieces.piece.curve import Line
from pieces.piece.outline import Edge
from pieces.piece.piece import Piece
from pieces.units import INCH

if TYPE_CHECKING:
    from pieces.piece.curve import Point

CAUGHT = INCH / 8
"""How far it reaches into each seam: common practice, no source."""


def interfacing_of(piece: Piece, cut: int | None = None) -> Piece:
    """The interfacing of a piece.

    Parameters
    ----------
    cut
        How many; by default as many as of the piece. A collar has two layers, and one is interfaced.
    """
    edges = tuple(
        replace(edge, points=edge.points.copy(), allowance=min(CAUGHT, edge.allowance)) for edge in piece.edges
    )
    count = piece.cut if cut is None else cut
    return replace(
        piece,
        name=f"{piece.name} interfacing",
        edges=edges,
        material="interfacing",
        cut=count,
        mirrored_pair=piece.mirrored_pair and count % 2 == 0,
        match=None,
        inner=(),
    )


def strip(name: str, long: float, wide: float) -> Piece:
    """Two strips of interfacing along a front, without allowances, mm."""
    corners: list[Point] = [(0.0, 0.0), (long, 0.0), (long, wide), (0.0, wide)]
    names = ("edge", "foot", "other edge", "top")
    edges = tuple(Edge(name, Line(corners[i], corners[(i + 1) % 4]).flatten(), 0.0) for i, name in enumerate(names))
    return Piece(name, edges, cut=2, material="interfacing", grain=((0.2 * long, wide / 2), (0.8 * long, wide / 2)))
