"""Sound layouts for the independent check, and ways to spoil one of them."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np

from nesting.cloth.fabric import Fabric
from nesting.problem.lay import lay_pieces
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from nesting.verify import Asked, Laid, LaidMarker, holding
from pieces import Piece
from pieces.length import mm
from pieces.piece.piece import InnerLine, Notch
from tests.make.cloth import OBLONG, SLANTED
from tests.make.outlines import sides

if TYPE_CHECKING:
    from collections.abc import Callable

    from nesting.cloth.spread import Spread
    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem

TWILL = Fabric("twill", mm(1200.0), mm(10.0), gap=mm(5.0))
BIAS = ((20.0, 20.0), (70.0, 70.0))
LIMB = [(0.0, 0.0), (300.0, 20.0), (300.0, 120.0), (0.0, 180.0)]


def back(**changes: Any) -> Piece:
    """Half a back on the fold, with a notch and a drill point."""
    made = Piece(
        "back",
        sides(SLANTED, [0.0] * 4, fold=0),
        notches=(Notch("side", (100.0, 125.0)),),
        drill_points=((60.0, 40.0),),
    )
    return replace(made, **changes)


def sleeve(**changes: Any) -> Piece:
    """A pair of sleeves, no two sides of which are alike, with a notch, a drill point and an inner line."""
    made = Piece(
        "sleeve",
        sides(LIMB, [10.0] * 4),
        cut=2,
        mirrored_pair=True,
        notches=(Notch("cap", (0.0, 60.0)),),
        drill_points=((150.0, 80.0),),
        inner=(InnerLine("line", ((40.0, 40.0), (90.0, 60.0))),),
    )
    return replace(made, **changes)


def tab(**changes: Any) -> Piece:
    """A rectangle, cut twice: the same on both sides."""
    return replace(Piece("tab", sides(OBLONG, [0.0] * 4), cut=2), **changes)


def patch(**changes: Any) -> Piece:
    """A slanted piece that is no pair, cut once."""
    return replace(Piece("patch", sides([(x / 2, y / 2) for x, y in SLANTED], [0.0] * 4)), **changes)


def solved(problem: Problem, iterations: int = 2) -> Marker:
    """A marker of a problem."""
    return solve(problem, MaxIterations(iterations)).marker


def laid(pieces: list[Piece], fabric: Fabric, spread: Spread, *, garments: int = 1, **options: Any) -> Marker:
    """A marker of some pieces."""
    return solved(lay_pieces(pieces, fabric, spread, garments=garments, **options))


def held(layout: LaidMarker, asked: Asked) -> list[str]:
    """What holds of a layout; CheckError with the first thing that does not."""
    return [what for what, _ in holding(layout, asked)]


def changed(layout: LaidMarker, piece: str, change: Callable[[Laid], Laid], which: int = -1) -> LaidMarker:
    """A layout with one of the outlines of a piece changed, by default the last."""
    number = [i for i, one in enumerate(layout.laid) if one.piece == piece][which]
    outlines = [change(one) if i == number else one for i, one in enumerate(layout.laid)]
    return replace(layout, laid=tuple(outlines), claims=None)


def without(layout: LaidMarker, piece: str) -> LaidMarker:
    """A layout without one of the outlines of a piece."""
    number = next(i for i, one in enumerate(layout.laid) if one.piece == piece)
    return replace(layout, laid=layout.laid[:number] + layout.laid[number + 1 :], claims=None)


def added(layout: LaidMarker, one: Laid, room: float = 400.0) -> LaidMarker:
    """A longer layout with one more outline behind all others: away from the edges, or on its fold."""
    x, y = one.outline.min(axis=0)
    moved = replace(one, outline=one.outline + (layout.length + 10.0 - x, 0.0 if one.on_fold else 250.0 - y))
    return replace(layout, laid=(*layout.laid, moved), length=layout.length + room, claims=None)


def behind(layout: LaidMarker, piece: str, which: int = 0) -> LaidMarker:
    """A longer layout in which one outline lies behind all others, where there is room to turn it."""
    number = [i for i, one in enumerate(layout.laid) if one.piece == piece][which]
    one = layout.laid[number]
    return added(replace(layout, laid=layout.laid[:number] + layout.laid[number + 1 :]), one)


def first(layout: LaidMarker, piece: str) -> Laid:
    """The first outline of a piece."""
    return next(one for one in layout.laid if one.piece == piece)


def moved(x: float, y: float) -> Callable[[Laid], Laid]:
    """Moves an outline."""
    return lambda one: replace(one, outline=one.outline + (x, y))


def turned(degrees: float, *, said: bool = True) -> Callable[[Laid], Laid]:
    """Turns an outline about the middle of its box, and says so, or does not."""

    def turn(one: Laid) -> Laid:
        cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
        middle = (one.outline.min(axis=0) + one.outline.max(axis=0)) / 2
        outline = (one.outline - middle) @ np.array([[cos, sin], [-sin, cos]]) + middle
        return replace(one, outline=outline, turn=one.turn + degrees if said else one.turn)

    return turn


def over(*, said: bool = True) -> Callable[[Laid], Laid]:
    """Turns an outline over, across the cloth, within its box; and says so, or does not."""

    def turn(one: Laid) -> Laid:
        low, high = one.outline[:, 1].min(), one.outline[:, 1].max()
        outline = np.column_stack([one.outline[:, 0], low + high - one.outline[:, 1]])[::-1]
        if not said:
            return replace(one, outline=outline)
        return replace(one, outline=outline, mirrored=not one.mirrored, turn=-one.turn)

    return turn


def scaled(along: float, across: float) -> Callable[[Laid], Laid]:
    """Makes an outline larger, its lower left corner staying where it is."""

    def grow(one: Laid) -> Laid:
        corner = one.outline.min(axis=0)
        return replace(one, outline=(one.outline - corner) * (along, across) + corner)

    return grow
