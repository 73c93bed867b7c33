"""Arcs by height and by a point on the way, against the circle they are of."""

from __future__ import annotations

from math import cos, pi, sin

import numpy as np
import pytest

from pieces.exchange.mend.arc import FINE, arc_by_height, height_of


@pytest.mark.parametrize("height", [50.0, -50.0, 10.0])
def test_points_lie_on_the_circle(height: float) -> None:
    """Of a chord of 100 mm: every point has the radius by Pythagoras, ends are kept, positive is to the right."""
    points = arc_by_height((0.0, 0.0), (100.0, 0.0), height)
    radius = (50.0**2 + height**2) / (2 * abs(height))
    centre = (50.0, radius - height if height > 0 else -radius - height)
    assert np.hypot(*(points - centre).T) == pytest.approx(np.full(len(points), radius))
    assert points[[0, -1]].tolist() == [[0.0, 0.0], [100.0, 0.0]]
    assert abs(points[:, 1]).max() == pytest.approx(abs(height), abs=FINE)
    assert np.sign(points[len(points) // 2, 1]) == -np.sign(height)


def test_no_height_is_a_straight_line() -> None:
    """An arc that does not rise is its chord."""
    assert arc_by_height((0.0, 0.0), (100.0, 0.0), 0.0).tolist() == [[0.0, 0.0], [100.0, 0.0]]


@pytest.mark.parametrize("turn", [0.3, 1.0, pi, 5.0])
@pytest.mark.parametrize("way", [1, -1])
def test_height_of_three_points_makes_the_same_arc(turn: float, way: int) -> None:
    """Start, middle and end of an arc give a height by which the middle point lies on the arc made of it."""
    start, middle, end = ((80 * cos(way * t), 80 * sin(way * t)) for t in (0.0, turn / 3, turn))
    points = arc_by_height(start, end, height_of(start, middle, end))
    assert np.hypot(*(points - middle).T).min() < 1.0 + 80 * turn / len(points)
    assert np.hypot(*points.T) == pytest.approx(np.full(len(points), 80.0), abs=1e-6)


def test_points_in_line_have_no_height() -> None:
    """Three points of a straight line make no arc."""
    assert height_of((0.0, 0.0), (1.0, 1.0), (2.0, 2.0)) == 0.0
