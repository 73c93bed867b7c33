"""The plainest marker there is can always be cut."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from nesting.cloth.repeat import Repeat
from nesting.marker.opinion import check
from nesting.problem.problem import Problem
from nesting.search.row import lay_in_a_row
from tests.make.jigsaw import jigsaw


def test_one_behind_another_with_the_buffer_between() -> None:
    """Its length is that of all pieces and the buffers between them; the check passes it."""
    problem = replace(jigsaw(100.0, 140.0, 4, seed=1), gap=3.0)
    marker = lay_in_a_row(problem)
    check(marker)
    assert marker.length == pytest.approx(sum(item.variants[0].length for item in problem.items) + 4 * 3.0)


def test_behind_the_last_fault() -> None:
    """Nothing lies beside a fault, although there would be room."""
    square = np.array([(0.0, 0.0), (50.0, 0.0), (50.0, 50.0), (0.0, 50.0)])
    problem = Problem.from_outlines(200.0, [square], [1], [[0.0]], gap=2.0)
    marker = lay_in_a_row(replace(problem, faults=(square + (30.0, 150.0),)))
    check(marker)
    assert marker.placements[0].x == 82.0


def test_on_the_next_line_of_the_pattern() -> None:
    """Squares of 50 mm with a match point at their start lie a repeat of 70 mm apart."""
    square = np.array([(0.0, 0.0), (50.0, 0.0), (50.0, 50.0), (0.0, 50.0)])
    problem = Problem.from_outlines(60.0, [square], [3], [[0.0]])
    (item,) = problem.items
    bound = replace(item, variants=(replace(item.variants[0], match=(0.0, 25.0)),))
    marker = lay_in_a_row(replace(problem, items=(bound,), repeat=Repeat(along=70.0, start=20.0)))
    assert [place.x for place in marker.placements] == [20.0, 90.0, 160.0]
