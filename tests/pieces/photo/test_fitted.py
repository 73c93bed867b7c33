"""Lines, arcs and curves through measured points."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely

from pieces.photo.fitted import corners_of, fit_outline

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


def measured(outline: shapely.Polygon, noise: float = 0.05) -> Floats:
    """A point every millimetre, each a little off."""
    ring = outline.exterior
    points = shapely.get_coordinates(ring.interpolate(np.arange(0, ring.length, 1.0)))
    return points + np.random.default_rng(3).normal(scale=noise, size=points.shape)


def test_straight_sides_meet_in_corners() -> None:
    """Of a house all sides are lines, and its corners are nearer than the noise of a point; one turns by 17 degrees."""
    house = shapely.Polygon([(0, 0), (200, 0), (200, 150), (100, 180), (0, 150)])
    fitted = fit_outline(measured(house), 0.3)
    assert [run.kind for run in fitted.runs] == ["line"] * 5
    true = shapely.get_coordinates(house)
    assert max(float(np.hypot(*(true - point).T).min()) for point in fitted.points) < 0.05


def test_a_circle_is_arcs() -> None:
    """A circle has no corner; its arcs lie on it."""
    points = measured(shapely.Point(10, 20).buffer(90, quad_segs=200))
    assert corners_of(points) == []
    fitted = fit_outline(points, 0.3)
    assert {run.kind for run in fitted.runs} == {"arc"}
    assert np.hypot(*(fitted.points - (10, 20)).T) == pytest.approx(90, abs=0.15)


def test_a_curve_keeps_within_the_tolerance() -> None:
    """A wave that is no arc becomes curves that lie near it, in a few points; its corners stay."""
    x = np.linspace(0, 300, 600)
    shape = shapely.Polygon([*zip(x, 20 * np.sin(x / 40), strict=True), (300, 150), (0, 150)])
    fitted = fit_outline(measured(shape), 0.3)
    assert sorted(run.kind for run in fitted.runs) == ["curve", "line", "line", "line"]
    assert fitted.off <= 0.3
    assert shapely.hausdorff_distance(shapely.LinearRing(fitted.points), shape.exterior, 0.01) < 0.5
    assert len(fitted.points) < 120
