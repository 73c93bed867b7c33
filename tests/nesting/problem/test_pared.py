"""A problem as a proof sees it: smaller pieces on wider cloth."""

from __future__ import annotations

import numpy as np
import pytest

from nesting.problem.pared import pared
from nesting.problem.problem import Problem

SQUARE = np.array([(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)])


def test_pieces_lose_half_the_depth_all_round_and_the_cloth_gains_it() -> None:
    """A square of 100 mm on 150 mm of cloth, with a depth of 2 mm: 98 mm on 152 mm."""
    proof = pared(Problem.from_outlines(150.0, [SQUARE], [1], [[0.0]]), 2.0)
    (variant,) = proof.items[0].variants
    assert (variant.length, variant.height) == pytest.approx((98.0, 98.0))
    assert proof.width == pytest.approx(152.0)
    # From the wider cloth's lower edge, at -1, to 98 below its upper edge, at 151.
    assert (variant.low, variant.high) == pytest.approx((-1.0, 53.0))


def test_what_makes_it_harder_is_left_out() -> None:
    """Faults, and lines of a pattern."""
    from dataclasses import replace

    from nesting.cloth.repeat import Repeat

    problem = Problem.from_outlines(150.0, [SQUARE], [1], [[0.0]])
    proof = pared(replace(problem, faults=(SQUARE,), repeat=Repeat(50.0)))
    assert proof.faults == () and proof.repeat is None
