"""All orders of few outlines; the oracle is `check`, and orders tried one by one by `fill`."""

from __future__ import annotations

from itertools import permutations
from typing import TYPE_CHECKING

import numpy as np
import pytest

from nesting.errors import NestingError
from nesting.marker.opinion import check
from nesting.problem.problem import Problem
from nesting.search.few_orders import FEW_TRIED, MOST_PLACES, FewOrders
from nesting.search.fill import fill
from nesting.shape.nofit import NoFit
from nesting.shape.shapes import Shapes
from tests.make.random_jobs import random_job
from tests.nesting.search.test_fill import rectangle

if TYPE_CHECKING:
    from collections.abc import Iterator


def test_a_jigsaw_of_four_is_put_together() -> None:
    """By hand: 60 by 40, 40 by 60, 60 by 40 and 40 by 60 round a hole of 20 by 20 fill 100 by 100."""
    problem = Problem.from_outlines(100.0, [rectangle(60, 40)], [4], [[0.0, 90.0]])
    shapes = Shapes(problem)
    layout = FewOrders(shapes, NoFit(shapes), 1e6).shortest()
    assert layout is not None and layout.length == pytest.approx(100.0)
    check(layout.to_marker(shapes))


def test_nothing_is_found_where_nothing_is_shorter() -> None:
    """Two squares on cloth as wide as one take twice their length, whatever the order."""
    shapes = Shapes(Problem.from_outlines(10.0, [rectangle(10, 10)], [2], [[0.0]]))
    assert FewOrders(shapes, NoFit(shapes), 20.0).shortest() is None


@pytest.mark.generated(40)
def test_no_order_is_better_than_the_best_of_all(numbers: Iterator[int]) -> None:
    """Of random jobs of few outlines: a marker that can be cut, no longer than any order that `fill` lays."""
    for number in numbers:
        try:
            problem, _ = random_job(number).problem()
        except NestingError:
            continue
        if problem.num_placements > min(5, FEW_TRIED) or problem.stretches:
            continue
        shapes = Shapes(problem)
        nofit = NoFit(shapes)
        walk = FewOrders(shapes, nofit, 1e7)
        layout = walk.shortest()
        assert layout is not None
        check(layout.to_marker(shapes))
        filled = [fill(shapes, nofit, np.array(order)) for order in permutations(range(len(shapes.items)))]
        if walk.places < MOST_PLACES:
            assert layout.length <= min(one.length for one in filled) + 1e-6, f"number {number}"
