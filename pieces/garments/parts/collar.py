"""A collar that falls: stand and fall cut in one. All sizes are common practice, no source."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.piece.curve import Cubic, Line, point_along, polyline_length
from pieces.piece.outline import Edge
from pieces.piece.piece import Notch, Piece
from pieces.piece.root import root
from pieces.units import INCH

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

RISE = 0.375 * INCH
"""How far the neck seam rises to the centre front: so the collar stands behind, and lies flat in front."""


def fall_collar(half: float, height: float, point: float, seam: float, shoulder: float) -> Piece:
    """A collar of two layers, each cut on a fold at the centre back.

    Parameters
    ----------
    half
        Half the neckline that it is sewn to, from the centre back to the centre front, mm.
    height, point
        Finished height behind, stand and fall together; how far its points reach beyond the neckline.
    shoulder
        How far from the centre back it meets the shoulder seam, mm.
    """

    def neck(reach: float) -> Floats:
        start, end = (height, 0.0), (height - RISE, reach)
        return Cubic(start, (height, 0.5 * reach), (height - 0.7 * RISE, 0.8 * reach), end).flatten()

    reach = root(lambda y: polyline_length(neck(y)) - half, 0.5 * half, half)
    low = neck(reach)
    tip = (0.0, reach + point)
    edges = (
        Edge("centre back", Line((0.0, 0.0), (height, 0.0)).flatten(), 0.0, "fold"),
        Edge("neck", low, seam),
        Edge("front end", Line((float(low[-1, 0]), float(low[-1, 1])), tip).flatten(), seam),
        Edge("outer edge", Line(tip, (0.0, 0.0)).flatten(), seam),
    )
    grain = ((0.2 * height, 0.0), (0.8 * height, 0.0))
    notches = (Notch("shoulder seam", point_along(low, shoulder)),)
    return Piece("collar", edges, cut=2, grain=grain, notches=notches, label="centre back on fold")
