"""Curves of back and front: side seam, armhole and neckline, square to the seams they meet.

Points are sewn ones, mm; `along` is the unit vector of the shoulder seam, outwards. Common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.piece.curve import Cubic, Point, flatten

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


def side_curve(hem: Point, underarm: Point) -> Floats:
    """A side seam from the hem up to the underarm."""
    (x0, y0), (x1, y1) = hem, underarm
    lead = (x0 - x1) * 0.4
    return flatten([Cubic((x0, y0), (x0 - lead, y0), (x1 + lead, y1), (x1, y1))])


def armhole_curve(underarm: Point, tip: Point, along: Point, across: float, scoop: float) -> Floats:
    """An armhole from the underarm up to the shoulder point, `across` mm from the centre line halfway up.

    Parameters
    ----------
    scoop
        How far it swings towards the centre before it rises.
    """
    (x0, y0), (x1, y1), (dx, dy) = underarm, tip, along
    half = (x0 - x1) / 2
    middle = (x1 + half, across)
    rise = half * 0.4 if dx <= 0 else min(half * 0.4, max(half * 0.1, 0.7 * (y1 - across) / dx))
    low = Cubic((x0, y0), (x0, y0 - 0.7 * scoop * (y0 - across)), (x1 + 1.55 * half, across), middle)
    high = Cubic(middle, (x1 + 0.6 * half, across), (x1 + rise * dy, y1 - rise * dx), (x1, y1))
    return flatten([low, high])


def neckline_curve(neck: Point, along: Point, bottom: float) -> Floats:
    """A neckline from the neck point to the centre, where it lies at `bottom`."""
    (x0, y0), (dx, dy) = neck, along
    fall, reach = 0.55 * (bottom - x0), 0.55 * y0
    return flatten([Cubic((x0, y0), (x0 + fall * dy, y0 - fall * dx), (bottom, reach), (bottom, 0.0))])
