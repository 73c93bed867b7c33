"""No-fit polygons; the oracle is shapely's overlap of the two pieces at an offset."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon
from shapely.affinity import translate

from nesting.problem.problem import Problem
from nesting.shape.nofit import NoFit
from nesting.shape.shapes import Shapes
from tests.make.polygons import comb, star

if TYPE_CHECKING:
    from numpy.typing import NDArray


def nofit_of(a: NDArray[Any], b: NDArray[Any]) -> tuple[Polygon, Polygon, Polygon]:
    """No-fit polygon of two outlines, in mm, and both outlines as laid."""
    shapes = Shapes(Problem.from_outlines(1000.0, [a, b], [1, 1], [[0.0], [0.0]]))
    paths = [shapes.grid.to_mm(path) for path in NoFit(shapes).paths(0, 1)]
    body: Any = shapely.Polygon()
    for path in paths:
        body = body.symmetric_difference(shapely.Polygon(path))
    return body, shapely.Polygon(shapes.all[0].outline), shapely.Polygon(shapes.all[1].outline)


@settings(deadline=None, max_examples=60)
@given(a=star(), b=star(), x=st.floats(-250, 250), y=st.floats(-250, 250))
def test_inside_means_overlap(a: NDArray[Any], b: NDArray[Any], x: float, y: float) -> None:
    """An offset lies inside the no-fit polygon exactly where the pieces overlap."""
    body, one, two = nofit_of(a, b)
    point = shapely.Point(x, y)
    if body.exterior.distance(point) > 1e-3 and body.boundary.distance(point) > 1e-3:
        assert body.contains(point) == (one.intersection(translate(two, x, y)).area > 0)


@settings(deadline=None, max_examples=60)
@given(a=star(), b=star(), i=st.integers(0, 8), j=st.integers(0, 8), t=st.floats(0, 1))
def test_pieces_that_touch_lie_on_the_border(a: NDArray[Any], b: NDArray[Any], i: int, j: int, t: float) -> None:
    """A corner put on a side: if the pieces then share no area, the offset is on the border, to rounding."""
    body, one, two = nofit_of(a, b)
    side = np.asarray(one.exterior.coords)
    i %= len(side) - 1
    on = side[i] + t * (side[i + 1] - side[i])
    corner = np.asarray(two.exterior.coords)[j % (len(two.exterior.coords) - 1)]
    offset = shapely.Point(on - corner)
    if one.intersection(translate(two, offset.x, offset.y)).area < 1e-9:
        assert body.boundary.distance(offset) < 1e-5


def test_an_exact_slot_survives_as_a_slit() -> None:
    """A 10 mm bar fits the 10 mm gaps of a comb: an offset in the gap lies outside the no-fit polygon."""
    bar = np.array([[0, 0], [10, 0], [10, 30], [0, 30]], dtype=float)
    body, one, two = nofit_of(comb(), bar)
    assert one.intersection(translate(two, 10, 0)).area == 0
    assert not body.contains(shapely.Point(10.0, 0.0))
    assert not body.contains(shapely.Point(10.0, -15.0))


def test_no_false_holes() -> None:
    """A 5 mm square moved within a large C lies in cloth: the sum of the borders alone would leave a hole there.

    The case is the one of a known pitfall of Minkowski sums of outlines, worked by hand.
    """
    c = np.array([[0, 0], [40, 0], [40, 15], [15, 15], [15, 25], [40, 25], [40, 40], [0, 40]], dtype=float)
    square = np.array([[0, 0], [5, 0], [5, 5], [0, 5]], dtype=float)
    body, _, _ = nofit_of(c, square)
    assert body.contains(shapely.Point(5.0, 5.0))
    assert not body.contains(shapely.Point(20.0, 17.5))


def test_a_real_hole_is_kept() -> None:
    """A square has room inside a ring, but not in the slit that leads there."""
    outer = [[60, 32], [60, 60], [0, 60], [0, 0], [60, 0], [60, 28]]
    inner = [[45, 28], [45, 15], [15, 15], [15, 45], [45, 45], [45, 32]]
    square = np.array([[0, 0], [20, 0], [20, 20], [0, 20]], dtype=float)
    body, _, _ = nofit_of(np.array(outer + inner, dtype=float), square)
    assert not body.contains(shapely.Point(20.0, 20.0))
    assert body.contains(shapely.Point(45.0, 20.0))
    assert body.geom_type == "Polygon" and len(body.interiors) == 1
