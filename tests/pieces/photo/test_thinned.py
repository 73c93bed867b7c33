"""Marks thinned and followed."""

from __future__ import annotations

import numpy as np

from pieces.photo.thinned import paths, thinned


def test_a_cross_has_four_arms() -> None:
    """Two bars of five pixels become four paths that meet in the middle."""
    mask = np.zeros((60, 80), np.uint8)
    mask[28:33, 5:75] = 1
    mask[5:55, 38:43] = 1
    found, crossings = paths(thinned(mask))
    assert len(found) == 4
    assert np.allclose(crossings.mean(axis=0), (30, 40), atol=1.5)
    assert all(None in path.ends and set(path.ends) != {None} for path in found)


def test_a_ring_and_a_slant() -> None:
    """A ring comes back to itself; a slanting line is one path without branches."""
    y, x = np.mgrid[:100, :200]
    ring = np.abs(np.hypot(x - 50, y - 50) - 30) < 2
    slant = np.abs(0.4 * x - y + 2) < 1.6
    mask = (ring | (slant & (x > 110))).astype(np.uint8)
    found, crossings = paths(thinned(mask))
    assert sorted(path.is_ring for path in found) == [False, True]
    assert len(crossings) == 0
    (line,) = (path for path in found if not path.is_ring)
    assert len(line.points) > 70
