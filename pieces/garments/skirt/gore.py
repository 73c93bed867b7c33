"""A gore: one of several panels that widen from the waist over the hip to the hem. Common practice, no source.

Waist and hem are arcs, square to both sides and to the middle, so that they run on from gore to gore without a corner.
All sides are of one length; over a rounded hip the middle is a little shorter.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from pieces.errors import DraftError
from pieces.piece.curve import Cubic, Line, Point, flatten, polyline_length
from pieces.piece.root import root
from pieces.units import format_both

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

WIDEST_SLOPE = 1.7
"""No side runs further out, a millimetre down: about 60 degrees."""


@dataclass(frozen=True)
class Gore:
    """The right half of a gore: its middle runs along x from 0 to its length.

    Parameters
    ----------
    waist, side, hem
        From the middle to the side; from waist to hem; from the middle to the side. Sew lines, mm.
    """

    waist: Floats
    side: Floats
    hem: Floats


def gore(waist: float, hip: float, hem: float, hip_depth: float, length: float) -> Gore:
    """A gore by its widths, mm: along the waist and the hem, and straight across at the hip; and its sides' length.

    Raises
    ------
    DraftError
        If the hem is wider, or narrower, than its length allows.
    """

    def missing(slope: float) -> float:
        return polyline_length(_drawn(waist / 2, hip / 2, slope, hip_depth, length).hem) - hem / 2

    steepest = (hip / 2) / length  # towards the middle
    if missing(-steepest) > 0 or missing(WIDEST_SLOPE) < 0:
        raise DraftError(
            f"a gore {format_both(hip)} wide at the hip and {format_both(length)} long cannot be"
            f" {format_both(hem)} wide at its hem: choose another hem_round, or another number of gores",
            about="hem_round",
        )
    return _drawn(waist / 2, hip / 2, root(missing, -steepest, WIDEST_SLOPE), hip_depth, length)


def _drawn(waist: float, hip: float, slope: float, hip_depth: float, length: float) -> Gore:
    """Half a gore by half its widths and the slope of its side below the hip."""
    at_hip, at_waist, turn = (hip_depth, hip), (0.0, waist), 0.0
    for _ in range(20):  # each time closer: a thousandth of a millimetre after ten
        chord = (at_hip[1] - at_waist[1]) / (at_hip[0] - at_waist[0])
        turn = math.atan(chord + (chord - slope) / 2)
        arc = waist * _chord_share(turn)
        at_waist = (-arc * math.sin(turn / 2), arc * math.cos(turn / 2))
    reach = 0.35 * (at_hip[0] - at_waist[0])
    lead = (at_waist[0] + reach, at_waist[1] + reach * math.tan(turn))
    over_hip = Cubic(at_waist, lead, (at_hip[0] - reach, at_hip[1] - reach * slope), at_hip)
    below = length - polyline_length(over_hip.flatten())
    fall = math.atan(slope)
    at_hem = (at_hip[0] + below * math.cos(fall), at_hip[1] + below * math.sin(fall))
    side = flatten([over_hip, Line(at_hip, at_hem)])
    middle = at_hem[0] + at_hem[1] * math.tan(fall / 2)
    return Gore(_square((0.0, 0.0), at_waist, turn), side, _square((middle, 0.0), at_hem, fall))


def _chord_share(turn: float) -> float:
    """The chord of an arc that turns by so much, radians, as a share of its length."""
    return math.sin(turn / 2) / (turn / 2) if abs(turn) > 1e-9 else 1.0


def _square(start: Point, end: Point, turn: float) -> Floats:
    """An arc from the middle to the side, square to the middle, and to a side that leans outwards by `turn`."""
    reach = end[1] * (4 / 3 * math.tan(turn / 4) / math.sin(turn) if abs(turn) > 1e-9 else 1 / 3)
    trail = (end[0] + reach * math.sin(turn), end[1] - reach * math.cos(turn))
    return Cubic(start, (start[0], reach), trail, end).flatten(0.03)


def mirrored(half: Floats) -> Floats:
    """A line of the right half on the left, from the side to the middle."""
    return np.ascontiguousarray(half[::-1] * (1, -1))
