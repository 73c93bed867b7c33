"""Back, front, sleeve and gusset of a robe: rectangles, with the neckline cut out. Common practice, no source."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from pieces.garments.parts.hem import turned_twice
from pieces.garments.parts.rectangle import rectangle, straight_edges
from pieces.piece.outline import Edge
from pieces.piece.piece import InnerLine, Notch, Piece
from pieces.piece.pieces import Seam

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from pieces.garments.parts.rectangle import EdgeFrom
    from pieces.garments.straight.shape import RobeShape
    from pieces.garments.straight.style import RobeStyle
    from pieces.piece.curve import Point

    Floats = NDArray[np.float64]


class BodyMarks(NamedTuple):
    """What is marked on the body: how far down a loop is caught in the side seam, and where a pocket lies, mm."""

    loop: float | None
    pocket: tuple[Point, ...]


def at(style: RobeStyle, half: str, edge: str) -> tuple[str, str]:
    """An edge of back or front, as piece and edge, whether they are cut in one or not."""
    return ("body", f"{half} {edge}") if style.in_one else (half, edge)


def draft_body(shape: RobeShape, style: RobeStyle, marks: BodyMarks) -> list[Piece]:
    """Back and front, or left and right of both in one."""
    front, back = _outer(shape, style), _outer(shape, style)
    places = () if marks.loop is None else (marks.loop,)
    inner = (InnerLine("line", marks.pocket),) if marks.pocket else ()
    if style.in_one:
        return [_in_one(shape, style, places, inner)]
    notches = tuple(Notch("belt loop", (x, shape.half)) for x in places)
    behind = shape.round(shape.behind)
    centre = straight_edges([("middle fold", (shape.behind, 0.0), 0.0), ("", (shape.length, 0.0), 0.0)])[:1]
    label, grain = "centre on fold", ((0.3 * shape.length, 0.0), (0.8 * shape.length, 0.0))
    pieces = [
        Piece("back", (*centre, *back, Edge("neck", behind, style.seam)), grain=grain, notches=notches, label=label)
    ]
    ahead = shape.ahead_line(style)
    neck = Edge("neck", ahead, style.seam)
    name = "front edge" if style.is_open else "middle fold"
    allowance = style.seam if style.is_open else 0.0
    centre = straight_edges([(name, (shape.ahead, 0.0), allowance), ("", (shape.length, 0.0), 0.0)])[:1]
    if style.is_open:
        grain = ((0.4 * shape.length, 0.4 * shape.half), (0.8 * shape.length, 0.4 * shape.half))
        pieces.append(Piece("front", (*centre, *front, neck), 2, True, grain=grain, notches=notches, inner=inner))
    else:
        slit = InnerLine("line", ((shape.ahead, 0.0), (shape.ahead + shape.slit, 0.0)))
        inner = (*inner, *((slit,) if shape.slit else ()))
        pieces.append(Piece("front", (*centre, *front, neck), grain=grain, notches=notches, inner=inner, label=label))
    return pieces


def _outer(shape: RobeShape, style: RobeStyle) -> tuple[Edge, ...]:
    """Of back or front, from the centre of the hem round to the neck point."""
    low, half, seam = shape.length, shape.half, style.seam
    sides: list[EdgeFrom] = [
        ("hem", (low, 0.0), turned_twice(style.hem)),
        ("side slit", (low, half), seam),
        ("side", (low - style.side_slit, half), seam),
        ("gusset", (shape.arm + style.gusset, half), seam),
        ("armhole", (shape.arm, half), seam),
        ("shoulder", (0.0, half), seam),
        ("", (0.0, shape.neck), seam),
    ]
    return tuple(edge for edge in straight_edges(sides) if edge.name)


def _in_one(shape: RobeShape, style: RobeStyle, loops: tuple[float, ...], inner: tuple[InnerLine, ...]) -> Piece:
    """Left or right of front and back: the front down from the shoulder, the back up from it."""
    down = {edge.name: edge for edge in _outer(shape, style) if edge.name not in ("shoulder", "armhole")}
    front = [_named(edge, f"front {name}") for name, edge in down.items()]
    back = [_turned(edge, f"back {name}") for name, edge in reversed(down.items())]
    centre_back = Edge("centre back", np.array([(-shape.length, 0.0), (-shape.behind, 0.0)]), style.seam)
    armhole = Edge("armhole", np.array([(shape.arm, shape.half), (-shape.arm, shape.half)]), style.seam)
    ahead = Edge("front neck", shape.ahead_line(style), style.seam)
    behind = _turned(Edge("", shape.round(shape.behind), style.seam), "back neck")
    low = shape.ahead + shape.slit
    name = "front edge" if style.is_open else "centre front"
    centre: list[EdgeFrom] = [
        ("slit", (shape.ahead, 0.0), style.seam),
        (name, (low, 0.0), style.seam),
        ("", (shape.length, 0.0), 0.0),
    ]
    edges = (*straight_edges(centre)[:-1], *front, armhole, *back, centre_back, behind, ahead)
    marks = [("shoulder", 0.0, shape.neck), ("shoulder", 0.0, shape.half)]
    marks += [("belt loop", x, shape.half) for place in loops for x in (place, -place)]
    across = 0.6 * shape.half
    return Piece(
        "body",
        edges,
        cut=2,
        mirrored_pair=True,
        grain=((-0.5 * shape.length, across), (0.5 * shape.length, across)),
        notches=tuple(Notch(name, (x, y)) for name, x, y in marks),
        inner=inner,
        label="front and back in one",
    )


def _named(edge: Edge, name: str) -> Edge:
    return Edge(name, edge.points.copy(), edge.allowance)


def _turned(edge: Edge, name: str) -> Edge:
    """An edge of the front mirrored into the back."""
    return Edge(name, np.ascontiguousarray((edge.points * (-1, 1))[::-1]), edge.allowance)


def draft_sleeve(shape: RobeShape, style: RobeStyle) -> list[Piece]:
    """The sleeve, and the gusset where there is one."""
    low, wide, seam = shape.sleeve, 2 * shape.arm, style.seam
    sides: list[EdgeFrom] = [
        ("back gusset", (0.0, 0.0), seam),
        ("back underarm", (style.gusset, 0.0), seam),
        ("wrist", (low, 0.0), turned_twice(style.hem)),
        ("front underarm", (low, wide), seam),
        ("front gusset", (style.gusset, wide), seam),
        ("armhole", (0.0, wide), seam),
    ]
    grain = ((0.2 * low, wide / 2), (0.8 * low, wide / 2))
    notches = (Notch("shoulder", (0.0, wide / 2)),)
    pieces = [Piece("sleeve", straight_edges(sides), cut=2, grain=grain, notches=notches)]
    if style.gusset:
        names = ("back body", "front body", "front sleeve", "back sleeve")
        pieces.append(rectangle("gusset", style.gusset, style.gusset, names, (seam,) * 4, cut=2))
    return pieces


def body_seams(style: RobeStyle) -> list[Seam]:
    """The seams of back, front, sleeves and gussets."""
    seams = [] if style.in_one else [Seam("shoulder", (("front", "shoulder"),), (("back", "shoulder"),))]
    armhole = (("body", "armhole"),) if style.in_one else (("front", "armhole"), ("back", "armhole"))
    seams += [
        Seam("armhole", (("sleeve", "armhole"),), armhole),
        Seam("side", (at(style, "front", "side"),), (at(style, "back", "side"),)),
        Seam("underarm", (("sleeve", "front underarm"),), (("sleeve", "back underarm"),)),
    ]
    if style.gusset:
        for half in ("front", "back"):
            seams.append(Seam(f"{half} gusset", (("gusset", f"{half} body"),), (at(style, half, "gusset"),)))
            seams.append(
                Seam(f"{half} sleeve gusset", (("gusset", f"{half} sleeve"),), (("sleeve", f"{half} gusset"),))
            )
    return seams
