"""Halves on a mirror line: where the fold is found, and the whole they make."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from pieces.errors import FormatError
from pieces.exchange.mend.halves import fold_along, fold_on_side, opened_out

HALF = np.array([(0.0, 0.0), (100.0, 0.0), (100.0, 40.0), (60.0, 60.0), (0.0, 40.0)])
"""Its lower edge, 100 mm along the grain, may lie on a fold."""


def test_a_mirror_line_on_an_edge_is_a_fold() -> None:
    """The fold is the edge under the line, even where the line is longer; a line through the middle is none."""
    fold = fold_along(HALF, np.array([(-20.0, 0.2), (130.0, 0.2)]))
    assert fold is not None and fold.is_along_grain
    assert fold.line.tolist() == [[0.0, 0.0], [100.0, 0.0]]
    assert fold_along(HALF, np.array([(0.0, 20.0), (100.0, 20.0)])) is None


def test_a_short_line_is_no_fold() -> None:
    """A line under 20 mm says nothing."""
    assert fold_along(HALF, np.array([(0.0, 0.0), (19.0, 0.0)])) is None


def test_the_side_is_named_where_it_has_no_straight_edge() -> None:
    """The left side is the lower edge; on the right, where only a corner lies, the error says what to write."""
    assert fold_on_side(HALF, "left", "back").count == 2
    with pytest.raises(FormatError, match=r"'back' has no straight edge .* on its right side"):
        fold_on_side(HALF, "right", "back")


def test_opened_out_is_twice_the_half() -> None:
    """Half and mirror image: twice the area (shapely), alike above and below the fold, counter-clockwise."""
    whole = shapely.Polygon(opened_out(HALF, fold_on_side(HALF, "left", "back")))
    assert whole.is_valid and whole.exterior.is_ccw
    assert whole.area == pytest.approx(2 * shapely.Polygon(HALF).area)
    assert whole.bounds == pytest.approx((0.0, -60.0, 100.0, 60.0))


def test_in_front_makes_the_fold_straight() -> None:
    """An edge that wavers by less than half a millimetre is laid on one line, and comes first."""
    waver = HALF + [(0.0, 0.0), (0.0, 0.4), (0.0, 0.0), (0.0, 0.0), (0.0, 0.0)]
    fold = fold_on_side(np.roll(waver, 2, axis=0), "left", "back")
    assert fold.moved == pytest.approx(0.2)
    assert fold.in_front(np.roll(waver, 2, axis=0))[:2].tolist() == [[0.0, 0.2], [100.0, 0.2]]


def test_points_of_a_curve_that_meets_the_fold_stay() -> None:
    """A neck of many chords that leaves the fold squarely keeps each of its points: only the edge itself is on it."""
    turns = np.radians(np.linspace(0, 90, 400))  # its first chords are 0.24 mm long
    neck = np.array([60 * np.sin(turns), 260 - 60 * np.cos(turns)]).T[::-1]
    ring = np.vstack([[(0.0, 0.0), (150.0, 0.0), (150.0, 260.0)], neck])
    fold = fold_along(ring, np.array([(0.0, 0.0), (0.0, 200.0)]))
    assert fold is not None
    assert sorted(fold.line[:, 1].tolist()) == pytest.approx([0.0, 200.0])
    assert fold.count == 2
