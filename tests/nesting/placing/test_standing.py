"""What stands for pieces: smaller than they are by the tolerance, and larger by half the gap."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely

from nesting.placing.standing import overlapping, standing_for, zone_standing
from nesting.problem.problem import Problem
from nesting.tolerance import ALLOWED

SQUARE = np.array([(0, 0), (100, 0), (100, 100), (0, 100)], dtype=float)


def test_pared_by_half_the_tolerance() -> None:
    """A square of 100 mm stands 100 mm less the tolerance, and its places reach as much further."""
    problem = Problem.from_outlines(300.0, [SQUARE], [1], [[0.0]])
    (one,) = standing_for(problem).values()
    assert one.length == pytest.approx(100 - ALLOWED)
    assert (one.low, one.high) == pytest.approx((-ALLOWED / 2, 200 + ALLOWED * 1.5))


def test_grown_by_half_the_gap_and_no_more() -> None:
    """Grown outlines lie within half the gap of the pared one (shapely), and nearly reach it."""
    problem = replace(Problem.from_outlines(300.0, [SQUARE], [1], [[0.0]]), gap=10.0)
    (one,) = standing_for(problem).values()
    grown, pared = shapely.Polygon(one.grown), shapely.Polygon(one.outline)
    assert max(pared.distance(shapely.Point(corner)) for corner in one.grown) < 5.0 + 1e-9
    assert grown.area > pared.buffer(4.99).area


def test_a_gap_that_would_close_a_hollow_is_left_out() -> None:
    """Of a ring with a slit, grown until the slit closes, the outline is left as it is: the hollow may hold a piece."""
    slit = [(300, 148), (200, 148), (200, 100), (100, 100), (100, 200), (200, 200), (200, 152), (300, 152)]
    ring = np.array([(0, 0), (300, 0), *slit, (300, 300), (0, 300)], dtype=float)
    (one,) = standing_for(replace(Problem.from_outlines(400.0, [ring], [1], [[0.0]]), gap=10.0)).values()
    assert np.array_equal(one.grown, one.outline)


def test_zone_is_pared_in_place() -> None:
    """A zone keeps its place, but for the frame that proofs are in, and a thin one is none."""
    placed = zone_standing(SQUARE + (40, 20))
    assert placed is not None
    one, x, y = placed
    assert (x, y) == pytest.approx((40 + ALLOWED, 20 + ALLOWED / 2))
    assert one.length == pytest.approx(100 - ALLOWED)
    assert zone_standing(np.array([(0, 0), (50, 0), (50, 0.005), (0, 0.005)])) is None


def test_which_overlap() -> None:
    """Of three squares in a row the two that overlap by more than is asked are named."""
    (one,) = standing_for(Problem.from_outlines(300.0, [SQUARE], [1], [[0.0]])).values()
    laid = [(one, 0.0, 0.0), (one, 90.0, 0.0), (one, 189.9, 0.0)]
    assert overlapping(laid, 1.0) == [(0, 1)]
