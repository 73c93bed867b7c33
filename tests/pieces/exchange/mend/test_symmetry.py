"""Which outlines are their own mirror image."""

from __future__ import annotations

import numpy as np
import pytest

from pieces.exchange.mend.symmetry import is_symmetric


@pytest.mark.parametrize(
    ("corners", "expected"),
    [
        ([(0, 0), (100, 0), (100, 60), (0, 60)], True),
        ([(0, 0), (80, 0), (40, 90)], True),  # two sides alike
        ([(0, 0), (100, 0), (130, 60), (30, 60)], False),  # leaning: turned over it leans the other way
        ([(0, 0), (100, 0), (100, 20), (30, 20), (30, 60), (0, 60)], False),
    ],
)
@pytest.mark.parametrize("turn", [0.0, 0.7])
def test_by_shape_however_it_lies(corners: list[tuple[float, float]], expected: bool, turn: float) -> None:
    """Rectangle and kite are; a leaning box and an L of unlike arms are not; turning them changes nothing."""
    spin = np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
    assert is_symmetric(np.array(corners, dtype=float) @ spin) is expected
