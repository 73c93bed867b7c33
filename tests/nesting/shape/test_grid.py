"""The grid of whole steps."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.shape.grid import BITS, Grid


@given(width=st.floats(1e-3, 1e6))
def test_width_takes_the_stated_number_of_steps(width: float) -> None:
    """The cloth's width takes from 2**33 to 2**34 steps, whatever its unit."""
    assert 2 ** (BITS - 1) <= Grid(width).to_steps(width) <= 2**BITS


@given(width=st.floats(1, 1e5), share=st.floats(-10, 10))
def test_there_and_back_moves_by_half_a_step_at_most(width: float, share: float) -> None:
    """Rounding to steps and back moves a length by at most half a step."""
    grid = Grid(width)
    assert abs(grid.to_mm(grid.to_steps(share * width)) - share * width) <= 0.5 / grid.steps_per_mm * (1 + 1e-6)


def test_whole_millimetres_stay_exact() -> None:
    """A step is a power of two, so whole numbers come back as they were."""
    grid = Grid(1500.0)
    lengths = np.arange(-3000, 3000)
    assert (grid.to_mm(grid.to_steps(lengths)) == lengths).all()


@pytest.mark.parametrize("width", [0.0, -1.0, float("nan"), float("inf")])
def test_width_must_be_above_zero(width: float) -> None:
    """A grid for no cloth is refused, and the error says what it got."""
    with pytest.raises(ValueError, match=str(width)):
        Grid(width)
