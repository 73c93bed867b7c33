"""From places that nearly hold to a layout that does."""

from __future__ import annotations

import numpy as np
import pytest

from nesting.marker.opinion import check
from nesting.placing.model import StandingSpot
from nesting.problem.problem import Problem
from nesting.search.settled import settled
from nesting.shape.shapes import Shapes

SQUARE = np.array([(0, 0), (100, 0), (100, 100), (0, 100)], dtype=float)


def shapes(number: int = 2) -> Shapes:
    """So many squares of 100 mm on a strip of 120."""
    return Shapes(Problem.from_outlines(120.0, [SQUARE], [number], [[0.0]]))


def test_squares_that_overlap_are_parted() -> None:
    """Two squares that share 3 mm come to lie side by side."""
    laid = shapes()
    layout = settled(laid, [StandingSpot(0, 0, 0.0, 0.0), StandingSpot(0, 0, 97.0, 10.0)])
    assert layout is not None
    marker = layout.to_marker(laid)
    check(marker)
    assert marker.length == pytest.approx(200.0, abs=1e-3)


def test_too_long_is_no_use() -> None:
    """Where the best known is as short, nothing comes of it; nor of no places."""
    laid = shapes()
    assert settled(laid, [StandingSpot(0, 0, 0.0, 0.0), StandingSpot(0, 0, 97.0, 10.0)], best=199.0) is None
    assert settled(laid, []) is None
