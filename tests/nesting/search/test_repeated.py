"""Many equal pieces laid as a section, again and again."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.marker.opinion import check
from nesting.problem.problem import Problem
from nesting.search.fill import fill, orders
from nesting.search.repeated import period, repeat_section, section_of
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from nesting.shape.nofit import NoFit
from nesting.shape.shapes import Shapes
from tests.make.polygons import star

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nesting.shape.layout import Layout

SLANTED = [(0, 0), (20, 0), (30, 30), (10, 30)]


def filled(problem: Problem) -> tuple[Layout, NoFit]:
    """A first layout of a problem, and the no-fit polygons it was made with."""
    shapes = Shapes(problem)
    nofit = NoFit(shapes)
    return fill(shapes, nofit, next(iter(orders(shapes, 0)))), nofit


def test_slanted_pieces_interlock() -> None:
    """Parallelograms 20 along and 30 high, leaning by 10: each takes 30 of cloth, and follows the last by 20."""
    layout, nofit = filled(Problem.from_outlines(30.0, [SLANTED], [1], [[0.0]]))
    assert layout.length == pytest.approx(30, abs=1e-3)
    assert period(layout, nofit) == pytest.approx(20, abs=1e-3)


@given(st.lists(star(), min_size=1, max_size=3), st.integers(2, 4))
def test_copies_never_overlap(outlines: list[NDArray[Any]], times: int) -> None:
    """Whatever the pieces, a section laid again and again passes the check, and is no longer than copies end to end."""
    height = max(np.ptp(outline[:, 1]) for outline in outlines)
    turns = [[0.0, 180.0]] * len(outlines)
    section, nofit = filled(Problem.from_outlines(height * 1.5, outlines, [2] * len(outlines), turns))
    whole = Shapes(Problem.from_outlines(height * 1.5, outlines, [2 * times] * len(outlines), turns))
    marker = repeat_section(section, times, nofit).to_marker(whole)
    check(marker)
    assert marker.length <= times * section.length * (1 + 1e-4)


def test_which_problems_have_blocks() -> None:
    """420 outlines, seven kinds of 60, make ten sections of 42; few outlines, or odd numbers of them, make none."""
    kinds = [[0.0]] * 7
    found = section_of(Problem.from_outlines(100.0, [SLANTED] * 7, [60] * 7, kinds))
    assert found is not None
    section, times = found
    assert (section.num_placements, times) == (42, 10)
    assert section_of(Problem.from_outlines(100.0, [SLANTED] * 7, [6] * 7, kinds)) is None
    assert section_of(Problem.from_outlines(100.0, [SLANTED] * 7, [60] * 6 + [61], kinds)) is None


def test_solve_uses_blocks() -> None:
    """240 parallelograms, two beside one another: the front door needs 119 x 20 + 30, or little more."""
    problem = Problem.from_outlines(60.0, [SLANTED], [240], [[0.0]])
    result = solve(problem, MaxIterations(40))
    assert 119 * 20 + 30 - 1e-3 <= result.marker.length <= (119 * 20 + 30) * 1.02
