"""Curves found again by the points that they were flattened into."""

from __future__ import annotations

from math import cos, pi, sin

import numpy as np
import pytest

from pieces.piece.curve import Cubic, Line, flatten
from pieces.piece.recovered import curves_of, recover
from pieces.shapes.arc import arc

CURVES = (
    Cubic((0.0, 0.0), (90.0, 10.0), (200.0, 80.0), (220.0, 240.0)),
    Line((220.0, 240.0), (220.0, 400.0)),
    Cubic((220.0, 400.0), (220.0, 430.0), (260.0, 470.0), (300.0, 470.0)),
)


@pytest.mark.parametrize("tolerance", [0.2, 0.03])
def test_lines_and_curves_come_back(tolerance: float) -> None:
    """What was flattened, turned by 30 degrees, mirrored and moved comes back to a millionth of a millimetre."""
    turn = np.array([[cos(pi / 6), sin(pi / 6)], [sin(pi / 6), -cos(pi / 6)]])
    points = flatten(CURVES, tolerance) @ turn + (1000.0, -300.0)
    found = recover(points)
    assert [type(curve) for curve in found] == [type(curve) for curve in CURVES]
    for curve, other in zip(found, CURVES, strict=True):
        for name in ("start", "end") if isinstance(other, Line) else ("start", "lead", "trail", "end"):
            assert getattr(curve, name) == pytest.approx(np.array(getattr(other, name)) @ turn + (1000, -300), abs=1e-6)


def test_a_curve_cut_off_comes_back() -> None:
    """Of a curve without its first and last points all points lie on the curve found, within a thousandth of 1 mm."""
    whole = CURVES[0].flatten(0.05)
    (curve,) = (each for each in recover(whole[4:-5]) if isinstance(each, Cubic))
    sampled = CURVES[0].at(np.linspace(0, 1, 20001))
    drawn = curve.at(np.linspace(0, 1, 50))
    assert np.hypot(*(drawn[:, np.newaxis] - sampled).transpose(2, 0, 1)).min(axis=1).max() < 0.02


@pytest.mark.parametrize("radius", [40.0, 700.0])
def test_arcs_come_back(radius: float) -> None:
    """The curves of an arc lie on its circle within a thousandth of a millimetre."""
    found = recover(arc(radius, 0.3, 2.9))
    assert all(isinstance(curve, Cubic) for curve in found)
    drawn = np.vstack([curve.at(np.linspace(0, 1, 40)) for curve in found if isinstance(curve, Cubic)])
    assert np.abs(np.hypot(*drawn.T) - radius).max() < 0.001


def test_plain_polygons_stay() -> None:
    """A hexagon, an octagon and a star of 200 corners are no curves: their chords are far from any."""
    for corners, radii in ((6, (100.0,)), (8, (100.0,)), (200, (300.0, 280.0))):
        turns = np.linspace(0, 2 * pi, corners + 1)
        far = np.resize(radii, corners + 1)
        assert curves_of(np.column_stack([far * np.cos(turns), far * np.sin(turns)])) == ()
