"""Search outlines and convex parts; the oracle is shapely."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
import shapely
from hypothesis import given, settings

from nesting.problem.outline import ADDED, convex_parts, search_outline
from nesting.problem.problem import place_outline
from tests.make.polygons import comb, star

if TYPE_CHECKING:
    from numpy.typing import NDArray


@settings(deadline=None)
@given(points=star(14))
def test_parts_make_up_the_outline(points: NDArray[Any]) -> None:
    """Convex parts are convex, share no area, and add up to the outline."""
    outline = place_outline(points)
    parts = [shapely.Polygon(outline[part]) for part in convex_parts(outline)]
    assert all(part.convex_hull.area == pytest.approx(part.area) for part in parts)
    assert sum(part.area for part in parts) == pytest.approx(shapely.Polygon(outline).area)
    assert shapely.union_all(parts).symmetric_difference(shapely.Polygon(outline)).area == pytest.approx(0, abs=1e-6)


@settings(deadline=None)
@given(points=star())
def test_outline_grows_by_half_the_gap(points: NDArray[Any]) -> None:
    """The search outline covers the piece grown by half the gap, and at sharp corners 2.2 times that."""
    outline = place_outline(points)
    grown = shapely.Polygon(search_outline(outline, 6.0, 0.01))
    true = shapely.Polygon(outline)
    assert grown.buffer(1e-6).covers(true.buffer(3.0, quad_segs=32))
    assert true.buffer(6.6).covers(grown)


def test_sides_parallel_but_for_rounding_do_not_run_together_far_away() -> None:
    """A rhombus grown by half of 6 mm stays within 6.6 mm of itself, though rounding lets its opposite sides meet."""
    outline = place_outline(np.array([[94.0, 0], [0, 58], [-94, 0], [0, -58]]))
    grown = shapely.Polygon(search_outline(outline, 6.0, 0.01))
    assert shapely.Polygon(outline).buffer(6.6).covers(grown)


def test_many_corners_become_few_and_never_cut_into_the_piece() -> None:
    """A wavy round of 240 corners loses over half of them, covers the piece, and gains at most the stated share."""
    angle = np.linspace(0, 2 * np.pi, 240, endpoint=False)
    radius = 500 + 40 * np.sin(5 * angle)
    outline = place_outline(np.column_stack([radius * np.cos(angle), radius * np.sin(angle)]))
    few = search_outline(outline, 0.0, 1.5)
    true, drawn = shapely.Polygon(outline), shapely.Polygon(few)
    assert len(few) < 120
    assert drawn.is_valid and drawn.buffer(1e-6).covers(true)
    assert drawn.area < true.area * (1 + ADDED)


def test_corners_in_a_line_are_dropped() -> None:
    """A square with a corner in the middle of each side is a square."""
    points = [[0, 0], [5, 0], [10, 0], [10, 5], [10, 10], [5, 10], [0, 10], [0, 5]]
    assert len(search_outline(np.array(points, dtype=float), 0.0, 0.01)) == 4


def test_a_comb_keeps_its_gaps() -> None:
    """Parts of a comb leave its gaps open."""
    outline = place_outline(comb())
    assert sum(shapely.Polygon(outline[p]).area for p in convex_parts(outline)) == pytest.approx(
        shapely.Polygon(outline).area
    )
