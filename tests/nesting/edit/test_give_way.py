"""Pieces laid fast, and others that give way: worked out by hand, and checked by the second opinion (shapely)."""

from __future__ import annotations

import numpy as np
import pytest

from nesting.cloth.band import Band
from nesting.edit.give_way import Parting
from nesting.marker.marker import Marker, Placement
from nesting.marker.opinion import check
from nesting.problem.item import Item, Variant
from nesting.problem.problem import Problem


def row(number: int) -> Marker:
    """Boxes of 50 x 20 in a row, on a band as wide as they are."""
    outline = np.array([(0, 0), (50, 0), (50, 20), (0, 20)], dtype=float)
    item = Item("box", number, (Variant(outline, 0.0, False, 0, 0.0, 0.0),))
    places = tuple(Placement(0, i, 0, 50.0 * i, 0.0) for i in reversed(range(number)))
    return Marker(Problem((Band("cloth", 0.0, 20.0),), (item,)), places, 50.0 * number)


def test_others_give_way() -> None:
    """The second of four is laid at 53: those after it go on by 3, the one before may stay; the order is kept."""
    parting = Parting(row(4))
    assert parting.loose == [3, 2, 1, 0]
    assert parting.fix({2: (53.0, 0.0)})
    assert parting.loose == [3, 1, 0]
    marker = parting.to_marker()
    check(marker)
    assert [place.copy for place in marker.placements] == [3, 2, 1, 0]
    assert marker.placements[2].x == 53.0
    assert marker.length == pytest.approx(203.0, abs=1e-3)


def test_no_way_to_give() -> None:
    """With the first at 0 and the third at 70 there is no room for the second: all stays as it was."""
    parting = Parting(row(3))
    parting.keep(2)
    before = [parting.spot(i) for i in range(3)]
    assert not parting.fix({0: (70.0, 0.0)})
    assert [parting.spot(i) for i in range(3)] == before
    assert parting.loose == [1, 0]


def test_long_rows_and_faults() -> None:
    """Thirty-nine laid one by one 53 apart before a fault at 2500, one behind it: clear of it and of one another."""
    outline = np.array([(0, 0), (50, 0), (50, 20), (0, 20)], dtype=float)
    item = Item("box", 40, (Variant(outline, 0.0, False, 0, 0.0, 0.0),))
    problem = Problem((Band("cloth", 0.0, 20.0),), (item,), faults=(outline * (0.2, 1) + (2500, 0),))
    xs = [50.0 * i for i in range(39)] + [2510.0]
    parting = Parting(Marker(problem, tuple(Placement(0, i, 0, x, 0.0) for i, x in enumerate(xs)), 2560.0))
    for i in range(39):
        assert parting.fix({i: (53.0 * i, 0.0)})
    check(parting.to_marker())
    assert parting.loose == [39] and parting.spot(39)[0] >= 2510 - 1e-6
