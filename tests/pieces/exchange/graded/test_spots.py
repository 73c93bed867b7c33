"""Graded points of lines whose sizes are known."""

from __future__ import annotations

import numpy as np
import pytest

from pieces.exchange.graded.spots import STRAY, graded_line


def test_corners() -> None:
    """A square that grows by 10 mm: its four corners and no point more, each moved as it is drawn."""
    square = np.array([(0, 0), (100, 0), (100, 100), (0, 100), (0, 0)], dtype=float)
    found = graded_line([square, 1.1 * square], 0)
    assert [one.point for one in found.spots] == [(0, 0), (100, 0), (100, 100), (0, 100), (0, 0)]
    assert [one.moves[1] for one in found.spots[1:4]] == [pytest.approx(m) for m in ((10, 0), (10, 10), (0, 10))]
    assert all(one.moves[0] == (0, 0) and one.is_corner for one in found.spots)
    assert found.strays < 1e-9


def test_arcs() -> None:
    """Of an arc that grows from a radius of 100 mm to 110, a few points are graded; between them it strays little.

    Between two points so many degrees apart the moves of 10 mm are off by 10 (1 - cos of half of it): 0.1 mm at 16.
    """
    turns = np.linspace(0, np.pi / 2, 91)
    arc = np.column_stack([np.cos(turns), np.sin(turns)])
    found = graded_line([100 * arc, 110 * arc], 0)
    assert 6 <= len(found.spots) <= 10
    assert found.strays <= STRAY
    assert [one.is_corner for one in found.spots] == [True, *[False] * (len(found.spots) - 2), True]


def test_a_corner_of_one_size_alone() -> None:
    """Where only one of the sizes has a corner, points go by their share of the length."""
    bent, straight = (
        np.array([(0, 0), (50, 20), (100, 0)], dtype=float),
        np.array([(0, 0), (50, 0), (100, 0)], dtype=float),
    )
    found = graded_line([straight, bent], 0)
    assert any(one.point == pytest.approx((50, 0)) and one.moves[1] == pytest.approx((0, 20)) for one in found.spots)
