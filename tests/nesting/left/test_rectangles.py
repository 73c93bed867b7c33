"""The largest rectangles beside what lies on the cloth: by hand, against every rectangle there is, and free of all."""

from __future__ import annotations

from itertools import combinations, product

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.left.bare import TOUCH, bare_cloth, free_area
from nesting.left.rectangles import largest_rectangles
from nesting.marker.marker import Marker, Placement
from nesting.problem.problem import Problem

SIDE = 100.0


def marker_with(*placed: tuple[list[tuple[float, float]], float, float], gap: float = 0.0) -> Marker:
    """Outlines in their places on open cloth, 100 mm wide; nothing is checked."""
    outlines = [np.array(outline, dtype=float) for outline, _, _ in placed]
    problem = Problem.from_outlines(SIDE, outlines, [1] * len(placed), [[0.0]] * len(placed), gap=gap)
    return Marker(problem, tuple(Placement(i, 0, 0, x, y) for i, (_, x, y) in enumerate(placed)), SIDE)


def block(length: float, width: float) -> list[tuple[float, float]]:
    """A rectangle from (0, 0) on."""
    return [(0, 0), (length, 0), (length, width), (0, width)]


@pytest.mark.parametrize(
    ("gap", "zones"),
    [
        (0.0, [(0, 100, 40, 100), (60, 100, 0, 40)]),  # 100 x 60 above it beats 40 x 100 behind it; then 40 x 40
        (5.0, [(0, 100, 45, 100), (65, 100, 0, 40)]),  # 5 from the piece; and 5 from the first rectangle
    ],
)
def test_beside_one_rectangle(gap: float, zones: list[tuple[float, ...]]) -> None:
    """A block of 60 x 40 in the corner of 100 x 100: worked by hand. Edges of the cloth need no gap."""
    found = largest_rectangles(bare_cloth(marker_with((block(60, 40), 0, 0), gap=gap), SIDE), 5, 1.0)
    assert [tuple(one.zone) for one in found] == [pytest.approx(zone, abs=1e-5) for zone in zones]
    assert free_area(marker_with((block(60, 40), 0, 0), gap=gap), SIDE) == pytest.approx(10_000 - 2_400)


def test_beyond_the_marker() -> None:
    """What is bought beyond the marker's end is bare cloth as well, and one rectangle with what lies beside it."""
    found = largest_rectangles(bare_cloth(marker_with((block(100, 40), 0, 0)), 200.0), 2, 1.0)
    assert tuple(found[0].zone) == pytest.approx((0, 200, 40, 100), abs=1e-5)
    assert tuple(found[1].zone) == pytest.approx((100, 200, 0, 40), abs=1e-5)


def test_least_side() -> None:
    """A strip of 4 beside a block is no rectangle where sides of 5 or more are asked for."""
    marker = marker_with((block(100, 96), 0, 0))
    assert largest_rectangles(bare_cloth(marker, SIDE), 5, 5.0) == []
    assert len(largest_rectangles(bare_cloth(marker, SIDE), 5, 4.0 - 1e-4)) == 1


@settings(max_examples=25, deadline=None)
@given(st.lists(st.tuples(*[st.integers(0, 5)] * 2, *[st.integers(1, 4)] * 2), min_size=1, max_size=4))
def test_none_is_larger(blocks: list[tuple[int, int, int, int]]) -> None:
    """Beside blocks on a lattice the first is as large as the largest of all rectangles of the lattice."""
    inside = [(x, y, min(x + a, 6), min(y + b, 6)) for x, y, a, b in blocks]
    unit = SIDE / 6
    placed = [(block((c - x) * unit, (d - y) * unit), x * unit, y * unit) for x, y, c, d in inside]
    best = 0
    for (x, c), (y, d) in product(combinations(range(7), 2), repeat=2):
        if all(c <= p or r <= x or d <= q or s <= y for p, q, r, s in inside):
            best = max(best, (c - x) * (d - y))
    found = largest_rectangles(bare_cloth(marker_with(*placed), SIDE), 1, 1.0)
    assert (found[0].zone.area / unit**2 if found else 0.0) == pytest.approx(best, abs=1e-4)


corner = st.floats(0, 60)
outline = st.lists(st.tuples(corner, corner), min_size=3, max_size=6).filter(
    lambda points: shapely.MultiPoint(points).convex_hull.area > 10
)


@settings(max_examples=25, deadline=None)
@given(
    st.lists(st.tuples(outline, st.floats(0, 40), st.floats(0, 40)), min_size=1, max_size=3),
    st.sampled_from([0.0, 4.0]),
)
def test_all_are_free(placed: list[tuple[list[tuple[float, float]], float, float]], gap: float) -> None:
    """Each lies on the cloth, and as far from every outline and from every other rectangle as the gap asks."""
    hulls = []
    for points, x, y in placed:
        corners = shapely.get_coordinates(shapely.MultiPoint(points).convex_hull)[:-1]
        hulls.append(([(float(a), float(b)) for a, b in corners], x, y))
    marker = marker_with(*hulls, gap=gap)
    shapes = [shapely.Polygon(outline) for *_, outline in marker.outlines()]
    for one in largest_rectangles(bare_cloth(marker, SIDE), 4, 2.0):
        start, end, low, high = one.zone
        assert 0 <= start < end <= SIDE and 0 <= low < high <= SIDE
        box = shapely.box(*one.zone.outline[0], *one.zone.outline[2])
        inner = shapely.box(start + 2 * TOUCH, low + 2 * TOUCH, end - 2 * TOUCH, high - 2 * TOUCH)
        assert all(inner.intersection(shape).area < 1e-12 for shape in shapes)
        assert all(box.distance(shape) >= gap - 1e-6 for shape in shapes)
        shapes.append(box)
