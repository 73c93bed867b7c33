"""Random simple polygons, for tests against shapely."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import shapely
from hypothesis import strategies as st

if TYPE_CHECKING:
    from hypothesis.strategies import DrawFn
    from numpy.typing import NDArray


@st.composite
def star(draw: DrawFn, most: int = 9) -> NDArray[Any]:
    """A simple polygon, seen whole from its middle; convex or not."""
    n = draw(st.integers(3, most))
    radii = np.array(draw(st.lists(st.integers(20, 100), min_size=n, max_size=n)), dtype=float)
    turn = draw(st.floats(0, 1))
    angle = 2 * np.pi * (np.arange(n) + turn) / n
    points = np.round(np.column_stack([radii * np.cos(angle), radii * np.sin(angle)]))
    polygon = shapely.Polygon(points)
    if not polygon.is_valid or polygon.area < 100:
        points = np.array([[0.0, 0.0], [60.0, 0.0], [0.0, 40.0]])
    return points


def random_star(rng: np.random.Generator, corners: int, most: float = 300.0) -> NDArray[Any]:
    """A simple polygon of so many corners, seen whole from its middle, counter-clockwise."""
    angle = 2 * np.pi * (np.arange(corners) + rng.uniform(0, 0.5, corners)) / corners
    radii = most * rng.uniform(0.3, 1.0, corners)
    return np.column_stack([radii * np.cos(angle), radii * np.sin(angle)])


def comb(teeth: int = 3, depth: float = 30.0, tooth: float = 10.0) -> NDArray[Any]:
    """A comb whose gaps are as wide as its teeth."""
    points = [(0.0, 0.0)]
    for k in range(teeth):
        x = 2 * k * tooth
        points += [(x + tooth, 0.0), (x + tooth, depth), (x + 2 * tooth, depth), (x + 2 * tooth, 0.0)]
    points += [(2 * teeth * tooth + tooth, 0.0), (2 * teeth * tooth + tooth, depth + 10), (0.0, depth + 10)]
    return np.array(points)
