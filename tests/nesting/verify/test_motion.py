"""Turns that a marker tells of, as motions, and read back."""

from __future__ import annotations

import numpy as np
import pytest

from nesting.verify import Laid
from nesting.verify.motion import read, said

SQUARE = np.array([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)])


@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("turn", [0.0, 90.0, 180.0, 270.0, 33.0, 359.5])
def test_what_is_said_is_read_back(turn: float, mirrored: bool) -> None:
    """Turned over first, then turned; quarter turns have no rounding at all."""
    motion = said(Laid("back", SQUARE, turn=turn, mirrored=mirrored, on_fold=False))
    assert read(motion) == (mirrored, turn)
    assert np.linalg.det(motion) == pytest.approx(-1.0 if mirrored else 1.0)
    assert turn % 90 or set(np.abs(motion).ravel().tolist()) == {0.0, 1.0}


def test_a_turn_beyond_a_round_is_the_same() -> None:
    """-90° is 270°."""
    assert read(said(Laid("back", SQUARE, turn=-90.0, mirrored=False, on_fold=False))) == (False, 270.0)
