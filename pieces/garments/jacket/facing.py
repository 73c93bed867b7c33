"""Facings of the rib jacket: of the front, up to the shoulder seam or grown on; and of the back neckline.

All rules are common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from pieces.errors import DraftError
from pieces.piece.curve import Cubic, Line, Point, flatten
from pieces.piece.outline import Edge
from pieces.piece.piece import Notch, Piece
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from pieces.garments.jacket.block import Block
    from pieces.garments.jacket.style import JacketStyle

    Floats = NDArray[np.float64]

FACING = 2.5 * INCH
"""Finished width of a facing, where there is room for it."""

BEYOND, LEAST = INCH, 0.75 * INCH
"""How far it reaches beyond the centre of fronts that overlap far; and no facing is narrower, that is asked for."""

DEEP = 1.6
"""How far below the neckline the inner edge runs straight, as a share of the facing's width."""

AT_SHOULDER = 2 * INCH
"""Finished width of a facing at the shoulder seam; half of a shoulder that is shorter than twice that."""


def to_front_edge(neckline: Floats, overlap: float) -> Floats:
    """The neckline, drawn on level from the centre front to the finished front edge."""
    return np.vstack([neckline, [(neckline[-1, 0], -overlap)]]) if overlap else neckline


def draft_front_facing(block: Block, style: JacketStyle, neckline: Floats) -> Piece:
    """The separate front facing: the shape of front edge and neckline, up to the shoulder seam; its inner edge turned.

    Parameters
    ----------
    neckline
        The front's, from the neck point to the finished front edge.
    """
    shoulder, edge, hem = _shoulder(block), float(neckline[-1, 1]), block.sewn_hem[0]
    inner = edge + _width(style, float(shoulder[0, 1]) - edge)
    low = float(neckline[-1, 0]) + DEEP * (inner - edge)
    end = _at(shoulder[0])
    bend = Cubic((low, inner), (low - 0.3 * (low - end[0]), inner), _below(block, shoulder[0], low), end)
    edges = (
        Edge("front edge", Line((float(neckline[-1, 0]), edge), (hem, edge)).flatten(), block.seam),
        Edge("hem", Line((hem, edge), (hem, inner)).flatten(), block.seam),
        Edge("inner edge", flatten([Line((hem, inner), (low, inner)), bend]), block.seam),
        Edge("shoulder", shoulder, block.seam),
        Edge("neck", neckline, block.seam),
    )
    middle = (inner + edge) / 2
    grain = ((hem * 0.35, middle), (hem * 0.75, middle))
    return Piece("front facing", edges, cut=2, mirrored_pair=True, grain=grain)


def draft_back_facing(block: Block, neckline: Floats, shoulder_width: float) -> Piece:
    """The facing of the back neckline, about as wide as the front's at the shoulder seam; cut on a fold.

    Parameters
    ----------
    shoulder_width
        Level, from neck point to shoulder point, mm: the same on both sides, whatever their slopes, so that the two
        halves of a facing meet.
    """
    shoulder, top = _shoulder(block), float(neckline[-1, 0])
    low = top + min(AT_SHOULDER, shoulder_width / 2)
    reach = float(shoulder[0, 1]) / 2
    inner = Cubic((low, 0.0), (low, reach), _below(block, shoulder[0], low), _at(shoulder[0]))
    edges = (
        Edge("centre back", Line((top, 0.0), (low, 0.0)).flatten(), 0.0, "fold"),
        Edge("inner edge", inner.flatten(), block.seam),
        Edge("shoulder", shoulder, block.seam),
        Edge("neck", neckline, block.seam),
    )
    middle = tuple(Notch("centre back", (x, 0.0)) for x in (top, low))
    grain = ((top + 5, 0.0), (low - 5, 0.0))
    return Piece("back facing", edges, grain=grain, notches=middle, label="centre back on fold")


def facing_top(neckline: Floats, block: Block, style: JacketStyle) -> Floats:
    """Of a facing that is grown on: the neckline mirrored at the front edge, from there as far as it is wide."""
    end = float(neckline[-1, 1]) - _width(style, block.sewn_neck[1] + style.overlap - 2 * block.seam)
    mirrored = neckline[::-1] * (1, -1) + (0, 2 * float(neckline[-1, 1]))  # starts at the front edge, y falling
    inside = mirrored[mirrored[:, 1] > end + 1e-6]
    height = np.interp(-end, -mirrored[:, 1], mirrored[:, 0])
    return np.vstack([inside, [(height, end)]])


def _width(style: JacketStyle, widest: float) -> float:
    """How wide the facing is, mm: as asked, or as usual where there is room.

    Raises
    ------
    DraftError
        If there is no room for it.
    """
    if widest <= 0:
        raise DraftError(
            f"a seam of {format_both(style.seam)} leaves no room for a facing below this neckline:"
            " use a narrower seam" + style.if_rib(", or set facing to 'none'"),
            about="seam",
        )
    if style.facing_width is None:
        return min(max(FACING, style.overlap + BEYOND), widest)
    width, least = style.facing_width, max(style.overlap, LEAST)
    if not least <= width <= widest:
        raise DraftError(
            f"facing_width must be between {format_both(least)}, to reach beyond the overlap, and"
            f" {format_both(widest)}, to end below the neckline, not {format_both(width)}",
            about="facing_width",
        )
    return width


def _shoulder(block: Block) -> Floats:
    """The shoulder seam of a facing, from its inner end to the neck point."""
    start, end = np.array(block.sewn_neck), np.array(block.sewn_tip)
    length = float(np.hypot(*(end - start)))
    return np.vstack([start + (end - start) * min(AT_SHOULDER, length / 2) / length, start])


def _below(block: Block, point: Floats, low: float) -> Point:
    """A point square to the shoulder below one on it, most of the way to `low`: so a facing stays wide at the bend."""
    dx, dy = block.across
    fall = 0.7 * (low - float(point[0]))
    return float(point[0]) + fall * dy, float(point[1]) - fall * dx


def _at(point: Floats) -> Point:
    return float(point[0]), float(point[1])
