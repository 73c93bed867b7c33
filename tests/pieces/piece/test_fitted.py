"""Cubics fitted to lines of many points."""

from __future__ import annotations

import numpy as np

from pieces.piece.curve import Cubic, Line
from pieces.piece.fitted import FIT, fit


def test_a_corner_between_two_arcs_stays() -> None:
    """Two quarter circles that meet at a corner: every point is within 0.01 mm, and the corner is a joint."""
    turns = np.linspace(0, np.pi / 2, 200)
    first = 100 * np.column_stack([np.sin(turns), 1 - np.cos(turns)])
    points = np.vstack([first, (first[::-1] * (-1, 1) + (200, 0))[1:]])
    curves = fit(points)
    drawn = np.vstack([c.at(np.linspace(0, 1, 4001)) for c in curves if isinstance(c, Cubic)])
    assert all(isinstance(curve, Cubic) for curve in curves)
    assert len(curves) <= 8
    assert np.hypot(*(points[:, np.newaxis] - drawn).transpose(2, 0, 1)).min(axis=1).max() < FIT + 0.005
    assert any(np.hypot(*np.subtract(curve.end, (100, 100))) < 1e-9 for curve in curves)


def test_long_chords_are_lines() -> None:
    """Corners of a polygon stay, and chords that go straight on are one line."""
    found = fit(np.array([(0.0, 0.0), (50.0, 0.0), (100.0, 0.0), (100.0, 80.0), (95.0, 130.0)]))
    assert found == [Line((0, 0), (100, 0)), Line((100, 0), (100, 80)), Line((100, 80), (95, 130))]
