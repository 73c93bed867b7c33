"""The layout problem: areas and turns against shapely."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import affinity

from nesting.cloth.band import Band
from nesting.errors import NestingError
from nesting.problem.outline import polygon_area
from nesting.problem.problem import Problem, place_outline
from tests.make.polygons import star

if TYPE_CHECKING:
    from numpy.typing import NDArray

SQUARE = np.array([(0, 0), (100, 0), (100, 100), (0, 100)], dtype=float)


@given(star())
def test_area_agrees_with_shapely(outline: NDArray[np.float64]) -> None:
    """The shoelace area is shapely's, whichever way the outline runs."""
    assert polygon_area(outline) == pytest.approx(shapely.Polygon(outline).area)
    assert polygon_area(outline[::-1]) == pytest.approx(shapely.Polygon(outline).area)


@given(star(), st.sampled_from([0.0, 90.0, 180.0, 270.0, 360.0, -90.0]) | st.floats(-360, 360), st.booleans())
def test_placed_outline_agrees_with_shapely(outline: NDArray[np.float64], turn: float, mirrored: bool) -> None:
    """Turned over, then turned, then moved to (0, 0), running counter-clockwise: shapely's own."""
    placed = place_outline(outline, turn=turn, mirrored=mirrored)
    theirs = affinity.rotate(affinity.scale(shapely.Polygon(outline), 1, -1 if mirrored else 1), turn)
    theirs = affinity.translate(theirs, -theirs.bounds[0], -theirs.bounds[1])
    assert shapely.Polygon(placed).symmetric_difference(theirs).area < 1e-6
    assert shapely.Polygon(placed).exterior.is_ccw
    assert placed.min(axis=0).tolist() == [0, 0]


def test_quarter_turns_are_exact() -> None:
    """Four quarter turns bring back the very same numbers."""
    outline = place_outline(np.array([(0.1, 0.2), (33.3, 0.7), (12.1, 45.6)]))
    turned = outline
    for _ in range(4):
        turned = place_outline(turned, turn=90.0)
    assert np.allclose(turned, outline, rtol=0, atol=1e-12)
    assert place_outline(SQUARE, turn=90.0).max() == 100


def test_from_outlines() -> None:
    """Three squares and a bar on a strip 150 wide: four placements, and the bar in one of its turns only."""
    bar = [(0, 0), (200, 0), (200, 20), (0, 20)]
    problem = Problem.from_outlines(150, [SQUARE, bar], [3, 1], [[0.0], [0.0, 90.0]], names=["square", "bar"])
    assert problem.num_placements == 4
    assert (problem.width, problem.cloth_width, problem.piece_area) == (150, 150, 34_000)
    assert [(v.turn, v.low, v.high) for v in problem.items[1].variants] == [(0.0, 0.0, 130.0)]


def test_fits_in_no_turn() -> None:
    """What fits across the strip in none of its turns is refused by name."""
    with pytest.raises(NestingError, match="'square' does not fit across the strip of 50"):
        Problem.from_outlines(50, [SQUARE], [1], [[0.0]], names=["square"])


def test_nothing() -> None:
    """A problem without items is none."""
    with pytest.raises(NestingError, match="nothing to lay"):
        Problem((Band("strip", 0.0, 100.0),), ())


def test_outlines_are_frozen() -> None:
    """Outlines cannot be changed once they are in a problem."""
    problem = Problem.from_outlines(150, [SQUARE], [1], [[0.0]])
    with pytest.raises(ValueError, match="read-only"):
        problem.items[0].variants[0].outline[0, 0] = 5.0


def test_several_bands() -> None:
    """Cloth over all bands and layers: 2 x 365 + 2 x 365 of a laid width of 750, by hand."""
    strip = Problem.from_outlines(150, [SQUARE], [1], [[0.0]])
    bands = (Band("first", 0.0, 365.0, 2, True), Band("second", 385.0, 750.0, 2, True))
    problem = Problem(bands, strip.items)
    assert (problem.width, problem.cloth_width) == (750, 1460)
