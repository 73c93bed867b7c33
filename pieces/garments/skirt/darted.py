"""A quarter of a fitted skirt: half a front or half a back, its waist trued over the darts.

The waist is drawn as it lies once the darts are sewn: one curve, square to the centre, the legs of each dart and the
side. Then it is opened at each dart, all that lies beyond it turned about the dart's tip. So both legs of a dart are
equal, the waist runs on over it, and darts lie along the grain. All sizes are common practice, no source.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from pieces.errors import DraftError
from pieces.piece.curve import Cubic, Line, Point, flatten, polyline_length
from pieces.piece.root import root
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

LEAST_DART, ONE_DART, MOST_DART = INCH / 4, 1.125 * INCH, 1.5 * INCH
"""What a dart takes up at the least, what one does before there are two, and what each does at the most."""

MOST_SIDE = INCH
"""What the side takes of waist and hip, unless darts cannot take the rest."""

STEEPEST = 0.7
"""No side leans more between waist and hip, a millimetre down."""

SAME = 1e-6
"""Two leans of a side that differ by less, radians, are one."""

STEPS = 24
"""Chords of a stretch of the waist."""

PLACES: dict[int, tuple[float, ...]] = {0: (), 1: (0.5,), 2: (0.4, 0.7)}
"""Where darts lie, as shares of half the waist from the centre."""


@dataclass(frozen=True)
class Dart:
    """A dart as it lies open: its legs run from both ends of its mouth to its tip; its roof folds on to the waist."""

    leg: Point
    roof: Point
    other_leg: Point
    tip: Point


@dataclass(frozen=True)
class Quarter:
    """Half a front or back: centre line along x, from the waist at 0, 0; sew lines from the centre out, mm.

    Parameters
    ----------
    waist
        The stretches of the waist between the darts.
    side
        From waist to hem.
    hem
        From the centre to the side.
    sewn
        The whole waist once the darts are sewn, from 0, 0 outwards.
    """

    waist: tuple[Floats, ...]
    darts: tuple[Dart, ...]
    side: Floats
    hem: Floats
    sewn: Floats


def side_takes(waists: Sequence[float], hip: float) -> float:
    """How much the side seam takes in from hip to waist, mm, for quarters of those widths."""
    spare = hip - sum(waists) / len(waists)
    return min(spare / 2, MOST_SIDE) if spare > 0 else spare


def quarter(
    waist: float, hip: float, flare: float, side_in: float, hip_depth: float, length: float, dart_depth: float
) -> Quarter:
    """Half a front or back.

    Parameters
    ----------
    waist, hip
        Its widths, sewn, mm.
    flare
        How much wider than at the hip it is at the hem, mm.
    side_in
        How much the side takes of what the waist is less; darts take the rest, if it is enough for one.
    hip_depth, length
        Down the side, from waist to hip and to hem, mm.
    dart_depth
        How long darts are, mm.

    Raises
    ------
    DraftError
        If the waist is too much less than the hip for side and darts, or too much more.
    """
    taken = hip - side_in - waist
    count = 0 if taken < LEAST_DART else 1 if taken <= ONE_DART else 2
    each = min(taken / count, MOST_DART) if count else 0.0
    if not -STEEPEST < (hip - waist - count * each) / hip_depth < STEEPEST:
        raise DraftError(
            f"a quarter of the waist is {format_both(waist)}, and of the hip {format_both(hip)}, only"
            f" {format_both(hip_depth)} below: side and darts cannot take that; measure waist, hip and hip_depth again",
            about="waist",
        )
    slope = flare / (length - hip_depth)

    def drawn(centre: float) -> tuple[Quarter, float]:
        return _drawn(waist, hip, slope, (count, each, dart_depth), centre, length)

    centre = root(lambda x: drawn(x)[1] - hip_depth, 0.5 * hip_depth, 1.5 * hip_depth)
    return drawn(centre)[0]


def _drawn(
    waist: float, hip: float, slope: float, darts: tuple[int, float, float], centre: float, length: float
) -> tuple[Quarter, float]:
    """A quarter with its hip so far below the waist at the centre; and how long its side is down to the hip."""
    count, each, deep = darts
    opened = 2 * math.asin(each / (2 * deep)) if count else 0.0
    at_hip, lean = (centre, hip), 0.0
    for _ in range(40):  # each time the side's lean is nearer to what its ends ask for
        sewn = _sewn(waist, PLACES[count], opened, lean)
        stretches, found = _opened(sewn, opened, deep)
        at_waist = (float(stretches[-1][-1, 0]), float(stretches[-1][-1, 1]))
        chord = (at_hip[1] - at_waist[1]) / max(at_hip[0] - at_waist[0], 1.0)
        before, lean = lean, (lean + math.atan(chord + (chord - slope) / 2)) / 2
        if abs(lean - before) < SAME:
            break
    reach = 0.35 * (at_hip[0] - at_waist[0])
    lead = (at_waist[0] + reach, at_waist[1] + reach * math.tan(lean))
    over_hip = Cubic(at_waist, lead, (at_hip[0] - reach, at_hip[1] - reach * slope), at_hip)
    to_hip, fall = polyline_length(over_hip.flatten()), math.atan(slope)
    below = length - to_hip
    at_hem = (at_hip[0] + below * math.cos(fall), at_hip[1] + below * math.sin(fall))
    side = flatten([over_hip, Line(at_hip, at_hem)])
    middle = at_hem[0] + at_hem[1] * math.tan(fall / 2)
    hold = at_hem[1] * (4 / 3 * math.tan(fall / 4) / math.sin(fall) if fall > 1e-9 else 1 / 3)
    trail = (at_hem[0] + hold * math.sin(fall), at_hem[1] - hold * math.cos(fall))
    hem = Cubic((middle, 0.0), (middle, hold), trail, at_hem).flatten(0.03)
    return Quarter(
        tuple(stretches), tuple(found), side, hem, np.vstack([sewn[0][:1], *(part[1:] for part in sewn)])
    ), to_hip


def _sewn(waist: float, places: Sequence[float], angle: float, lean: float) -> list[Floats]:
    """The stretches of a sewn waist from 0, 0 outwards, between its darts.

    It starts square to the centre, has turned by half a dart's angle where that comes, and ends square to the side.
    """
    ends = (0.0, *places, 1.0)
    headings = [0.0, *((number + 0.5) * angle for number in range(len(places))), len(places) * angle + lean]
    found, start = [], np.zeros(2)
    for number in range(len(ends) - 1):
        step = (ends[number + 1] - ends[number]) * waist / STEPS
        heading = headings[number] + (np.arange(STEPS) + 0.5) / STEPS * (headings[number + 1] - headings[number])
        moves = step * np.column_stack([-np.sin(heading), np.cos(heading)])
        found.append(np.vstack([start, start + np.cumsum(moves, axis=0)]))
        start = found[-1][-1]
    return found


def _opened(sewn: Sequence[Floats], angle: float, deep: float) -> tuple[list[Floats], list[Dart]]:
    """The stretches of a waist once its darts are opened, and these."""
    stretches, darts = [], []
    turn, shift = np.eye(2), np.zeros(2)  # of all beyond the darts so far
    for number, stretch in enumerate(sewn):
        stretches.append(np.ascontiguousarray(stretch @ turn.T + shift))
        if number + 1 == len(sewn):
            break
        heading = (number + 0.5) * angle
        leg, down = stretches[-1][-1], turn @ np.array([math.cos(heading), math.sin(heading)])  # square to the waist
        tip, half, whole = leg + deep * down, _turned(angle / 2), _turned(angle)
        roof, other = tip + half @ (leg - tip) / math.cos(angle / 2), tip + whole @ (leg - tip)
        turn, shift = whole @ turn, whole @ (shift - tip) + tip
        darts.append(Dart(_point(leg), _point(roof), _point(other), _point(tip)))
    return stretches, darts


def _point(at: Floats) -> Point:
    return float(at[0]), float(at[1])


def _turned(angle: float) -> Floats:
    """The turn that takes what is above a point outwards."""
    return np.array([[math.cos(angle), math.sin(angle)], [-math.sin(angle), math.cos(angle)]])
