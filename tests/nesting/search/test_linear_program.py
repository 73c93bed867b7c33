"""The linear program, on cases worked out by hand."""

from __future__ import annotations

import numpy as np
import pytest

from nesting.search.linear_program import LinearProgram

ALONG = np.array([(1.0, 0.0)])


def two(limit: float = 1000.0) -> LinearProgram:
    """Two outlines of 100 and 60 mm that may lie anywhere from 0 to 500, at y 0."""
    return LinearProgram(np.array([[0.0, 0.0], [500.0, 500.0]]), np.zeros((2, 2)), np.array([100.0, 60.0]), limit)


def test_kept_apart_they_lie_behind_one_another() -> None:
    """The second begins 100 mm behind the first; nothing overlaps."""
    program = two()
    program.keep_apart(np.array([(0, 1)]), ALONG, np.array([100.0]), np.array([False]))
    found = program.solve()
    assert found is not None
    assert found.x == pytest.approx([0.0, 100.0], abs=1e-6)
    assert found.overlap == 0.0


def test_without_room_there_is_no_answer() -> None:
    """160 mm do not go into 150 if they may not overlap."""
    program = two(limit=150.0)
    program.keep_apart(np.array([(0, 1)]), ALONG, np.array([100.0]), np.array([False]))
    assert program.solve() is None


def test_where_they_may_they_overlap_by_what_is_missing() -> None:
    """In 150 mm, 10 mm of overlap are left."""
    program = two(limit=150.0)
    program.keep_apart(np.array([(0, 1)]), ALONG, np.array([100.0]), np.array([True]))
    found = program.solve()
    assert found is not None and found.overlap == pytest.approx(10.0)
