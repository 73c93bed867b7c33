"""Millimetres in whole steps."""

from __future__ import annotations

import pytest

from nesting.steps import ceil_steps, common_step, floor_steps, repeatable_solver

INCH = 25.4


def test_the_largest_common_step() -> None:
    """Of inches in eighths an eighth; of whole centimetres what they share."""
    assert common_step([INCH, 2.125 * INCH, 3.5 * INCH]) == pytest.approx(INCH / 8)
    assert common_step([60.0, 90.0, 150.0]) == pytest.approx(30.0)


def test_what_has_no_step_takes_the_least() -> None:
    """A third of a millimetre lies on no grid."""
    assert common_step([100.0, 100 / 3], least=0.01) == 0.01
    assert common_step([0.1, 0.3], least=0.5) == 0.5


def test_rounding_does_not_cost_a_step() -> None:
    """A hair short counts as whole, a hair over does not count."""
    assert [floor_steps(size, 0.1) for size in (0.3, 0.29999999999, 0.35)] == [3, 3, 3]
    assert [ceil_steps(size, 0.1) for size in (0.3, 0.30000000001, 0.35)] == [3, 3, 4]


def test_the_solver_counts_work_on_one_core() -> None:
    """So that it repeats."""
    parameters = repeatable_solver(2.5, seed=7).parameters
    assert (parameters.num_workers, parameters.random_seed, parameters.max_deterministic_time) == (1, 7, 2.5)
