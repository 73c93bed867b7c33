"""Cut lines against shapely's offset, and corners worked out by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from pieces import Piece, PieceSet
from pieces.errors import OutlineError
from pieces.piece.curve import Cubic, Line, flatten
from pieces.piece.outline import Edge, cut_line
from pieces.piece.pieces import Seam, walk
from tests.make.outlines import sides

if TYPE_CHECKING:
    from numpy.typing import NDArray


def same_shape(ours: NDArray[np.float64], theirs: shapely.Geometry) -> bool:
    """Whether two outlines bound the same area, within a thousandth of a mm of their rims."""
    shape = shapely.Polygon(ours)
    if shape.hausdorff_distance(theirs) <= 1e-6:  # of some that are all but equal, GEOS gives a whole as difference
        return shape.is_valid
    return shape.is_valid and shape.symmetric_difference(theirs).area <= 1e-3 * shape.length


RECTANGLE = [(0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0)]


@given(
    st.lists(st.tuples(st.integers(-300, 300), st.integers(-300, 300)), min_size=3, max_size=14),
    st.just(0.0) | st.floats(0.1, 40),
)
def test_convex_outlines_agree_with_shapely(cloud: list[tuple[int, int]], allowance: float) -> None:
    """One allowance all round a convex outline is shapely's mitred buffer, where no corner is cut square."""
    hull = shapely.orient_polygons(shapely.MultiPoint(cloud).convex_hull)
    assume(hull.geom_type == "Polygon" and hull.area > 100)
    assert isinstance(hull, shapely.Polygon)
    corners = [(float(x), float(y)) for x, y in hull.exterior.coords[:-1]]
    ring = np.array([corners[-1], *corners, corners[0]])
    before, after = ring[1:-1] - ring[:-2], ring[2:] - ring[1:-1]
    cosine = (before * after).sum(axis=1) / (np.hypot(*before.T) * np.hypot(*after.T))
    assume((1 / np.sqrt((1 + cosine) / 2 + 1e-12)).max() < 3.9)  # reach of the mitre, in allowances
    assert same_shape(
        cut_line(sides(corners, [allowance] * len(corners))), hull.buffer(allowance, join_style="mitre", mitre_limit=4)
    )


def test_allowances_edge_by_edge() -> None:
    """A rectangle with four different allowances is the larger rectangle, by hand."""
    cut = cut_line(sides(RECTANGLE, [1.0, 2.0, 3.0, 4.0]))
    assert same_shape(cut, shapely.box(-4, -1, 102, 63))


@given(st.lists(st.floats(0, 30), min_size=4, max_size=4))
def test_any_allowances_of_a_rectangle(allowances: list[float]) -> None:
    """Any four allowances give the rectangle moved out side by side."""
    bottom, right, top, left = allowances
    assert same_shape(cut_line(sides(RECTANGLE, allowances)), shapely.box(-left, -bottom, 100 + right, 60 + top))


def test_square_corner_on_a_fold() -> None:
    """On a fold nothing is added, and the cut line meets it at a right angle."""
    cut = cut_line(sides(RECTANGLE, [0.0, 10.0, 10.0, 10.0], fold=0))
    assert same_shape(cut, shapely.box(-10, 0, 110, 70))
    assert sorted(cut[cut[:, 1] == 0][:, 0]) == [-10, 110]


def test_step_between_allowances_in_one_line() -> None:
    """Where neighbours run on in one line, the cut line steps square from one allowance to the other."""
    corners = [(0.0, 0.0), (50.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0)]
    cut = cut_line(sides(corners, [5.0, 15.0, 0.0, 0.0, 0.0]))
    assert same_shape(cut, shapely.union(shapely.box(0, -5, 50, 60), shapely.box(50, -15, 100, 60)))


def test_sharp_corner_is_cut_square() -> None:
    """A corner of 6 degrees reaches no further than the limit of four allowances; shapely's buffer is covered."""
    corners = [(0.0, 0.0), (300.0, 0.0), (300.0, 30.0)]
    cut = shapely.Polygon(cut_line(sides(corners, [10.0] * 3)))
    assert cut.is_valid and cut.bounds[0] >= -40
    assert cut.covers(shapely.Polygon(corners))


@pytest.mark.parametrize("allowances", [[10.0] * 6, [10.0, 10.0, 4.0, 8.0, 10.0, 10.0]])
def test_inner_corner(allowances: list[float]) -> None:
    """An L's inner corner moves into the notch by the allowances of its two sides; by hand."""
    corners = [(0.0, 0.0), (100.0, 0.0), (100.0, 40.0), (40.0, 40.0), (40.0, 100.0), (0.0, 100.0)]
    _, right, shelf, inner, _, _ = allowances
    lying, standing = shapely.box(-10, -10, 100 + right, 40 + shelf), shapely.box(-10, -10, 40 + inner, 110)
    assert same_shape(cut_line(sides(corners, allowances)), shapely.union(lying, standing))


def test_curve_agrees_with_shapely() -> None:
    """A quarter of a neckline moved out lies an allowance from the sewn one everywhere, by shapely."""
    neck = flatten([Cubic((0, 100), (55, 100), (100, 55), (100, 0))])[::-1].copy()
    edges = (
        Edge("neck", neck, 10.0),
        Edge("top", Line((0, 100), (-50, 100)).flatten(), 10.0),
        Edge("side", Line((-50, 100), (-50, 0)).flatten(), 10.0),
        Edge("bottom", Line((-50, 0), (100, 0)).flatten(), 10.0),
    )
    sewn = shapely.Polygon(np.vstack([edge.points[:-1] for edge in edges]))
    theirs = sewn.buffer(10, join_style="mitre", mitre_limit=4)
    assert shapely.Polygon(cut_line(edges)).symmetric_difference(theirs).area < 0.1


def test_one_closed_edge() -> None:
    """An outline drawn as a single edge gets its allowance all round, its first corner included."""
    square = np.array([*RECTANGLE, RECTANGLE[0]])
    assert same_shape(cut_line((Edge("rim", square, 10.0),)), shapely.box(-10, -10, 110, 70))


def test_allowance_wider_than_a_hollow() -> None:
    """In a hollow narrower than its allowance there is no cut line: the error names the edge and the allowance."""
    angle = np.linspace(np.pi, 0, 40)[::-1]
    hollow = np.column_stack([50 + 6 * np.cos(angle), 60 - 6 * np.sin(angle)])
    edges = (
        Edge("bottom", Line((0, 0), (100, 0)).flatten(), 0.0),
        Edge("right", Line((100, 0), (100, 60)).flatten(), 0.0),
        Edge("top right", np.array([(100, 60), hollow[0]]), 0.0),
        Edge("hollow", hollow, 30.0),
        Edge("top left", np.array([hollow[-1], (0, 60)]), 0.0),
        Edge("left", Line((0, 60), (0, 0)).flatten(), 0.0),
    )
    with pytest.raises(
        OutlineError, match=r"'hollow' .* too tightly to be moved by 30\.0 mm: use a narrower allowance"
    ):
        cut_line(edges)


def test_walked_seams() -> None:
    """A 60 mm side against a 50 mm one is 10 mm longer; 4 of them meant as ease leave 6."""
    one = Piece("one", sides(RECTANGLE, [5.0] * 4))
    two = Piece("two", sides([(0.0, 0.0), (100.0, 0.0), (100.0, 50.0), (0.0, 50.0)], [5.0] * 4))
    seam = Seam("side", (("one", "e1"),), (("two", "e1"),))
    eased = Seam("side", (("one", "e1"),), (("two", "e1"),), ease=4.0)
    pieces = PieceSet("pair", (one, two), (seam,))
    assert walk(seam, pieces) == pytest.approx(10)
    assert walk(eased, pieces) == pytest.approx(6)
    with pytest.raises(OutlineError, match=r"'side' differ by 10\.0 mm"):
        pieces.check()


def test_points_of_an_edge_cannot_be_changed() -> None:
    """An edge is frozen, points and all."""
    edge = sides(RECTANGLE, [5.0] * 4)[0]
    with pytest.raises(ValueError, match="read-only"):
        edge.points[0, 0] = 1.0


def test_points_on_one_spot_are_one() -> None:
    """A corner drawn twice, a rounding apart: the cut line has it once, and does not cross itself once it is moved."""
    corners = [(348.825, 293.65), (465.1, 293.65), (465.1, 444.4), (348.825 + 6e-14, 537.525), (348.825, 537.525)]
    line = cut_line(sides(corners, [0.0] * 5))
    assert len(line) == 4
    assert shapely.Polygon(line - line.min(axis=0)).is_valid
