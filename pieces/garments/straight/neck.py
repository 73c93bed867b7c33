"""What finishes the neck and the front edges of a robe: facings, or a band. Common practice, no source."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from pieces.errors import DraftError
from pieces.garments.parts.hem import turned_twice
from pieces.garments.parts.rectangle import rectangle, straight_edges
from pieces.garments.straight.panels import at
from pieces.piece.curve import polyline_length
from pieces.piece.outline import Edge
from pieces.piece.piece import InnerLine, Notch, Piece
from pieces.piece.pieces import Seam
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from pieces.garments.parts.rectangle import EdgeFrom
    from pieces.garments.straight.shape import RobeShape
    from pieces.garments.straight.style import RobeStyle

SLIT_FACING = 2 * INCH
"""How far the facing of a slit reaches beyond it, on all sides."""


def draft_neck(shape: RobeShape, style: RobeStyle) -> tuple[list[Piece], list[Seam]]:
    """The pieces that finish neck and front edges, and their seams."""
    if style.neckline == "facing":
        return _facings(shape, style)
    return _front_bands(shape, style) if style.is_open else _neckband(shape, style)


def _facings(shape: RobeShape, style: RobeStyle) -> tuple[list[Piece], list[Seam]]:
    """Of the front and of the back neckline, of one width at the shoulder."""
    wide, seam = style.faced, style.seam
    slant = math.hypot(shape.ahead, shape.neck) / shape.ahead if style.is_open else 1.0
    out = shape.neck + wide * slant
    if out > shape.half - seam:
        raise DraftError(
            f"facing_width of {format_both(wide)} reaches beyond the shoulder: make it narrower, or neck_depth larger",
            about="facing_width",
        )
    low = shape.behind + wide
    sides: list[EdgeFrom] = [
        ("middle fold", (shape.behind, 0.0), 0.0),
        ("inner edge", (low, 0.0), seam),
        ("inner side", (low, out), seam),
        ("shoulder", (0.0, out), seam),
        ("", (0.0, shape.neck), seam),
    ]
    neck = Edge("neck", shape.round(shape.behind), seam)
    grain = ((shape.behind + 0.1 * wide, 0.0), (shape.behind + 0.9 * wide, 0.0))
    back = Piece("back facing", (*straight_edges(sides)[:-1], neck), grain=grain, label="centre on fold")
    seams = [
        Seam("facing shoulder", (("front facing", "shoulder"),), (("back facing", "shoulder"),)),
        Seam("front neckline", (("front facing", "neck"),), (at(style, "front", "neck"),)),
        Seam("back neckline", (("back facing", "neck"),), (at(style, "back", "neck"),)),
    ]
    if style.is_open:
        edge = ("body", "front edge") if style.in_one else ("front", "front edge")
        seams.append(Seam("front edge", (("front facing", "front edge"),), (edge,)))
        return [_long_facing(shape, style, out), back], seams
    if style.in_one and shape.slit:
        seams.append(Seam("slit", (("front facing", "slit"),), (("body", "slit"),)))
    return [_short_facing(shape, style, out), back], seams


def _short_facing(shape: RobeShape, style: RobeStyle, out: float) -> Piece:
    """Of a closed front: a rectangle round neckline and slit; of two halves where the front has a centre seam."""
    seam, end = style.seam, shape.ahead + shape.slit
    low = end + style.faced
    middle: list[EdgeFrom] = [("middle fold", (shape.ahead, 0.0), 0.0)]
    if style.in_one:
        middle = [("slit", (shape.ahead, 0.0), seam), ("centre front", (end, 0.0), seam)]
    sides: list[EdgeFrom] = [
        *middle,
        ("inner edge", (low, 0.0), seam),
        ("inner side", (low, out), seam),
        ("shoulder", (0.0, out), seam),
        ("", (0.0, shape.neck), seam),
    ]
    edges = (*straight_edges(sides)[:-1], Edge("neck", shape.ahead_line(style), seam))
    if style.in_one:
        grain = ((0.3 * low, 0.8 * out), (0.8 * low, 0.8 * out))
        return Piece("front facing", edges, cut=2, mirrored_pair=True, grain=grain)
    slit = (InnerLine("line", ((shape.ahead, 0.0), (end, 0.0))),) if shape.slit else ()
    grain = ((shape.ahead + 0.1 * style.faced, 0.0), (low - 0.1 * style.faced, 0.0))
    return Piece("front facing", edges, grain=grain, inner=slit, label="centre on fold")


def _long_facing(shape: RobeShape, style: RobeStyle, out: float) -> Piece:
    """Of an open front: as wide all the way from the shoulder to the hem."""
    wide, seam, low = style.faced, style.seam, shape.length
    slant = math.hypot(shape.ahead, shape.neck)
    bend = shape.ahead + wide * (slant - shape.ahead) / shape.neck
    sides: list[EdgeFrom] = [
        ("front edge", (shape.ahead, 0.0), seam),
        ("hem", (low, 0.0), turned_twice(style.hem)),
        ("inner edge", (low, wide), seam),
        ("inner slant", (bend, wide), seam),
        ("shoulder", (0.0, out), seam),
        ("neck", (0.0, shape.neck), seam),
    ]
    grain = ((0.5 * low, wide / 2), (0.9 * low, wide / 2))
    return Piece("front facing", straight_edges(sides), cut=2, mirrored_pair=True, grain=grain)


def _front_bands(shape: RobeShape, style: RobeStyle) -> tuple[list[Piece], list[Seam]]:
    """Along an open front from the hem round to the centre back, where left and right are joined."""
    if style.banded > shape.half:
        raise DraftError(
            f"band_width of {format_both(style.banded)} is wider than the front, {format_both(shape.half)}: make it"
            " narrower",
            about="band_width",
        )
    behind = polyline_length(shape.round(shape.behind))
    ahead = polyline_length(shape.ahead_line(style))
    long, seam = shape.length - shape.ahead + ahead + behind, style.seam
    names = ("edge", "end", "other edge", "centre back")
    band = rectangle("front band", long, 2 * style.banded, names, (seam,) * 4, cut=2, lies="cross")
    notches = tuple(Notch("shoulder", (behind, y)) for y in (0.0, 2 * style.banded))
    edge = ("body", "front edge") if style.in_one else ("front", "front edge")
    run = (edge, at(style, "front", "neck"), at(style, "back", "neck"))
    marked = Piece(band.name, band.edges, 2, grain=band.grain, notches=notches, lies="cross")
    return [marked], [Seam("front band", (("front band", "edge"),), run)]


def _neckband(shape: RobeShape, style: RobeStyle) -> tuple[list[Piece], list[Seam]]:
    """A band that stands on a closed neckline, and the facing of a slit that is cut into the front."""
    long, seam = shape.opening, style.seam
    names = ("middle fold", "end", "neck", "other end")
    band = rectangle("neckband", long, style.banded, names, (0.0, seam, seam, seam), label="on fold")
    ahead = polyline_length(shape.round(shape.ahead))
    marks = [("shoulder", ahead), ("centre back", long / 2), ("shoulder", long - ahead)]
    notches = tuple(Notch(name, (x, style.banded)) for name, x in marks)
    pieces = [Piece("neckband", band.edges, grain=band.grain, notches=notches, label=band.label)]
    if not style.in_one and shape.slit:
        line = InnerLine("line", ((0.0, 0.0), (shape.slit, 0.0)))
        names = ("middle fold", "inner edge", "inner side", "neck")
        sizes = (shape.slit + SLIT_FACING, SLIT_FACING)
        pieces.append(rectangle("slit facing", *sizes, names, (0.0, seam, seam, seam), inner=(line,), label="on fold"))
    half = (at(style, "front", "neck"), at(style, "back", "neck"))
    return pieces, [Seam("neckband", (("neckband", "neck"),), (*half, *half[::-1]))]
