"""Lower bounds: cases solved by hand, and never above a marker that can be cut."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from nesting.cloth.band import Band
from nesting.cloth.fabric import Fabric
from nesting.folds.fold_then_open import fold_then_open
from nesting.marker.opinion import check
from nesting.problem.item import Item, Variant
from nesting.problem.lay import lay_pieces
from nesting.problem.problem import Problem, place_outline
from nesting.proof.bounds import _least_chord, least_cloth, lower_bound
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from pieces import Piece, PieceSet
from pieces.length import mm
from tests.make.cloth import back, front, in_a_row, tab
from tests.make.jigsaw import jigsaw
from tests.make.outlines import sides
from tests.make.polygons import star

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nesting.cloth.spread import Spread


def box(x: float, y: float) -> list[tuple[float, float]]:
    """A rectangle."""
    return [(0, 0), (x, 0), (x, y), (0, y)]


@pytest.mark.parametrize(
    ("width", "boxes", "counts", "bound", "why"),
    [
        (100, [(30, 20)], [10], 60, "area"),  # 10 x 600 mm² over 100 mm
        (100, [(30, 60)], [3], 90, "too wide to lie side by side"),
        (100, [(70, 10)], [1], 70, "longest piece"),
        (100, [(30, 60), (20, 55), (1, 10)], [1, 2, 1], 70, "piece 0, piece 1: too wide"),
        (100, [(30, 40)], [2], 30, "longest piece"),  # they lie beside one another
    ],
)
def test_by_hand(width: float, boxes: list[tuple[float, float]], counts: list[int], bound: float, why: str) -> None:
    """Rectangles whose bound is plain to see."""
    problem = Problem.from_outlines(width, [box(*size) for size in boxes], counts, [[0.0]] * len(boxes))
    length, argument = lower_bound(problem, 1e-9)
    assert length == pytest.approx(bound, rel=1e-9)
    assert bound - 0.1 < lower_bound(problem)[0] < bound  # less by what the check lets pass
    assert why in argument


def test_one_behind_another_on_the_fold() -> None:
    """Halves pinned to the one fold lie one behind another, however narrow they are: 3 x 200 mm."""
    length, argument = lower_bound(lay_pieces(straps(), Fabric("twill", mm(1000.0)), "folded"))
    assert length == pytest.approx(600, abs=0.1) and "on the fold" in argument


def test_two_alike_may_lie_whole_beside_the_fold() -> None:
    """Of three alike two may be cut as a whole one in both layers, beside the third: 200 mm do, and no proof says more.

    Where each is too wide for that, they lie one behind another.
    """
    cloth = Fabric("twill", mm(1000.0))
    length, _ = lower_bound(lay_pieces(straps()[:1], cloth, "folded", garments=3))
    assert length == pytest.approx(200, abs=0.1)
    wide = Piece("wide", sides([(0.0, 0.0), (200.0, 0.0), (200.0, 260.0), (0.0, 260.0)], [0.0] * 4, fold=0))
    length, _ = lower_bound(lay_pieces([wide], cloth, "folded", garments=3))
    assert length == pytest.approx(600, abs=0.1)


def straps() -> list[Piece]:
    """Three narrow halves, 200 mm long, each cut once."""
    corners = [(0.0, 0.0), (200.0, 0.0), (200.0, 20.0), (0.0, 20.0)]
    return [Piece(f"strap {number}", sides(corners, [0.0] * 4, fold=0)) for number in range(3)]


def test_sharing_two_folds() -> None:
    """In a tube two folds share them: half of it."""
    length, argument = lower_bound(lay_pieces(straps(), Fabric("jersey", mm(1000.0)), "tube"))
    assert length == pytest.approx(300, abs=0.1) and "2 folds" in argument


def test_turning_may_help() -> None:
    """A bar that may be turned upright takes its short side."""
    problem = Problem.from_outlines(100, [box(80, 10)], [1], [[0.0, 90.0]])
    assert lower_bound(problem)[0] == pytest.approx(10, abs=0.1)


def test_area_of_all_layers() -> None:
    """Eight tabs of 80 x 50 from two layers of 100 mm: 32,000 mm² over 200 mm, 160 long; two rows of two do it."""
    problem = lay_pieces([tab(cut=8)], Fabric("twill", mm(200.0)), "folded")
    assert lower_bound(problem)[0] == pytest.approx(160, rel=1e-3)  # pared by what a cut may be off
    assert solve(problem, MaxIterations(0)).marker.length == pytest.approx(160)


def test_area_where_a_piece_may_lie_single_or_double() -> None:
    """Twelve boxes of 40 x 50, each in a layer of 100 or in two of 100: 24,000 mm² of 300 mm at the least, 80 long."""
    bands = (Band("single", 0.0, 100.0), Band("double", 100.0, 200.0, 2))
    ways = tuple(Variant(np.array(box(40, 50), dtype=float), 0.0, False, k, 100.0 * k, 100.0 * k + 50) for k in (1, 0))
    problem = Problem(bands, (Item("box", 12, ways),))
    assert least_cloth(problem) == pytest.approx(12 * 2_000, rel=1e-2)
    assert lower_bound(problem)[0] == pytest.approx(80, rel=1e-2)  # 24,000 mm² over 300 mm


def test_a_half_that_may_be_opened_out() -> None:
    """Four halves of 200 on the fold need 800, two of them opened out on the single part 400: no bound is longer."""
    problem = lay_pieces([replace(back(), cut=4)], Fabric("cloth", mm(620.0)), "part-folded", depth=mm(160.0))
    length, _ = lower_bound(problem)
    assert 0 < length <= 400 + 1e-6


def test_a_pair_that_may_lie_across_singly() -> None:
    """A pair 400 x 100 lies along where the cloth is folded 100 deep, and across, each 100 long, where it is single."""
    bar = Piece(
        "bar", sides([(0, 0), (400, 0), (400, 99), (0, 100)], [0.0] * 4), cut=2, mirrored_pair=True, lies="cross"
    )
    problem = lay_pieces([bar], Fabric("cloth", mm(620.0)), "part-folded", depth=mm(100.0))
    marker = solve(problem, MaxIterations(50)).marker
    check(marker)
    assert marker.length <= 200
    assert lower_bound(problem)[0] <= marker.length


def test_pieces_of_stretches_choose_where_they_lie() -> None:
    """Two backs on the fold, 400 long, and a wide piece: opened out, one back lies beside it; no bound denies that."""
    wide = Piece("wide", sides([(0.0, 0.0), (200.0, 0.0), (200.0, 690.0), (0.0, 690.0)], [0.0] * 4))
    cloth, pieces = Fabric("cloth", mm(1000.0)), [replace(back(), name=f"back {n}") for n in (1, 2)]
    stiff, free = (fold_then_open([*pieces, wide], cloth, most=most) for most in (0, 1))
    length = solve(free, MaxIterations(0)).marker.length
    assert length == pytest.approx(400)
    assert lower_bound(stiff)[0] <= length + 1e-6


def test_items_of_one_name() -> None:
    """Two items of the same name are two items: the longer one counts."""
    problem = Problem.from_outlines(100, [box(80, 10), box(20, 10)], [1, 1], [[0.0], [0.0]], names=["bar", "bar"])
    assert lower_bound(problem)[0] == pytest.approx(80, abs=0.1)


@pytest.mark.parametrize("spread", ["open", "folded", "tube"])
@pytest.mark.parametrize("garments", [1, 3])
def test_no_marker_undercuts_it(jacket: PieceSet, spread: Spread, garments: int) -> None:
    """A marker that can be cut, all in a row, is no shorter than the bound; the area's share is no longer."""
    for pieces in (jacket.of("shell"), (back(), front(), tab())):
        problem = lay_pieces(pieces, Fabric("cloth", mm(1600.0)), spread, garments=garments)
        marker = in_a_row(problem)
        check(marker)
        assert problem.piece_area / problem.cloth_width * (1 - 1e-3) <= lower_bound(problem)[0] <= marker.length


@given(st.lists(st.tuples(st.integers(1, 99), st.integers(1, 99)), min_size=1, max_size=6), st.floats(0, 4))
def test_rectangles_in_a_row(sizes: list[tuple[int, int]], gap: float) -> None:
    """Of any rectangles, all in a row is never shorter than the bound."""
    problem = Problem.from_outlines(
        100, [box(*s) for s in sizes], [2] * len(sizes), [[0.0, 180.0]] * len(sizes), gap=gap
    )
    assert lower_bound(problem)[0] <= in_a_row(problem).length


@given(st.integers(1, 12), st.integers(0, 10_000))
def test_jigsaws(cuts: int, seed: int) -> None:
    """A jigsaw fills its rectangle: the bound is its length, known by construction."""
    assert lower_bound(jigsaw(80.0, 120.0, cuts, seed))[0] == pytest.approx(120, abs=0.3)


@given(st.lists(star(), min_size=1, max_size=4))
def test_any_outlines_in_a_row(outlines: list[NDArray[np.float64]]) -> None:
    """Of any outlines, all in a row is never shorter than the bound."""
    problem = Problem.from_outlines(220, outlines, [1] * len(outlines), [[0.0]] * len(outlines))
    assert lower_bound(problem)[0] <= in_a_row(problem).length


def chord(outline: NDArray[np.float64], y: float) -> float:
    """What the open outline covers of a line, by shapely."""
    shape = shapely.Polygon(outline)
    left, _, right, _ = shape.bounds
    return float(shape.intersection(shapely.LineString([(left - 1, y), (right + 1, y)])).length)


def test_chord_that_jumps_at_the_end_of_its_range() -> None:
    """A T whose stem ends just where the line can reach it covers no more than the stem: 40, not 60 or 100 mm."""
    # Tapers from 120 mm at its foot to 40 at a height of 80, then a bar 100 mm long, 40 high; on 160 mm of cloth.
    t = np.array([(0, 0), (120, 0), (80, 80), (110, 80), (110, 120), (10, 120), (10, 80), (40, 80)], dtype=float)
    variant = Variant(place_outline(t), 0.0, False, 0, 0.0, 40.0)
    assert chord(variant.outline + (0, 0.001), 80.0) == pytest.approx(40, abs=0.01)  # laid a hair above its lowest
    assert _least_chord(variant, 80.0) == pytest.approx(40, abs=0.01)


@given(star(), st.integers(0, 60), st.floats(0, 1), st.integers(-20, 240))
def test_least_chord_is_least(outline: NDArray[np.float64], room: int, share: float, line: int) -> None:
    """Wherever a piece lies within its range, it covers no less of a line than its least chord (shapely)."""
    variant = Variant(place_outline(outline), 0.0, False, 0, 0.0, float(room))
    for y in (share * room, 1e-5, room - 1e-5):
        if 0 <= y <= room:
            assert _least_chord(variant, float(line)) <= chord(variant.outline + (0, y), float(line)) + 1e-2


def test_the_waist_of_an_hourglass() -> None:
    """An hourglass 100 long at its ends and 20 at its waist, free by 60: a line crosses it at 20 at the least."""
    glass = np.array([(0, 0), (100, 0), (60, 50), (100, 100), (0, 100), (40, 50)], dtype=float)
    assert _least_chord(Variant(glass, 0.0, False, 0, 0.0, 60.0), 80.0) == pytest.approx(20)


def test_a_piece_that_moves_into_a_hollow_of_another_stretch() -> None:
    """Two ells 400 long, whose stems leave room for a bar of 360 x 400 each, and a pair of 400: 1,200 in all.

    With the bars folded it takes 1,560, and on a line along the cloth all of that is covered; opened out, they lie in
    the hollows of the ells, and no bound may deny that.
    """
    ell = [(0.0, 0.0), (400.0, 0.0), (400.0, 390.0), (40.0, 390.0), (40.0, 980.0), (0.0, 980.0)]
    bar, side = ([(0.0, 0.0), (x, 0.0), (x, y), (0.0, y)] for x, y in ((360.0, 400.0), (400.0, 450.0)))
    pieces = [
        Piece("ell", sides(ell, [0.0] * 6), cut=2),
        Piece("bar", sides(bar, [0.0] * 4), cut=2, mirrored_pair=True),
        Piece("side", sides(side, [0.0] * 4), cut=2, mirrored_pair=True),
    ]
    cloth = Fabric("velvet", mm(1000.0), nap=True)
    assert lower_bound(fold_then_open(pieces, cloth, most=0))[0] <= 1200 + 1e-6
    opened = solve(lay_pieces([pieces[0], pieces[1]], cloth, "open"), MaxIterations(50)).marker.length
    assert opened == pytest.approx(800, abs=0.1)  # and 400 of folded cloth before it
