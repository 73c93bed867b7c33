"""A hanger loop: a strip folded in four, caught in the seam at the back of the neck."""

from __future__ import annotations

from pieces.piece.curve import Line, Point
from pieces.piece.outline import Edge
from pieces.piece.piece import Piece
from pieces.units import INCH

LOOP, FOLDED = 2.5 * INCH, 3 / 8 * INCH
"""Finished length and width: common practice, no source."""


def hanger_loop(seam: float) -> Piece:
    """The strip of a hanger loop, half of it on a fold; its ends are caught, its long edges folded to the middle."""
    half = 2 * FOLDED
    corners: list[Point] = [(0.0, 0.0), (LOOP, 0.0), (LOOP, half), (0.0, half)]
    lines = [Line(corners[i], corners[(i + 1) % 4]).flatten() for i in range(4)]
    edges = (
        Edge("middle", lines[0], 0.0, "fold"),
        Edge("end", lines[1], seam),
        Edge("long edge", lines[2], 0.0),
        Edge("other end", lines[3], seam),
    )
    return Piece("hanger loop", edges, grain=((0.2 * LOOP, 0.0), (0.8 * LOOP, 0.0)), label="on fold")
