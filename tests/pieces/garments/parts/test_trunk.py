"""Curves of back and front: they end where they must, square to the seams there."""

from __future__ import annotations

import numpy as np
import pytest

from pieces.garments.parts.trunk import armhole_curve, neckline_curve, side_curve

TIP, ALONG = (50.0, 200.0), (0.28, 0.96)


def test_armhole() -> None:
    """From the underarm, level, to the shoulder point, square to its seam; as near to the centre as asked."""
    points = armhole_curve((240.0, 250.0), TIP, ALONG, 180.0, 1.0)
    assert tuple(points[0]) == (240.0, 250.0) and tuple(points[-1]) == TIP
    assert points[:, 1].min() == pytest.approx(180.0, abs=1.0)
    first, last = points[1] - points[0], points[-1] - points[-2]
    assert abs(first[0]) < 0.1 * abs(first[1])
    assert abs(np.dot(last, ALONG)) < 0.1 * np.hypot(*last)


def test_neckline_and_side() -> None:
    """A neckline ends level at the centre; a side seam runs straight down at both ends."""
    neck = neckline_curve((7.0, 85.0), ALONG, 100.0)
    assert tuple(neck[-1]) == (100.0, 0.0)
    assert abs(neck[-1, 0] - neck[-2, 0]) < 0.05
    side = side_curve((600.0, 260.0), (240.0, 240.0))
    assert abs(side[1, 1] - side[0, 1]) < 0.01 and abs(side[-1, 1] - side[-2, 1]) < 0.01
