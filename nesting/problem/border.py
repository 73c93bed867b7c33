"""Border prints: a motif along one selvedge, on which pieces lie with an edge of theirs, such as a hem.

The edge as finished reaches as far towards the selvedge as the border says. A piece is turned by whole quarters of its
grain: an edge across the grain brings it across the cloth, one along it along. An edge that is curved touches the
border where it reaches farthest.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from nesting.errors import SpreadError
from nesting.problem.item import Variant
from nesting.problem.transform import Transform
from nesting.tolerance import TOLERANCE
from pieces.units import bound_both, need_both

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    from nesting.cloth.band import Band
    from nesting.cloth.fabric import Fabric
    from pieces import Piece

    Floats = NDArray[np.float64]

LAID = ("open", "face-up")
"""Spreads in which a border lies along one edge of every layer, right side up."""


def require_border(pieces: Iterable[Piece], fabric: Fabric, spread: str) -> None:
    """Make sure that a border can be minded, where there is one and pieces are to lie on it.

    Raises
    ------
    SpreadError
        If the cloth has a nap too, or a pattern across, or lies in layers that have the border along other edges.
    """
    pinned = [piece for piece in pieces if piece.border]
    if not (fabric.border and pinned):
        return
    if fabric.nap:
        raise SpreadError(
            f"'{fabric.name}' has a border, on which pieces lie across the cloth, so that no nap can be kept: leave"
            " nap or border out"
        )
    if fabric.repeat_across and any(piece.match for piece in pinned):
        raise SpreadError(
            f"'{fabric.name}' has a border and a pattern across: both settle where pieces lie across it, so leave"
            " repeat_across or border out"
        )
    if spread not in LAID:
        raise SpreadError(
            f"'{fabric.name}' has a border along one selvedge: lay it open, so that all pieces reach it (spread 'open')"
        )


def border_ways(
    piece: Piece, bands: Sequence[tuple[int, Band]], fabric: Fabric, hands: Iterable[bool]
) -> tuple[Variant, ...]:
    """All ways in which a piece may lie with its edge on the border.

    Raises
    ------
    SpreadError
        If there is no room below the border for what is cut beyond the edge, or above it for the piece.
    """
    variants = []
    for mirrored in hands:
        turn = _turn(piece, mirrored=mirrored)
        transform = Transform.to_corner(piece.unfolded, turn, mirrored, fabric.growth)
        outline = transform.outline(piece.unfolded)
        at = fabric.border - float(transform(_edge(piece))[:, 1].min()) - _turned(piece) * fabric.growth[1]
        for index, band in bands:
            _require_room(piece, band, fabric, at, float(outline[:, 1].max()))
            match = transform([piece.match])[0].tolist() if piece.match is not None else None
            way = Variant(outline, turn, mirrored, index, at, at, transform=transform)
            on_pattern = bool(fabric.repeat_along or fabric.repeat_across)
            variants.append(replace(way, match=(match[0], match[1])) if on_pattern and match else way)
    return tuple(variants)


def off_border(piece: Piece) -> float:
    """How far a piece's edge leaves the border on which it lies, mm: 0 of one that is straight and across its grain."""
    turned = Transform(_turn(piece, mirrored=False))(_edge(piece))
    return float(np.ptp(turned[:, 1]))


def along_border(piece: Piece) -> float:
    """How far a piece's edge runs along the border, mm."""
    turned = Transform(_turn(piece, mirrored=False))(_edge(piece))
    return float(np.ptp(turned[:, 0]))


def _require_room(piece: Piece, band: Band, fabric: Fabric, at: float, height: float) -> None:
    """Make sure that a piece lies on usable cloth at a place across it, mm."""
    edge = f"'{piece.name}' with its edge '{piece.border}' on the border, {need_both(fabric.border)} from the cloth's"
    if at < band.low - TOLERANCE:
        raise SpreadError(
            f"{edge} edge, reaches {need_both(band.low - at)} beyond the usable cloth: take a narrower seam or hem"
            " there, or measure border and selvedge again"
        )
    if at + height > band.high + TOLERANCE:
        raise SpreadError(
            f"{edge} edge, needs {need_both(at + height)} of cloth across, but there are {bound_both(band.high)} up to"
            " the other selvedge: choose a wider fabric, or a shorter piece"
        )


def _edge(piece: Piece) -> Floats:
    """Points of the edge as sewn, shape (n, 2), of a half those of both halves."""
    points = np.vstack([edge.points for edge in piece.edges if edge.name == piece.border])
    if piece.fold_edge is None:
        return points
    fold = float(piece.fold_edge.points[0, 1])
    return np.vstack([points, points * (1, -1) + (0, 2 * fold)])


def _turned(piece: Piece) -> float:
    """How deep the edge is turned up beyond its finished line, mm."""
    return max(edge.turned for edge in piece.edges if edge.name == piece.border)


def _turn(piece: Piece, *, mirrored: bool) -> float:
    """Degrees that bring the grainline along or across the cloth, and the edge to the selvedge below."""
    start, end = np.array(piece.grain)
    grain = float(np.degrees(np.arctan2(*(end - start)[::-1]))) * (-1 if mirrored else 1)
    along = sum(edge.points[-1] - edge.points[0] for edge in piece.edges if edge.name == piece.border)
    outwards = np.array([[along[1], -along[0]]])  # of an outline that runs counter-clockwise, to the right
    turns = [(quarter - grain) % 360.0 for quarter in (0.0, 90.0, 180.0, 270.0)]
    return min(turns, key=lambda turn: float(Transform(turn, mirrored)(outwards)[0, 1]))
