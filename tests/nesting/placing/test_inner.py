"""Outlines within others: inside (shapely), and with few corners."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely

from nesting.placing.inner import inner
from tests.make.polygons import random_star

if TYPE_CHECKING:
    from collections.abc import Iterator


@pytest.mark.generated(200)
def test_inner_outline_lies_within(numbers: Iterator[int]) -> None:
    """Whatever the outline and the depth, what comes of it lies within it (shapely), and has no more corners."""
    for number in numbers:
        rng = np.random.default_rng(number)
        outline = random_star(rng, int(rng.integers(3, 60)))
        drawn = inner(outline, float(rng.uniform(0, 30)))
        shape = shapely.Polygon(drawn)
        assert shape.is_valid, number
        assert shapely.Polygon(outline).buffer(1e-7).covers(shape), number
        assert 3 <= len(drawn) <= len(outline), number


def test_a_curve_becomes_a_few_sides() -> None:
    """Of a circle of 200 corners, cut 8 mm deep, few are left, and most of its area."""
    angles = np.linspace(0, 2 * np.pi, 200, endpoint=False)
    circle = 300.0 * np.column_stack([np.cos(angles), np.sin(angles)])
    drawn = inner(circle, 8.0)
    assert len(drawn) < 25
    assert shapely.Polygon(drawn).area > 0.97 * shapely.Polygon(circle).area


def test_a_hollow_side_is_drawn_on() -> None:
    """A neckline of many inward corners is replaced by tangents within the piece, not by a chord outside of it."""
    angles = np.linspace(np.pi, 2 * np.pi, 40)
    hollow = np.column_stack([200 + 80 * np.cos(angles), 300 + 80 * np.sin(angles)])
    outline = np.vstack([[(0, 0), (400, 0), (400, 300)], hollow[::-1], [(0, 300)]])
    drawn = inner(outline, 10.0)
    assert len(drawn) < 12
    assert shapely.Polygon(outline).buffer(1e-7).covers(shapely.Polygon(drawn))
    assert shapely.Polygon(drawn).area > 0.97 * shapely.Polygon(outline).area


def test_depth_of_nothing_changes_no_area() -> None:
    """With no depth only corners in a line go."""
    outline = np.array([(0, 0), (50, 0), (100, 0), (100, 60), (0, 60)], dtype=float)
    assert shapely.Polygon(inner(outline, 0.0)).equals(shapely.Polygon(outline))
