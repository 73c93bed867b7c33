"""Lines of a pattern, and the places at which a match point lies on one."""

from __future__ import annotations

import pytest

from nesting.cloth.repeat import Repeat

CHECK = Repeat(along=50.0, across=40.0, start=10.0, low=5.0)


def test_first_place_along() -> None:
    """A match point 35 mm into its piece lies on the line at 60 mm once the piece begins at 25 mm."""
    assert CHECK.first_x((35.0, 0.0)) == 25.0
    assert CHECK.first_x((10.0, 0.0)) == 0.0
    assert CHECK.first_x((10.0 + 1e-12, 0.0)) == 0.0  # rounding does not cost a repeat
    assert Repeat(across=40.0).first_x((35.0, 0.0)) == 0.0


def test_places_across() -> None:
    """Lines at 5, 45, 85, …: a match point 15 mm up lies on one at heights 30 and 70 between 0 and 100."""
    assert CHECK.range_y((0.0, 15.0), 0.0, 100.0, 0.0) == (30.0, 70.0)
    assert CHECK.range_y((0.0, 15.0), 31.0, 69.0, 0.0) is None
    assert CHECK.range_y((0.0, 15.0), 30.5, 69.0, 1.0) == (30.0, 70.0)
    assert Repeat(along=50.0).range_y((0.0, 15.0), 31.0, 69.0, 0.0) == (31.0, 69.0)


@pytest.mark.parametrize(("y", "lies"), [(5.0, True), (45.0, True), (-35.0, True), (25.0, False), (45.02, False)])
def test_a_fold_on_a_line(y: float, lies: bool) -> None:
    """To a hundredth of a millimetre."""
    assert CHECK.lies_on(y) is lies


def test_how_far_off() -> None:
    """The larger of both misses, to the nearest line each."""
    assert CHECK.misses((0.0, 0.0), 10.0, 5.0) == 0.0
    assert CHECK.misses((0.0, 0.0), 58.0, 8.0) == pytest.approx(3.0)
    assert CHECK.misses((0.0, 0.0), 40.0, 8.0) == pytest.approx(20.0)
