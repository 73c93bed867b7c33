"""How a piece is brought on to the cloth."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from nesting.problem.transform import Transform

TRIANGLE = np.array([(0.0, 0.0), (30.0, 0.0), (0.0, 10.0)])


@pytest.mark.parametrize(
    ("turn", "mirrored", "place"),
    [(0, False, (30, 1)), (90, False, (-1, 30)), (180, False, (-30, -1)), (270, False, (1, -30)), (90, True, (1, 30))],
)
def test_quarter_turns_are_exact(turn: float, mirrored: bool, place: tuple[float, float]) -> None:
    """Turned over first, then turned counter-clockwise: no rounding."""
    assert Transform(turn, mirrored)([(30.0, 1.0)]).tolist() == [list(place)]


def test_growth_is_along_the_cloth_whichever_way_a_piece_lies() -> None:
    """A piece turned by 90° grows along the cloth by the cloth's own factor, not by its own length's."""
    placed = Transform(90.0, growth=(1.1, 1.0))(TRIANGLE)
    assert np.ptp(placed, axis=0) == pytest.approx([11.0, 30.0])


@pytest.mark.parametrize("mirrored", [False, True])
def test_an_outline_is_brought_to_the_corner_counter_clockwise(mirrored: bool) -> None:
    """Turned over too, it keeps its area and begins at (0, 0)."""
    outline = Transform.to_corner(TRIANGLE, 33.0, mirrored).outline(TRIANGLE)
    assert outline.min(axis=0) == pytest.approx([0.0, 0.0], abs=1e-12)
    assert shapely.Polygon(outline).exterior.is_ccw
    assert shapely.Polygon(outline).area == pytest.approx(150.0)


def test_moved_on() -> None:
    """Moves add up; the points that were given stay as they are."""
    transform = Transform(shift=(1.0, 2.0)).moved(10.0, 20.0)
    assert transform(TRIANGLE)[0].tolist() == [11.0, 22.0]
    assert TRIANGLE[0].tolist() == [0.0, 0.0]
