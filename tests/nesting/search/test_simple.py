"""Simple layouts: shelves, lanes and pairs; the oracles are `check`, and shelves found by trying all of them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from nesting.cloth.band import Band
from nesting.errors import NestingError
from nesting.marker.opinion import check
from nesting.problem.item import Choice, Item, Variant
from nesting.problem.problem import Problem
from nesting.search.boxes import SimpleBox
from nesting.search.candidates import FILLS
from nesting.search.first_fit import first_fit_places
from nesting.search.lanes import Lanes
from nesting.search.shelves import Shelves
from nesting.search.simple import bands_apart, simple_layout
from nesting.search.solver import solve
from nesting.search.stacks import subsets
from nesting.search.stop import MaxIterations
from nesting.shape.nofit import NoFit
from nesting.shape.shapes import Shapes
from tests.make.by_hand import shortest_shelves
from tests.make.random_jobs import random_job
from tests.nesting.search.test_fill import rectangle

if TYPE_CHECKING:
    from collections.abc import Iterator


def simple(problem: Problem) -> float:
    """The length of the problem's simple layout, which passes the check."""
    shapes = Shapes(problem)
    layout = simple_layout(shapes, NoFit(shapes))
    assert layout is not None
    check(layout.to_marker(shapes))
    return layout.length


def test_lanes_where_shelves_are_longer() -> None:
    """By hand: one of 90 by 50, and beside it three of 30 by 50: 90 in lanes, where shelves of two take 150."""
    assert simple(Problem.from_outlines(100.0, [rectangle(90, 50), rectangle(30, 50)], [1, 3], [[0.0]] * 2)) == 90.0


def test_two_that_fit_together_make_a_box() -> None:
    """Two right triangles of 60 by 40, one turned, are one box of 60 by 40: on 40 of cloth four of them take 120."""
    triangle = np.array([[0, 0], [60, 0], [0, 40]], dtype=float)
    problem = Problem.from_outlines(40.0, [triangle], [4], [[0.0, 180.0]])
    assert simple(problem) == pytest.approx(120.0, abs=1e-3)


def test_a_gap_is_kept_between_boxes_and_between_shelves() -> None:
    """By hand: four of 40 by 45, 10 apart, on 100 of cloth: two shelves of two, 40 + 10 + 40."""
    assert simple(Problem.from_outlines(100.0, [rectangle(40, 45)], [4], [[0.0]], gap=10.0)) == pytest.approx(90.0)


def test_one_half_a_shelf_lies_on_each_fold() -> None:
    """By hand: both edges are folds, four halves of 50 by 30 and one loose piece of 50 by 40: two shelves of 50."""
    band = Band("folded", 0.0, 100.0, 2, True, "fold", "fold")
    half = Item("half", 4, tuple(Variant(rectangle(50, 30), 0.0, False, 0, y, y, on_fold=True) for y in (0.0, 70.0)))
    loose = Item("loose", 1, (Variant(rectangle(50, 40), 0.0, False, 0, 0.0, 60.0),))
    assert simple(Problem((band,), (half, loose))) == pytest.approx(100.0)


def test_what_stands_in_is_tried_as_well() -> None:
    """By hand: a pair is too long in the folded band beside another; one by one in the single band it takes 50."""
    bands = Band("folded", 0.0, 50.0, 2, True), Band("single", 60.0, 160.0)
    pair = Item("pair", 1, (Variant(rectangle(50, 50), 0.0, False, 0, 0.0, 0.0),), 2)
    hands = [Item(name, 0, (Variant(rectangle(50, 50), 0.0, False, 1, 60.0, 110.0),)) for name in ("left", "right")]
    other = Item("other", 1, (Variant(rectangle(50, 50), 0.0, False, 0, 0.0, 0.0),), 2)
    problem = Problem(bands, (pair, other, *hands), choices=(Choice(0, (2, 3)),))
    assert simple(problem) == pytest.approx(50.0)


def test_many_outlines_go_where_they_first_fit() -> None:
    """By hand: thirty of 20 by 30 turned as they like, on 100 of cloth: shelves of three or five; at most 200 long."""
    assert simple(Problem.from_outlines(100.0, [rectangle(20, 30)], [30], [[0.0, 90.0]])) <= 200.0 + 1e-6


def test_sets_of_three_and_their_subsets() -> None:
    """Of the set of three things, those subsets that hold the first: four, by hand; of the empty set none."""
    assert [sorted(some.tolist()) for some in (subsets(3)[0], subsets(3)[6], subsets(3)[7])] == [
        [],
        [2, 6],
        [1, 3, 5, 7],
    ]


def test_the_shortest_shelves_and_lanes_of_each_set() -> None:
    """By hand: 30 by 60, 20 by 60 and 40 by 40 in a band of 100: the last beside the first, 40, and the other 20."""
    boxes = [SimpleBox((i,), (i,), ((0.0, 0.0),), *size, 0, 0) for i, size in enumerate(((30, 60), (20, 60), (40, 40)))]
    band = Band("open", 0.0, 100.0)
    shelves = Shelves([0, 1, 2], boxes, band, 0.0, 1e-6)
    assert shelves.least.tolist() == [0, 30, 20, 50, 40, 40, 40, 60]
    assert {place.x for place in shelves.places(7)} == {0.0, 40.0} and len(list(shelves.places(7))) == 3
    lanes = Lanes([0, 1, 2], boxes, band, 0.0, 1e-6)
    assert np.isfinite(lanes.limit(50.0)[7]) and not np.isfinite(lanes.limit(49.0)[7])
    lanes.limit(50.0)
    assert sorted((place.x, place.y) for place in lanes.places(7) if place.box.items != (2,))[1][0] in (20.0, 30.0)


def test_first_fit_begins_a_shelf_only_where_none_has_room() -> None:
    """By hand: five of 20 by 30 on 100 of cloth: three on the first shelf, two on the second."""
    box = SimpleBox((0,), (0,), ((0.0, 0.0),), 20.0, 30.0, 0, 0)
    for places in first_fit_places([0] * 5, [box], [Band("open", 0.0, 100.0)], 0.0, 1e-6):
        assert [place.x for place in places] == [0.0] * 3 + [20.0] * 2


def test_outlines_of_two_bands_keep_the_gap() -> None:
    """Cloth folded over in part: what lies in the fold is as far from the single layer beside it as pieces must be."""
    folded, single = Band("folded", 0.0, 33.0, high_edge="free"), Band("single", 33.0, 200.0, low_edge="free")
    near, far = bands_apart([folded, single], 6.0)
    assert (near.low, near.high, far.low, far.high) == (0.0, 30.0, 36.0, 200.0)
    assert bands_apart([folded, replace(single, low=45.0)], 6.0)[0] == folded  # they are apart anyhow
    (_, problem), *_ = few_outlines(iter([1229]))  # where the piece in the fold nearly filled it
    shapes = Shapes(problem)
    layout = simple_layout(shapes, NoFit(shapes))
    assert layout is not None
    check(layout.to_marker(shapes))


def few_outlines(numbers: Iterator[int]) -> Iterator[tuple[int, Problem]]:
    """Random problems of few outlines."""
    for number in numbers:
        try:
            yield number, random_job(number).problem()[0]
        except NestingError:
            continue


@pytest.mark.generated(40)
def test_no_result_is_longer_than_shelves_by_hand(numbers: Iterator[int]) -> None:
    """Of random jobs with few outlines: what is found first is no longer than the shortest shelves of boxes."""
    for number, problem in few_outlines(numbers):
        by_hand = shortest_shelves(problem)
        if by_hand is not None:
            found = solve(problem, MaxIterations(FILLS)).marker.length
            assert found <= by_hand + 1e-3, f"number {number}: {found} mm, shelves by hand {by_hand} mm"


@pytest.mark.generated(20)
def test_every_simple_layout_can_be_cut(numbers: Iterator[int]) -> None:
    """Of random jobs, of stretches each: a simple layout passes the check wherever there is one."""
    for _, problem in few_outlines(numbers):
        for part in problem.stretches or (problem,):
            shapes = Shapes(part)
            if layout := simple_layout(shapes, NoFit(shapes)):
                check(layout.to_marker(shapes))
