"""Shapes cut along straight lines: rectangle and triangle; and the circle, which is pieced as they are."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from pieces.piece.outline import Edge
from pieces.shapes.arc import whole_circle
from pieces.shapes.cut import grain_within, panels

if TYPE_CHECKING:
    from pieces.piece.curve import Point
    from pieces.piece.piece import Piece
    from pieces.shapes.shape import PlainShape, ShapeGrain
    from pieces.shapes.shaped import ShapedPiece, WayToPiece


def rectangle(shape: PlainShape, length: float, width: float) -> ShapedPiece:
    """A rectangle: `top` and `bottom` at the ends of its length, a `side` along either edge of it; mm."""
    shape.check_edges(("top", "bottom", "side"))
    along = [(0.0, -width / 2), (length, -width / 2), (length, width / 2), (0.0, width / 2)]
    across = [(-width / 2, -length / 2), (width / 2, -length / 2), (width / 2, length / 2), (-width / 2, length / 2)]
    drawn = {"straight": _sides(shape, along, ("side", "bottom", "side", "top"))}
    drawn["across"] = _sides(shape, across, ("top", "side", "bottom", "side"))
    ways = tuple(drawn) if shape.grain in ("either", "free") else (shape.grain,)
    return _drawn(shape, drawn.get(shape.grain, drawn["straight"]), [drawn[way] for way in ways if way in drawn])


def strip(shape: PlainShape, length: float, width: float) -> ShapedPiece:
    """A strip: `top` and `bottom` along its length, a `side` at either end; mm."""
    turned: dict[ShapeGrain, ShapeGrain] = {"straight": "across", "across": "straight"}
    return rectangle(replace(shape, grain=turned.get(shape.grain, shape.grain)), width, length)


def triangle(shape: PlainShape, length: float, width: float) -> ShapedPiece:
    """A triangle with two like sides: its tip is at the top of its length, its `bottom` so wide; mm."""
    shape.check_edges(("bottom", "side"))
    along = [(0.0, 0.0), (length, -width / 2), (length, width / 2)]
    drawn = _sides(shape, along, ("side", "bottom", "side"))
    if shape.grain == "across":
        return _drawn(shape, _turned(drawn), [_turned(drawn)])
    return _drawn(shape, drawn, [] if shape.grain == "bias" else [drawn])


def circle(shape: PlainShape, diameter: float) -> ShapedPiece:
    """A circle with one edge, `edge`; mm."""
    shape.check_edges(("edge",))
    drawn = (Edge("edge", whole_circle(diameter / 2), shape.allowance("edge")),)
    return _drawn(shape, drawn, [] if shape.grain == "bias" else [drawn])


def _sides(shape: PlainShape, corners: list[Point], names: tuple[str, ...]) -> tuple[Edge, ...]:
    ends = [*corners[1:], corners[0]]
    return tuple(
        Edge(name, np.array([start, end]), shape.allowance(name))
        for start, end, name in zip(corners, ends, names, strict=True)
    )


def _turned(edges: tuple[Edge, ...]) -> tuple[Edge, ...]:
    """Sides turned by a quarter."""
    return tuple(replace(edge, points=np.ascontiguousarray(edge.points[:, ::-1] * (-1, 1))) for edge in edges)


def _drawn(shape: PlainShape, edges: tuple[Edge, ...], pieced: list[tuple[Edge, ...]]) -> ShapedPiece:
    """The piece with these sides, to be pieced in panels along the grain of each of some outlines."""
    whole = replace(shape, on_fold=False)
    ways: list[WayToPiece] = [partial(_panels, whole.piece(outline), shape.join) for outline in pieced]
    (x0, y0), (x1, _) = grain_within(edges)
    reach = (x1 - x0) / 8**0.5
    middle = (x0 + x1) / 2
    bias = ((middle - reach, y0 - reach), (middle + reach, y0 + reach)) if shape.grain == "bias" else None
    return shape.piece(edges, ways=tuple(ways), grain=bias)


def _panels(whole: Piece, seam: float, number: int, widest: float) -> tuple[Piece, ...]:
    return panels(whole, number, seam, widest)
