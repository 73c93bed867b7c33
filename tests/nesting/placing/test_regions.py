"""Regions: whatever does not overlap is in one of them (shapely), and what overlaps deeply is in none."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely
from shapely.affinity import translate

from nesting.placing.regions import Box, FreeRegion, regions
from tests.make.polygons import random_star

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

UNIT = 0.05


def holds(found: Sequence[FreeRegion], dx: int, dy: int) -> bool:
    """Whether an offset in units lies in a region."""
    return any(all(a * dx + b * dy >= c for a, b, c in region.rows) for region in found)


@pytest.mark.generated(60)
def test_no_place_is_lost(numbers: Iterator[int]) -> None:
    """Offsets at which two outlines do not overlap, rounded to units either way, lie in a region."""
    for number in numbers:
        rng = np.random.default_rng(number)
        one, other = random_star(rng, int(rng.integers(3, 25))), random_star(rng, int(rng.integers(3, 25)))
        box = Box(-1200.0, -1200.0, 1200.0, 1200.0)
        found = regions(one, other, box, UNIT, float(rng.choice([0.0, 1.0, 10.0, 40.0])))
        fixed, moved = shapely.Polygon(one), shapely.Polygon(other)
        near = np.concatenate([_touching(rng, fixed, moved) for _ in range(20)])
        for x, y in [*rng.uniform((-500, -500), (500, 500), (40, 2)).tolist(), *near.tolist()]:
            if fixed.intersection(translate(moved, x, y)).area > 1e-6:
                continue
            dx, dy = (int(rng.choice([np.floor(v / UNIT), np.ceil(v / UNIT)])) for v in (x, y))
            assert found is None or holds(found, dx, dy), (number, x, y)


def _touching(rng: np.random.Generator, fixed: shapely.Polygon, moved: shapely.Polygon) -> np.ndarray:
    """Offsets at which the moved outline touches the fixed one, coming from a random side."""
    way = rng.uniform(0, 2 * np.pi)
    out = np.array([np.cos(way), np.sin(way)])
    aside = rng.uniform(-200, 200) * np.array([-out[1], out[0]])
    low, high = 0.0, 1000.0
    while high - low > 1e-6:
        middle = (low + high) / 2
        x, y = middle * out + aside
        low, high = (middle, high) if fixed.intersects(translate(moved, x, y)) else (low, middle)
    return np.array([high * out + aside, (high + 1e-3) * out + aside])


def test_what_overlaps_deeply_is_in_no_region() -> None:
    """Two squares of 100 mm that overlap by more than some units in both directions are in no region."""
    square = np.array([(0, 0), (100, 0), (100, 100), (0, 100)], dtype=float)
    found = regions(square, square, Box(-300, -300, 300, 300), UNIT, 0.0)
    assert found
    for x in np.linspace(-99, 99, 34):
        for y in np.linspace(-99, 99, 34):
            assert not holds(found, round(x / UNIT), round(y / UNIT)), (x, y)


def test_a_pocket_is_a_region_of_its_own() -> None:
    """A small square goes into the hollow of a large one: the place is kept, and what is beside it is not."""
    hollow = np.array([(0, 0), (300, 0), (300, 300), (200, 300), (200, 100), (100, 100), (100, 300), (0, 300)], float)
    small = np.array([(0, 0), (80, 0), (80, 80), (0, 80)], dtype=float)
    found = regions(hollow, small, Box(-500, -500, 500, 500), UNIT, 0.0)
    assert found
    assert holds(found, round(110 / UNIT), round(110 / UNIT))
    assert not holds(found, round(60 / UNIT), round(110 / UNIT))


def test_far_apart_they_never_meet() -> None:
    """Where the box lets the outlines not come near one another there is nothing to keep apart."""
    square = np.array([(0, 0), (100, 0), (100, 100), (0, 100)], dtype=float)
    assert regions(square, square, Box(150, 150, 300, 300), UNIT, 0.0) is None
