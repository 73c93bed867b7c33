"""Shapes between two arcs: ring, sector of a ring, gore; pieced in sectors of their own."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from math import pi
from typing import TYPE_CHECKING

import numpy as np

from pieces.errors import DraftError
from pieces.piece.outline import Edge
from pieces.piece.piece import InnerLine, Piece
from pieces.shapes.arc import arc, whole_circle
from pieces.shapes.cut import JOIN, grain_within, joined_label
from pieces.shapes.flat import rectangle
from pieces.units import format_both

if TYPE_CHECKING:
    from pieces.piece.curve import Point
    from pieces.shapes.shape import PlainShape
    from pieces.shapes.shaped import ShapedPiece

EDGES = ("top", "bottom", "side")

EVEN = 1e-6
"""A gore whose ends differ by less, mm, is a rectangle."""


def inner_radius(around: float, share: float = 1.0) -> float:
    """Radius of the inner edge of a share of a ring, such as half a circle skirt, by the length of that edge, mm."""
    return around / (2 * pi * share)


def ring(shape: PlainShape, around: float, length: float) -> ShapedPiece:
    """A ring: `top` is its inner edge, so long around, `bottom` its outer edge, `length` from one to the other; mm."""
    if shape.on_fold:
        raise DraftError(f"'{shape.name}' is a ring: leave on_fold out")
    if shape.grain == "bias":
        raise DraftError(f"'{shape.name}' is a ring, which has every direction in it: leave grain out")
    shape.check_edges(EDGES)
    inner = inner_radius(around)
    hole = inner - shape.allowance("top")
    if hole <= 0:
        raise DraftError(
            f"'{shape.name}': its inner edge, {format_both(around)} around, leaves no hole within its allowance"
        )
    bottom = whole_circle(inner + length)
    lines = [InnerLine("cutout", _around(hole))]
    lines += [InnerLine("sew", _around(inner))] if hole < inner else []
    return shape.piece(
        (Edge("bottom", bottom, shape.allowance("bottom")),),
        ways=(partial(_sectors, shape, inner, length, 2 * pi),),
        is_closed=True,
        inner=tuple(lines),
        grain=((inner, 0.0), (inner + length, 0.0)),
    )


def sector(shape: PlainShape, around: float, length: float, share: float) -> ShapedPiece:
    """A share of a ring with a `side` at either end, its grain along its middle; see `ring`."""
    shape.check_edges(EDGES)
    if shape.on_fold and share > 0.5:
        raise DraftError(f"'{shape.name}' is more than half a ring: leave on_fold out")
    return _sector(shape, inner_radius(around, share), length, 2 * pi * share)


def gore(shape: PlainShape, top: float, bottom: float, length: float) -> ShapedPiece:
    """A gore: `top` and `bottom` are arcs so long, `length` apart all along, its grain along its middle; mm."""
    shape.check_edges(EDGES)
    if abs(bottom - top) < EVEN:
        return rectangle(shape, length, top)
    angle = abs(bottom - top) / length
    if angle > pi:
        raise DraftError(
            f"'{shape.name}' spreads too far for a gore: from {format_both(top)} to {format_both(bottom)} within"
            f' {format_both(length)}; use kind = "sector"'
        )
    return _sector(shape, min(top, bottom) / angle, length, angle, narrows=bottom < top)


def _sector(shape: PlainShape, inner: float, length: float, angle: float, *, narrows: bool = False) -> ShapedPiece:
    edges = _edges(shape, inner, length, angle, ("side", "side"), narrows=narrows)
    whole = replace(shape, on_fold=False)
    (x0, y0), (x1, _) = grain_within(edges)
    middle, reach = (x0 + x1) / 2, (x1 - x0) / 8**0.5
    bias = ((middle - reach, y0 - reach), (middle + reach, y0 + reach)) if shape.grain == "bias" else None
    ways = () if bias else (partial(_sectors, whole, inner, length, angle, narrows=narrows),)
    return shape.piece(edges, ways=ways, grain=bias)


def _edges(
    shape: PlainShape, inner: float, length: float, angle: float, sides: tuple[str, str], *, narrows: bool
) -> tuple[Edge, ...]:
    """Sides of a sector whose middle lies along the grain; of one that narrows, turned by half."""
    half = angle / 2
    outer, hole = arc(inner + length, -half, half), arc(inner, half, -half)
    far, near = ("top", "bottom") if narrows else ("bottom", "top")
    edges = [
        Edge(far, outer, shape.allowance(far)),
        Edge(sides[1], np.array([outer[-1], hole[0]]), shape.allowance(sides[1])),
        *([Edge(near, hole, shape.allowance(near))] if inner > EVEN else []),
        Edge(sides[0], np.array([hole[-1], outer[0]]), shape.allowance(sides[0])),
    ]
    turn = -1 if narrows else 1
    if shape.grain == "across":  # its middle lies across the cloth
        return tuple(replace(e, points=np.ascontiguousarray(e.points[:, ::-1] * (-turn, turn))) for e in edges)
    return tuple(replace(e, points=np.ascontiguousarray(e.points * turn)) for e in edges)


def _sectors(
    shape: PlainShape, inner: float, length: float, angle: float, number: int, widest: float, *, narrows: bool = False
) -> tuple[Piece, ...]:
    """A sector in so many alike, the grain along the middle of each; the first and the last have its own sides."""
    is_ring = angle > 2 * pi - EVEN
    is_alike = is_ring or shape.allowance("side") == shape.join
    ends = {"": (JOIN, JOIN)} if is_alike else {", end": ("side", JOIN), ", middle": (JOIN, JOIN)}
    times = {"": number, ", end": 2, ", middle": number - 2}
    joins = number if is_ring else number - 1
    found = []
    for name, sides in ends.items():
        if times[name] > 0:
            edges = _edges(shape, inner, length, angle / number, sides, narrows=narrows)
            part = replace(
                shape, name=shape.name + name, cut=shape.cut * times[name], pair=shape.pair or name == ", end"
            )
            found.append(replace(part.piece(edges), label=joined_label(number, joins)))
    return tuple(found)


def _around(radius: float) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in whole_circle(radius))


__all__ = ["gore", "inner_radius", "ring", "sector"]
