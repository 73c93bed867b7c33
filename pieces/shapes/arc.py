"""Arcs of circles as polylines."""

from __future__ import annotations

from math import acos, ceil, pi
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

INSIDE = 0.09
"""How far a chord may lie inside its arc, mm: under a tenth, so that no cut line is more than that too far in."""


def arc(radius: float, start: float, end: float) -> Floats:
    """Points on an arc round the origin from one angle to another, radians, shape (n, 2); both ends are exact."""
    widest = 2 * acos(max(1 - INSIDE / radius, 0.5)) if radius > 0 else abs(end - start)
    steps = max(2, ceil(abs(end - start) / widest)) if radius > 0 else 1
    angles = np.linspace(start, end, steps + 1)
    return radius * np.column_stack((np.cos(angles), np.sin(angles)))


def whole_circle(radius: float) -> Floats:
    """Points round a circle, the last one on the first."""
    points = arc(radius, 0.0, 2 * pi)
    points[-1] = points[0]
    return points
