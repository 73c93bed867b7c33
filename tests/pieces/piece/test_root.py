"""Roots of functions whose roots are known."""

from __future__ import annotations

import math

import pytest

from pieces.piece.root import root


def test_known_roots() -> None:
    """The square root of two, and a quarter turn; the nearer end where there is none between."""
    assert root(lambda x: x * x - 2, 0.0, 2.0) == pytest.approx(math.sqrt(2), abs=1e-6)
    assert root(lambda x: -math.cos(x), 0.0, 3.0) == pytest.approx(math.pi / 2, abs=1e-6)
    assert root(lambda x: x + 1, 0.0, 1.0) == 0.0
    assert root(lambda x: x - 2, 0.0, 1.0) == 1.0
