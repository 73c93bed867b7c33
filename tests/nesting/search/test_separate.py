"""Separation on the raster."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely

from nesting.problem.problem import Problem
from nesting.search.fill import fill, orders
from nesting.search.separate import Separation, cell_size
from nesting.shape.nofit import NoFit
from nesting.shape.overlap_tables import UNSEEN
from nesting.shape.shapes import Shapes
from tests.make.jigsaw import jigsaw

if TYPE_CHECKING:
    from nesting.shape.layout import Layout


def separated(share: float, seed: int = 0) -> tuple[Shapes, Layout, Separation]:
    """A jigsaw in a strip of some share of its own length more, after separation, and the raster."""
    shapes = Shapes(jigsaw(100.0, 140.0, 11, seed=5))
    nofit = NoFit(shapes)
    layout = fill(shapes, nofit, next(orders(shapes, 0)))
    layout.length = 140.0 * (1 + share)
    layout.x *= 0.5
    separation = Separation(shapes, nofit, 80, seed)
    for _ in separation.run(layout):
        pass
    return shapes, layout, separation


def test_overlap_is_gone_but_for_what_is_unseen() -> None:
    """With a third of the strip to spare no two pieces stay deeper in each other than the depth that counts as none."""
    shapes, layout, separation = separated(0.5)
    placed = [
        shapely.affinity.translate(shapely.Polygon(shapes.all[s].outline), x, y)
        for s, x, y in zip(layout.shape, layout.x, layout.y, strict=True)
    ]
    for i, one in enumerate(placed):
        for other in placed[:i]:
            assert one.intersection(other).buffer(-UNSEEN * separation.cells[0]).is_empty


def test_pieces_stay_on_the_lattice_and_in_the_strip() -> None:
    """Positions are whole cells, and stick out by no more than the depth that counts as none."""
    shapes, layout, separation = separated(0.2)
    assert np.allclose(layout.x / separation.cells[0], np.rint(layout.x / separation.cells[0]))
    slack = UNSEEN * separation.cells[0] + 1e-9
    for number, x, y in zip(layout.shape, layout.x, layout.y, strict=True):
        shape = shapes.all[number]
        assert -1e-9 <= x <= layout.length - shape.length + slack
        assert shape.low - 1e-9 <= y <= shape.high + slack


@pytest.mark.parametrize("seed", [0, 1])
def test_the_same_seed_gives_the_same_layout(seed: int) -> None:
    """Two runs from one seed end bit for bit alike."""
    one, two = separated(0.05, seed)[1], separated(0.05, seed)[1]
    assert (one.x == two.x).all() and (one.y == two.y).all() and (one.shape == two.shape).all()


@pytest.mark.parametrize(
    ("width", "unit", "cells"), [(38.0, 1.0, 76), (15.0, 1.0, 75), (79.0, 1.0, 79), (7.9, 0.1, 79)]
)
def test_cells_divide_the_unit_of_the_corners(width: float, unit: float, cells: int) -> None:
    """With whole numbers of a unit as corners, the unit is a whole number of cells; the counts are worked by hand."""
    outline = np.array([[0, 0], [3, 0], [5, 4], [0, 4]]) * unit
    shapes = Shapes(Problem.from_outlines(width, [outline], [2], [[0.0, 180.0]]))
    assert width / cell_size(shapes, 80) == pytest.approx(cells)


def test_corners_without_a_unit_leave_the_cells_as_wished() -> None:
    """A corner at the square root of two beside whole ones has no unit in common with them."""
    outline = np.array([[0, 0], [3, 0], [2**0.5, 4]])
    shapes = Shapes(Problem.from_outlines(38.0, [outline], [2], [[0.0, 180.0]]))
    assert cell_size(shapes, 80) == 38.0 / 80
