"""Outlines with holes: opened by a thin slit, and never larger than the cloth that is there."""

from __future__ import annotations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.problem.pierced import SLIT, slit_open

SQUARE = [(0, 0), (100, 0), (100, 100), (0, 100)]


@pytest.mark.parametrize(
    "holes",
    [
        [[(40, 40), (60, 40), (60, 60), (40, 60)]],
        [[(0, 50), (30, 30), (30, 70)]],  # touches the outline in a point
        [[(10, 40), (30, 40), (30, 60), (10, 60)], [(40, 40), (60, 40), (60, 60), (40, 60)]],  # one behind another
    ],
)
def test_all_holes_are_open(holes: list[list[tuple[float, float]]]) -> None:
    """One outline is left, and of the cloth no more is lost than slits take."""
    shape = shapely.Polygon(SQUARE, holes)
    opened = shapely.Polygon(slit_open(shape))
    assert opened.is_valid and opened.difference(shape).area < 1e-9
    assert shape.area - 2 * 100 * SLIT < opened.area < shape.area


corner = st.integers(0, 100).map(float)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.lists(st.tuples(corner, corner), min_size=3, max_size=5), min_size=1, max_size=3))
def test_always_within(holes: list[list[tuple[float, float]]]) -> None:
    """Whatever is cut out of a square, its outline opened has an area, and lies within what is left."""
    left = shapely.Polygon(SQUARE).difference(shapely.union_all([shapely.MultiPoint(h).convex_hull for h in holes]))
    if left.area:
        opened = shapely.Polygon(slit_open(left))
        assert opened.is_valid and opened.area and opened.difference(left).area < 1e-9
