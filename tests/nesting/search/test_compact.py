"""Linear programs; checked by `check`, and by lengths worked by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from pytest import CaptureFixture

from nesting.marker.opinion import check
from nesting.problem.problem import Problem
from nesting.search.compact import Compaction
from nesting.shape.layout import Layout
from nesting.shape.shapes import Shapes

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nesting.marker.marker import Marker

SQUARE = np.array([[0, 0], [10, 0], [10, 10], [0, 10]], dtype=float)
TRIANGLE = np.array([[0, 0], [10, 0], [0, 10]], dtype=float)
TURNED = np.array([[10, 0], [10, 10], [0, 10]], dtype=float)


def settled(problem: Problem, x: list[int], y: list[int] | NDArray[Any], limit: float) -> tuple[bool, Marker]:
    """Whether a layout could be settled, and its marker; the marker is checked if so."""
    shapes = Shapes(problem)
    numbers = np.array([shapes.of_item[item][0] for item in shapes.items])
    layout = Layout(numbers, np.array(x, dtype=float), np.array(y, dtype=float), limit)
    steps = Compaction(shapes).settle(layout, limit)
    done = None
    while done is None:
        try:
            next(steps)
        except StopIteration as end:
            done = end.value
    marker = layout.to_marker(shapes)
    if done:
        check(marker)
    return done, marker


def test_two_right_triangles_close_to_a_square() -> None:
    """Two right triangles with a strip between them slide together into the 10 by 10 square, by hand."""
    problem = Problem.from_outlines(10.0, [TRIANGLE, TURNED], [1, 1], [[0.0], [0.0]])
    done, marker = settled(problem, [0, 3], [0, 0], 13.0)
    assert done and marker.length == pytest.approx(10.0, abs=1e-5)


def test_overlapping_squares_part() -> None:
    """Two squares that overlap by half lie side by side afterwards, 20 long on cloth as wide as one."""
    problem = Problem.from_outlines(10.0, [SQUARE], [2], [[0.0]])
    done, marker = settled(problem, [0, 5], [0, 0], 30.0)
    assert done and marker.length == pytest.approx(20.0, abs=1e-5)


def test_what_cannot_part_is_said_so() -> None:
    """Two 10 mm squares do not fit on 10 by 19 mm."""
    problem = Problem.from_outlines(10.0, [SQUARE], [2], [[0.0]])
    assert not settled(problem, [0, 5], [0, 0], 19.0)[0]


def test_an_exact_stack_stays_feasible() -> None:
    """Ten squares that fill the width exactly leave no room for a margin, and still settle at 10."""
    problem = Problem.from_outlines(100.0, [SQUARE], [10], [[0.0]])
    done, marker = settled(problem, [0] * 10, np.arange(10) * 10.0, 12.0)
    assert done and marker.length == pytest.approx(10.0)


def test_a_gap_is_kept() -> None:
    """Two squares with a gap of 2 on cloth as wide as one end 22 long."""
    problem = Problem.from_outlines(10.0, [SQUARE], [2], [[0.0]], gap=2.0)
    done, marker = settled(problem, [0, 15], [0, 0], 30.0)
    assert done and marker.length == pytest.approx(22.0, abs=1e-5)


def test_pieces_outside_come_back_into_the_strip() -> None:
    """A square a little past the strip's end and the cloth's edge is put inside."""
    problem = Problem.from_outlines(12.0, [SQUARE], [1], [[0.0]])
    done, marker = settled(problem, [7], [3], 15.0)
    assert done and marker.placements[0].y <= 2.0 and marker.length <= 15.0


def test_the_solver_keeps_quiet(capfd: CaptureFixture[str]) -> None:
    """Nothing reaches standard output, where `--json` writes."""
    problem = Problem.from_outlines(10.0, [SQUARE], [2], [[0.0]])
    settled(problem, [0, 5], [0, 0], 30.0)
    assert capfd.readouterr().out == ""
