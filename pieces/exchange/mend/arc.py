"""Circular arcs as people measure them: by the height above the chord, or by a point on the way."""

from __future__ import annotations

from math import acos, atan2, ceil, cos, hypot, pi, sin
from typing import TYPE_CHECKING

import numpy as np

from pieces.piece.polygon import FARTHEST

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from pieces.piece.curve import Point

    Floats = NDArray[np.float64]

FINE = 0.05
"""How far a curve that was read may stray from the true one once flattened, mm."""

ROUND = 5e-5
"""The same for an arc, at most, as a share of its radius: a circle keeps its area to 0.007 %."""

MOST_STEPS = 2000


def arc_by_height(start: Point, end: Point, height: float, tolerance: float = FINE) -> Floats:
    """Points of an arc from `start` to `end`, both included, shape (n, 2).

    Parameters
    ----------
    height
        How far the arc rises above its chord, mm; positive to the right of the way from start to end.
    """
    (x0, y0), (x1, y1) = start, end
    chord = hypot(x1 - x0, y1 - y0)
    if chord < 1e-9 or abs(height) < 1e-9:
        return np.array([start, end], dtype=np.float64)
    if not max(map(abs, (x0, y0, x1, y1, height))) < FARTHEST:
        return np.array([start, (height, height), end], dtype=np.float64)  # as far out, for whoever looks at it next
    radius = (chord * chord / 4 + height * height) / (2 * abs(height))
    tolerance = min(tolerance, ROUND * radius)
    swept = 4 * atan2(2 * height, chord)
    step = 2 * acos(1 - tolerance / radius)
    steps = min(MOST_STEPS, max(2, ceil(abs(swept) / step)))
    left = (y0 - y1) / chord, (x1 - x0) / chord
    away = chord * chord / (8 * height) - height / 2  # from the chord's middle to the centre, to the left
    centre = (x0 + x1) / 2 + away * left[0], (y0 + y1) / 2 + away * left[1]
    turns = np.linspace(0.0, swept, steps + 1)[:, np.newaxis]
    x, y = x0 - centre[0], y0 - centre[1]
    points = np.hstack([x * np.cos(turns) - y * np.sin(turns), x * np.sin(turns) + y * np.cos(turns)]) + centre
    points[0], points[-1] = start, end
    return points


def height_of(start: Point, middle: Point, end: Point) -> float:
    """Height above its chord of the arc through three points, positive to the right; 0 where they lie in line."""
    (ax, ay), (bx, by), (cx, cy) = start, middle, end
    chord = hypot(cx - ax, cy - ay)
    # The angle at the middle point is half of what the rest of the circle spans.
    before, after = atan2(ay - by, ax - bx), atan2(cy - by, cx - bx)
    angle = (after - before) % (2 * pi)
    to_right = angle > pi
    half = (2 * pi - angle if to_right else angle) / 2  # of the inscribed angle
    if half < 1e-12 or abs(half - pi / 2) < 1e-9:
        return 0.0
    height = chord / 2 * cos(half) / sin(half)
    return height if to_right else -height
