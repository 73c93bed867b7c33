"""Arcs round the point where a circle skirt's straight edges would meet."""

from __future__ import annotations

from math import acos, ceil
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

FINE = 0.03
"""How far the chords of an arc may stray from it, mm: a waist of 30 in is then short by a tenth of a millimetre."""


def arc(radius: float, start: float, end: float) -> Floats:
    """Points on a circle round 0, 0 from one angle to another, radians; one lies in the middle."""
    step = 2 * acos(1 - FINE / radius)
    angles = np.linspace(start, end, 2 * ceil(abs(end - start) / step / 2) + 1)
    points: Floats = np.column_stack([radius * np.cos(angles), radius * np.sin(angles)])
    return points
