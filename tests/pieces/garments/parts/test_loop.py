"""The hanger loop: folded in four, 2 1/2 in long."""

from __future__ import annotations

import pytest

from pieces.garments.parts.loop import FOLDED, LOOP, hanger_loop


def test_size() -> None:
    """Opened out it is four times as wide as folded, and its ends have a seam each."""
    loop = hanger_loop(12.0)
    assert (loop.length, loop.width) == (pytest.approx(LOOP + 24), pytest.approx(4 * FOLDED))
    assert (loop.cut, loop.on_fold) == (1, True)
