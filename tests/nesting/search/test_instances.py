"""Open instances (ESICUP, CC0; see `tests.make.instances`).

The densities to reach are far below the best published ones (Gardeyn, Vanden Berghe, Wauters 2025, arXiv
2509.13329), since the time is short.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest
import shapely

from nesting.problem.problem import Problem
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from tests.make.instances import FOLDER, needed

if TYPE_CHECKING:
    from nesting.marker.marker import Marker

pytestmark = needed


def load(name: str) -> Any:
    """An instance by its name."""
    data = json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))
    pieces = data["pieces"]
    turns = [[0.0, 180.0] if name.startswith("gardeyn") else piece["turns"] for piece in pieces]
    outlines = [piece["outline"] for piece in pieces]
    return Problem.from_outlines(data["width"], outlines, [piece["quantity"] for piece in pieces], turns, name=name)


def verify(marker: Marker) -> None:
    """No two outlines share area, none leaves the strip, every piece is there: with shapely, without `check`."""
    width, slack = marker.problem.width, 1e-6 * marker.problem.width
    shapes = [shapely.Polygon(outline) for *_, outline in marker.outlines()]
    left, low, right, high = shapely.total_bounds(shapes)
    assert left >= -slack and low >= -slack and right <= marker.length + slack and high <= width + slack
    assert len(shapes) == marker.problem.num_placements
    excess = sum(shape.area for shape in shapes) - shapely.union_all(shapes).area
    assert abs(excess) <= 1e-9 * width**2 * len(shapes)


@pytest.mark.parametrize(("name", "density"), [("shirts", 0.78), ("trousers", 0.78), ("albano", 0.72), ("dagli", 0.74)])
def test_fills_alone(name: str, density: float) -> None:
    """The first ten fills reach the density asked of a first answer."""
    marker = solve(load(name), MaxIterations(9)).marker
    verify(marker)
    assert marker.density >= density


@pytest.mark.parametrize(("name", "density"), [("albano", 0.83), ("fu", 0.84), ("blaz", 0.78), ("shapes1", 0.66)])
def test_a_short_search(name: str, density: float) -> None:
    """A search of a hundred iterations ends well above the fills, and holds when verified on its own."""
    marker = solve(load(name), MaxIterations(100)).marker
    verify(marker)
    assert marker.density >= density


@pytest.mark.parametrize("name", ["gardeyn0", "gardeyn1"])
def test_outlines_with_many_corners(name: str) -> None:
    """Fashion pieces with up to 177 corners are laid on their true outlines without overlap."""
    marker = solve(load(name), MaxIterations(2)).marker
    verify(marker)
    assert marker.density >= 0.75
