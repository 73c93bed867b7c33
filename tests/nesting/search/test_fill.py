"""First layouts; the oracle is `check`, which rests on shapely alone."""

from __future__ import annotations

from itertools import islice
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from nesting.cloth.band import Band
from nesting.cloth.fabric import Fabric
from nesting.fit.remnant import Zone, around_faults
from nesting.marker.opinion import check
from nesting.problem.item import Item, Variant
from nesting.problem.lay import lay_pieces
from nesting.problem.problem import Problem
from nesting.search.fill import crossings, fill, orders
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from nesting.shape.nofit import NoFit
from nesting.shape.shapes import Shapes
from pieces.length import mm
from tests.make.cloth import patch
from tests.make.jigsaw import jigsaw

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nesting.marker.marker import Marker


def laid(problem: Problem, order: None = None) -> Marker:
    """The problem's first fill as a checked marker."""
    shapes = Shapes(problem)
    marker = fill(shapes, NoFit(shapes), next(orders(shapes, 0)) if order is None else order).to_marker(shapes)
    check(marker)
    return marker


def rectangle(length: int, height: int) -> NDArray[Any]:
    """Length along the cloth by height across."""
    return np.array([[0, 0], [length, 0], [length, height], [0, height]], dtype=float)


def test_rectangles_that_fit_exactly_leave_nothing_over() -> None:
    """Twelve 25 by 40 rectangles on 100 of cloth: three columns of four, 120 long, by hand."""
    assert laid(Problem.from_outlines(100.0, [rectangle(40, 25)], [12], [[0.0, 180.0]])).length == pytest.approx(120)


def test_a_piece_as_high_as_the_cloth() -> None:
    """A piece that spans the cloth has one line to lie on; two of 30 take 60."""
    assert laid(Problem.from_outlines(100.0, [rectangle(30, 100)], [2], [[0.0]])).length == pytest.approx(60)


def test_a_gap_wider_than_the_pieces() -> None:
    """Four 40 by 30 rectangles, 200 apart on 100 of cloth, lie one behind another: 4 x 40 + 3 x 200."""
    marker = laid(Problem.from_outlines(100.0, [rectangle(40, 30)], [4], [[0.0]], gap=200.0))
    assert marker.length == pytest.approx(760.0, rel=1e-4)


def test_a_gap_lies_between_pieces_but_not_at_the_edges() -> None:
    """Three 40 by 30 rectangles with gaps of 5 on 100 of cloth: side by side across, 40 long."""
    marker = laid(Problem.from_outlines(100.0, [rectangle(40, 30)], [3], [[0.0]], gap=5.0))
    assert marker.length == pytest.approx(40, abs=1e-6)


def test_halves_on_the_fold_lie_behind_one_another() -> None:
    """Two halves pinned to a fold take the sum of their lengths, and the loose piece goes above them."""
    band = Band("folded", 0.0, 100.0, 2, True, "fold", "selvedge")
    half = Variant(rectangle(50, 40), 0.0, False, 0, 0.0, 0.0, on_fold=True)
    loose = Variant(rectangle(60, 60), 0.0, False, 0, 0.0, 40.0)
    marker = laid(Problem((band,), (Item("half", 2, (half,)), Item("loose", 1, (loose,)))))
    assert marker.length == pytest.approx(100)
    assert [p.y for p in marker.placements[:2]] == [0.0, 0.0]


def test_two_bands_share_one_length() -> None:
    """A piece may choose its band: two of 30 by 50, one a band, take 30."""
    bands = Band("folded", 0.0, 50.0), Band("single", 60.0, 110.0)
    ways = tuple(Variant(rectangle(30, 50), 0.0, False, b, band.low, band.low) for b, band in enumerate(bands))
    assert laid(Problem(bands, (Item("piece", 2, ways),))).length == pytest.approx(30)


def test_the_last_hole_is_found() -> None:
    """A small square laid last goes into the corner that larger ones left open at the start."""
    marker = laid(Problem.from_outlines(10.0, [rectangle(8, 7), rectangle(3, 3)], [2, 1], [[0.0], [0.0]]))
    assert marker.placements[2].x == 0.0 and marker.length == pytest.approx(16)


def test_every_order_gives_a_sound_marker() -> None:
    """Twelve orders of a jigsaw, among them random ones: each holds all pieces and passes the check."""
    problem = jigsaw(100.0, 140.0, 14, seed=3)
    shapes = Shapes(problem)
    nofit = NoFit(shapes)
    seen = list(islice(orders(shapes, 1), 12))
    assert all(sorted(order) == list(range(15)) for order in seen)
    for order in seen:
        marker = fill(shapes, nofit, order).to_marker(shapes)
        check(marker)
        assert marker.length >= 140.0 * (1 - 1e-9)


def test_crossings_of_a_line_with_a_square_with_a_hole() -> None:
    """A line through a 10 mm square with a 4 mm hole crosses cloth twice, by hand."""
    outer = np.array([[0, 0], [10, 0], [10, 10], [0, 10]])
    hole = np.array([[3, 3], [3, 7], [7, 7], [7, 3]])
    assert crossings([outer, hole], 100, 0, 5) == [(100.0, 103.0), (107.0, 110.0)]
    assert crossings([outer, hole], 0, 0, 11) == []


def test_pieces_go_behind_a_fault_that_leaves_no_room_before_it() -> None:
    """A fault over the whole width from 150 to 5000 mm: a piece 200 mm long begins at its end."""
    cloth = Fabric("flawed", mm(300.0))
    problem = around_faults(lay_pieces([patch()], cloth, "open"), cloth, [Zone(150.0, 5000.0, 0.0, 300.0)], "open")
    assert solve(problem, MaxIterations(1)).marker.length == pytest.approx(5200.0)
