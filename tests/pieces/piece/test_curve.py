"""Curves against fontTools' Bézier tools, which share no line with ours."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from fontTools.misc.bezierTools import calcCubicArcLength, splitCubicAtT
from hypothesis import assume, given
from hypothesis import strategies as st

from pieces.piece.curve import Cubic, Line, flatten, point_along, polyline_length

coordinates = st.integers(-500, 500).map(float) | st.integers(-500_000, 500_000).map(lambda n: n / 1000)
points = st.tuples(coordinates, coordinates)
cubics = st.builds(Cubic, points, points, points, points)
# A handle as long as a tenth of the curve or more, and no turning back: as curves of patterns are.
smooth = st.builds(
    lambda x, y, lead, trail: Cubic((0.0, 0.0), (x * lead, 0.0), (x * (1 - trail), y), (x, y)),
    st.floats(20, 1000), st.floats(-800, 800), st.floats(0.1, 0.9), st.floats(0.1, 0.9),
)  # fmt: skip


def _corners(curve: Cubic) -> tuple[tuple[float, float], ...]:
    return curve.start, curve.lead, curve.trail, curve.end


@given(smooth)
def test_length_agrees_with_fonttools(curve: Cubic) -> None:
    """The arc length is fontTools' own."""
    assert curve.length == pytest.approx(calcCubicArcLength(*_corners(curve), tolerance=1e-6), rel=1e-5)


@given(cubics, st.sampled_from([0.05, 0.2, 2.0]))
def test_flattened_within_tolerance(curve: Cubic, tolerance: float) -> None:
    """Every point of the curve (fontTools' split) lies within the tolerance of the flattened one."""
    assume(curve.start != curve.end)
    flat = shapely.LineString(curve.flatten(tolerance))
    for t in np.linspace(0.02, 0.98, 33):
        on_curve = splitCubicAtT(*_corners(curve), float(t))[0][3]
        assert flat.distance(shapely.Point(on_curve)) <= tolerance + 1e-6


def test_overshooting_handles_are_not_a_straight_line() -> None:
    """Handles in one line with the ends, but beyond them: the curve runs past its ends and back."""
    curve = Cubic((0, 0), (600, 0), (-500, 0), (100, 0))
    # By hand: x(1/4) = 27/64 * 600 - 9/64 * 500 + 1/64 * 100 = 184.4, and as much past the other end.
    assert np.ptp(curve.flatten()[:, 0]) >= 268


def test_closed_curve() -> None:
    """A curve that comes back to where it started is flattened like any other."""
    curve = Cubic((0, 0), (100, 0), (0, 100), (0, 0))
    assert polyline_length(curve.flatten(0.01)) == pytest.approx(calcCubicArcLength(*_corners(curve)), rel=1e-3)


@given(points, points)
def test_straight_handles_give_two_points(start: tuple[float, float], end: tuple[float, float]) -> None:
    """Handles on the line between the ends make a straight line of two points."""
    assume(np.hypot(*np.subtract(end, start)) > 1)
    third = np.subtract(end, start) / 3
    curve = Cubic(start, tuple(np.add(start, third)), tuple(np.subtract(end, third)), end)
    assert len(curve.flatten()) == 2


def test_line() -> None:
    """A 3-4-5 triangle's long side."""
    assert Line((0, 0), (30, 40)).length == 50
    assert Line((0, 0), (30, 40)).flatten().tolist() == [[0, 0], [30, 40]]


@given(smooth)
def test_flat_length_falls_short_by_little(curve: Cubic) -> None:
    """Chords are no longer than the curve, to what its quadrature is off by, nor at 0.2 mm half a per cent shorter."""
    assert 0.995 * curve.length <= polyline_length(curve.flatten()) <= curve.length * (1 + 1e-6)


def test_curves_join_without_doubled_points() -> None:
    """Two lines end to end are a polyline of three points."""
    joined = flatten([Line((0, 0), (10, 0)), Line((10, 0), (10, 5))])
    assert joined.tolist() == [[0, 0], [10, 0], [10, 5]]


@given(smooth, st.floats(0, 1))
def test_point_along_agrees_with_shapely(curve: Cubic, share: float) -> None:
    """A point some way along a polyline is shapely's."""
    flat = curve.flatten()
    theirs = shapely.LineString(flat).interpolate(share, normalized=True)
    assert point_along(flat, share * polyline_length(flat)) == pytest.approx((theirs.x, theirs.y), abs=1e-6)
