"""Lines of points."""

from __future__ import annotations

import numpy as np
import pytest

from pieces.photo.lines import angle, chord, crossing, even, joint, off_line, split, straight


def test_split_at_its_corner() -> None:
    """An L has two sides that meet in its corner; a circle of 60 mm has none."""
    corner = np.array([(0.0, 0.0), (50.0, 0.0), (50.0, 40.0)])
    first, second = split(corner)
    assert np.hypot(*(first[-1] - (50, 0))) < 1.5
    assert angle(straight(first), straight(second)) == pytest.approx(90, abs=2)
    turns = np.linspace(0, np.pi, 100)
    assert len(split(30 * np.column_stack([np.cos(turns), np.sin(turns)]))) == 1


def test_where_they_meet() -> None:
    """Two lines that would meet in (50, 0) are joined there; of two that run on there is nothing between."""
    one, other = np.array([(0.0, 0.0), (40.0, 0.0)]), np.array([(50.0, 8.0), (50.0, 60.0)])
    met = joint(one, other)
    assert met is not None and np.allclose(met, [(50, 0)], atol=1e-6)
    there = crossing(one, other)
    assert there is not None and np.allclose(there, (50, 0))
    on = joint(one, np.array([(48.0, 0.1), (90.0, 0.2)]))
    assert on is not None and len(on) == 0
    assert joint(one, np.array([(140.0, 0.0), (190.0, 0.0)])) is None


def test_measures() -> None:
    """Points a millimetre apart; a chord; how far off a line."""
    line = even(np.array([(0.0, 0.0), (30.0, 40.0)]), 1.0)
    assert len(line) == 51 and chord(line) == pytest.approx(50)
    assert off_line(np.array([(0.0, 5.0)]), np.array([(0.0, 0.0), (10.0, 0.0)])).tolist() == [5.0]
