"""Tilt: what is proved holds at every angle that a piece may lie at, and the search finds those that matter."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
import shapely
from hypothesis import example, given
from hypothesis import strategies as some

from nesting.cloth.fabric import Fabric
from nesting.errors import PieceTooWideError
from nesting.fit.fitting import disproof
from nesting.placing.question import cannot_lie_within
from nesting.problem.lay import lay_pieces
from nesting.problem.tilt import MOST_TILTS, covered, least_extents, over_all_tilts, tilts
from nesting.proof.bounds import lower_bound
from nesting.proof.exact import solve_exact
from nesting.proof.slices import slice_bound
from nesting.shape.shapes import Shapes
from pieces import Piece
from pieces.length import mm
from tests.make.jigsaw import jigsaw
from tests.make.outlines import sides
from tests.make.polygons import star

if TYPE_CHECKING:
    from numpy.typing import NDArray


def turned(points: list[Any] | NDArray[Any], degrees: float) -> NDArray[Any]:
    """Points turned by shapely about the origin."""
    return shapely.get_coordinates(shapely.affinity.rotate(shapely.MultiPoint(points), degrees, origin=(0, 0)))


def piece(name: str, outline: list[Any] | NDArray[Any], tilt: float, degrees: float = 0.0, **kwargs: Any) -> Piece:
    """A piece drawn so many degrees off its grain, which runs along x."""
    points = [(float(x), float(y)) for x, y in turned(outline, degrees)]
    return Piece(name, sides(points, [0.0] * len(points)), tilt=tilt, grain=((0.0, 0.0), (100.0, 0.0)), **kwargs)


def panel(tilt: float = 3.0, degrees: float = 1.5, length: float = 1000.0, width: float = 500.0) -> Piece:
    """A panel drawn 1.5 degrees off its grain."""
    return piece("panel", [(0, 0), (length, 0), (length, width), (0, width)], tilt, degrees)


@example(np.array([(89.0, 0.0), (-44.0, 77.0), (-45.0, -77.0)]), 0.37266924823878195)  # flat a hair before the end
@example(np.array([(89.0, 0.0), (-45.0, 77.0), (-45.002, -77.0)]), 5.0)  # flat a hair off upright
@given(star(), some.floats(0.1, 15))
def test_least_extents(outline: NDArray[Any], most: float) -> None:
    """No angle of thousands gives less than the least extents, and some give hardly more."""
    along, across = least_extents(outline, most)
    radians = np.radians(np.linspace(-most, most, 3001))
    x = np.cos(radians)[:, None] * outline[:, 0] - np.sin(radians)[:, None] * outline[:, 1]
    y = np.sin(radians)[:, None] * outline[:, 0] + np.cos(radians)[:, None] * outline[:, 1]
    for least, sizes in ((along, np.ptp(x, axis=1)), (across, np.ptp(y, axis=1))):
        assert least - 1e-9 <= sizes.min() <= least + 0.02


@given(star(), some.floats(0.1, 15))
def test_tilts_hold_the_narrowest(outline: NDArray[Any], most: float) -> None:
    """Few angles are tried, all allowed, upright first; the shortest and the narrowest are there."""
    tried = tilts(outline, most)
    assert tried[:3] == (0.0, -most, most) and len(set(tried)) == len(tried) <= MOST_TILTS
    assert max(map(abs, tried)) == most
    sizes = np.array([np.ptp(turned(outline, tilt), axis=0) for tilt in tried])
    assert sizes.min(axis=0) == pytest.approx(least_extents(outline, most), abs=1e-9)


@given(
    star(),
    some.floats(-15, 15),
    some.floats(0, 4),
    some.floats(0, 1),
    some.sampled_from([(1, 1), (1.1, 1), (1.02, 1.3)]),
)
def test_what_stands_for_a_range_is_covered_at_every_angle(
    outline: Any, first: Any, wide: Any, share: float, growth: Any
) -> None:
    """What stands for a range of angles lies within the outline at each of them, by shapely's own turning."""
    growth = np.array(growth)
    inner = covered(outline, first, first + wide, growth)
    middle = (outline.min(axis=0) + outline.max(axis=0)) / 2
    whole = shapely.Polygon(turned(outline - middle, first + share * wide) * growth)
    assert shapely.Polygon(inner).area == 0 or whole.covers(shapely.Polygon(inner))


@pytest.mark.parametrize("seed", range(6))
def test_bounds_hold_for_layouts_tilted_between(seed: int) -> None:
    """A jigsaw whose pieces all lie at some angle off their grain: nothing proved exceeds the rectangle's length."""
    rng = np.random.default_rng(seed)
    width, length = 600.0, float(rng.uniform(500, 1500))
    most = float(rng.choice([1.0, 3.0, 8.0]))
    whole = jigsaw(width, length, int(rng.integers(1, 5)), seed)
    pieces = [
        piece(f"part {i}", item.variants[0].outline, most, float(rng.uniform(-most, most)))
        for i, item in enumerate(whole.items)
    ]
    problem = lay_pieces(pieces, Fabric("cloth", mm(width)), "open")
    assert 0.9 * length < lower_bound(problem)[0] <= length + 1e-6
    assert slice_bound(problem, 0.3)[0] <= length + 1e-6
    assert disproof(problem, length, ()) is None
    assert not cannot_lie_within(problem, length, (), 0.3)


@pytest.mark.parametrize("seed", range(6))
def test_lines_hold_for_layouts_tilted_between(seed: int) -> None:
    """Wide pieces one behind another, each at some angle between: the bound by lines is no more than the row."""
    rng = np.random.default_rng(seed)
    wide = [(0, 0), (120, 0), (100, 400), (10, 400)]
    pieces, row = [], 0.0
    for i in range(3):
        off = float(rng.uniform(-2, 2))
        pieces.append(piece(f"part {i}", wide, 2.0, off))
        row += 120.0
    problem = lay_pieces(pieces, Fabric("cloth", mm(450.0)), "open")
    found, held = lower_bound(problem)
    assert found <= row and "wide" in held
    assert slice_bound(problem, 0.5)[0] <= row
    assert not cannot_lie_within(problem, row, (), 0.5)


def test_panel_fits_between() -> None:
    """The panel of 1000 x 500 fits 1005 mm at -1.5 degrees: no proof says otherwise; at 999 mm there is one."""
    problem = lay_pieces([panel()], Fabric("cloth", mm(800.0)), "open")
    assert min(variant.length for variant in problem.items[0].variants) == pytest.approx(1000)
    assert disproof(problem, 1005.0, ()) is None and disproof(problem, 1000.0, ()) is None
    assert disproof(problem, 999.9, ()).kind == "piece"
    assert 999.9 < lower_bound(problem)[0] <= 1000  # less the tolerance of the check


def test_too_wide_only_if_at_no_angle() -> None:
    """Across 505 mm the panel fits at -1.5 degrees alone; on 499 mm it fits at none, and needs 500."""
    problem = lay_pieces([panel()], Fabric("cloth", mm(505.0)), "open")
    assert {round(variant.tilt, 6) for variant in problem.items[0].variants} == {-1.5}
    with pytest.raises(PieceTooWideError) as error:
        lay_pieces([panel()], Fabric("cloth", mm(499.0)), "open")
    assert error.value.needs == pytest.approx(500)


def test_exact_answers_leave_tilted_pieces_alone() -> None:
    """Rectangles decided exactly are upright: of pieces that may be tilted nothing is claimed."""
    tile = [(0, 0), (50, 0), (50, 25), (0, 25)]
    fabric = Fabric("cloth", mm(100.0))
    assert solve_exact(lay_pieces([piece("tile", tile, 0.0)], fabric, "open")) is not None
    assert solve_exact(lay_pieces([piece("tile", tile, 3.0)], fabric, "open")) is None


def test_every_tilt_knows_its_upright() -> None:
    """Each tilted way of a piece is known as one of an upright way, whatever the turns are written as."""
    drawn = piece("leaf", [(0, 0), (90, 5), (70, 40), (10, 30)], 4.0, 0.3)
    problem = lay_pieces([drawn], Fabric("cloth", mm(200.0)), "open")
    shapes = Shapes(problem)
    ways = problem.items[0].variants
    for number, shape in enumerate(shapes.all):
        upright = ways[shapes.all[shapes.upright[number]].variant]
        own = ways[shape.variant]
        assert upright.tilt == 0
        assert math.remainder(own.turn - own.tilt - upright.turn, 360) == pytest.approx(0, abs=1e-6)


def test_problem_without_tilt_is_itself() -> None:
    """Where nothing may be tilted, a proof sees the very problem."""
    problem = lay_pieces([panel(0.0)], Fabric("cloth", mm(800.0)), "open")
    assert over_all_tilts(problem) is problem
