"""Kernels: depths against shapely, and maps against sums made by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
import shapely

from nesting.kernels import raster
from nesting.kernels.depth import depths
from nesting.kernels.jit import kernel
from nesting.search.fill import fill, orders
from nesting.search.separate import Separation
from nesting.shape.nofit import NoFit
from nesting.shape.overlap_tables import FINENESS, UNSEEN, make_tables
from nesting.shape.shapes import Shapes
from tests.make.jigsaw import jigsaw

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nesting.kernels.raster import Board, Tables


@pytest.fixture
def game() -> tuple[Tables, Board]:
    """A squeezed jigsaw on the raster."""
    shapes = Shapes(jigsaw(100.0, 140.0, 14, seed=3))
    nofit = NoFit(shapes)
    layout = fill(shapes, nofit, next(orders(shapes, 0)))
    layout.x *= 0.7
    layout.length *= 0.7
    separation = Separation(shapes, nofit, 30, 0)
    board = separation.board(layout)
    raster.lay(separation.tables, board)
    return separation.tables, board


def conflict_map(tables: Tables, board: Board, i: int, shape: int) -> NDArray[Any]:
    """Weighted depths between outline i, put anywhere in a shape, and the others: by plain sums."""
    out = np.zeros((board.rows[shape], board.columns[shape]))
    for j in range(len(board.x)):
        if j != i:
            for row in range(out.shape[0]):
                for column in range(out.shape[1]):
                    at = column - board.x[j], row - board.y[j]
                    out[row, column] += board.weight[i, j] * raster._depth(tables, board.shape[j], shape, *at)
    return out


def test_depth_is_the_distance_to_the_border() -> None:
    """Depths inside an L match shapely's distance to its border; outside they are 0."""
    corners = np.array([[0, 0], [9, 0], [9, 4], [4, 4], [4, 8], [0, 8]], dtype=float) + 0.3
    sides = np.concatenate([corners, np.roll(corners, -1, axis=0)], axis=1)
    out = np.zeros((12, 12))
    depths(sides, -1.0, -1.0, 1.0, out)
    polygon = shapely.Polygon(corners)
    for row in range(12):
        for column in range(12):
            point = shapely.Point(column - 1, row - 1)
            expected = polygon.exterior.distance(point) if polygon.contains(point) else 0.0
            assert out[row, column] == pytest.approx(expected)


def test_tables_of_two_shapes_mirror_one_another(game: tuple[Tables, Board]) -> None:
    """B seen from A at an offset overlaps as deep as A seen from B at the opposite offset."""
    tables, _ = game
    rng = np.random.default_rng(0)
    for a, b, x, y in rng.integers((0, 0, -30, -30), (15, 15, 30, 30), size=(300, 4)):
        assert raster._depth(tables, a, b, x, y) == raster._depth(tables, b, a, -x, -y)


def test_no_depth_means_no_overlap_beyond_what_is_unseen(game: tuple[Tables, Board]) -> None:
    """Where a table says 0, shapely finds at most an overlap as deep as the depth that counts as none."""
    tables, _ = game
    shapes = Shapes(jigsaw(100.0, 140.0, 14, seed=3))
    cell = 100.0 / 30
    rng = np.random.default_rng(1)
    polygons = [shapely.Polygon(shape.outline) for shape in shapes.all]
    for a, b, x, y in rng.integers((0, 0, -12, -12), (15, 15, 12, 12), size=(300, 4)):
        shared = polygons[a].intersection(shapely.affinity.translate(polygons[b], x * cell, y * cell))
        deep = not shared.buffer(-UNSEEN * cell / 2).is_empty
        assert (raster._depth(tables, a, b, x, y) > 0) or not deep
        assert (shared.area > 0) or raster._depth(tables, a, b, x, y) == 0


def test_maps_hold_the_sum_of_all_depths(game: tuple[Tables, Board]) -> None:
    """The map of a shape, less the outline's own share, is the plain sum over the others."""
    tables, board = game
    i, shape = 4, int(board.shape[4])
    size = int(board.rows[shape] * board.columns[shape])
    kept = board.map[board.start[shape] : board.start[shape] + size].reshape(board.rows[shape], -1)
    plain = conflict_map(tables, board, i, shape)
    at = int(board.y[i]), int(board.x[i])
    own = raster._depth(tables, shape, shape, 0, 0)
    assert kept[at] - own == plain[at]


def test_relocate_finds_the_least_of_the_weighted_map(game: tuple[Tables, Board]) -> None:
    """After a move the outline lies where the weighted sum, worked out cell by cell, is least; leftmost of equals."""
    tables, board = game
    rng = np.random.default_rng(2)
    board.weight[:] = 1 + np.triu(rng.integers(0, 3, board.weight.shape), 1)
    board.weight[:] = np.maximum(board.weight, board.weight.T)
    for i in range(len(board.x)):
        plain = conflict_map(tables, board, i, int(board.shape[i]))
        raster.relocate(tables, board, i)
        assert plain[board.y[i], board.x[i]] == pytest.approx(plain.min(), abs=1e-3)


def test_maps_do_not_drift(game: tuple[Tables, Board]) -> None:
    """After hundreds of moves the maps equal maps made anew, bit for bit."""
    tables, board = game
    best, ticks = np.stack([board.shape, board.x, board.y]), np.full(3, -1)
    raster.sweeps(tables, board, best, 0.98, 0.95, 50, ticks, 400)
    kept = board.map.copy()
    raster.lay(tables, board)
    assert (kept == board.map).all()


def test_depths_count_in_parts_of_a_cell() -> None:
    """A unit square on itself is half its side deep: in parts of a cell, times the scale of equal pieces, 1."""
    shapes = Shapes(jigsaw(10.0, 10.0, 0, seed=0))
    tables = make_tables(shapes, NoFit(shapes), (1.0, 1.0))
    assert raster._depth(tables, 0, 0, 0, 0) == 10 * FINENESS


def test_a_kernel_without_a_place_for_its_cache_still_runs() -> None:
    """A function that numba finds no file for cannot be cached; it is compiled all the same."""
    space: dict[str, Any] = {}
    exec(compile("def double(x):\n    return 2 * x\n", "<nowhere>", "exec"), space)
    assert kernel(space["double"])(4) == 8
