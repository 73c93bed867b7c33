"""The second opinion: it accepts a good marker, and refuses each kind of broken one."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from nesting.cloth.band import Band
from nesting.cloth.fabric import Fabric
from nesting.errors import CheckError
from nesting.marker.marker import Marker, Placement
from nesting.marker.opinion import check
from nesting.problem.item import Item, Variant
from nesting.problem.lay import lay_pieces
from nesting.problem.problem import Problem
from pieces.length import mm
from tests.make.cloth import back, front, in_a_row, tab

TWILL = Fabric("twill", mm(1000.0))
TRIANGLE = [(0, 0), (100, 0), (0, 100)]


@pytest.fixture
def good() -> Marker:
    """Half a back on the fold, a front and a tab beside it on folded cloth, 5 mm apart; laid by hand.

    Way 0 of each is the piece as drawn. The slants run from (0, 150) to (200, 100): parallel, 10 mm across apart.
    """
    problem = lay_pieces([back(), front(), tab()], replace(TWILL, gap=mm(5.0)), "folded")
    placements = (Placement(0, 0, 0, 0.0, 0.0), Placement(1, 0, 0, 0.0, 155.0), Placement(2, 0, 0, 0.0, 310.0))
    return Marker(problem, placements, 200.0)


def moved(marker: Marker, which: int, /, **changes: Any) -> Marker:
    """The marker with one placement changed."""
    placements = tuple(replace(p, **changes) if p.item == which else p for p in marker.placements)
    return replace(marker, placements=placements)


def test_good_marker(good: Marker) -> None:
    """The marker laid by hand can be cut; shapely finds its outlines apart and inside."""
    check(good)
    shapes = [shapely.Polygon(outline) for *_, outline in good.outlines()]
    assert min(a.distance(b) for a in shapes for b in shapes if a is not b) >= 5


@pytest.mark.parametrize(
    ("item", "changes", "why"),
    [
        (1, {"y": 90.0}, "'back' and 'front' overlap by"),
        (1, {"y": 152.0}, r"'back' and 'front' are 2\.\d+ mm apart instead of 5"),
        (1, {"x": 1.0}, "'front' lies from 1.000 to 201.000; the marker ends at 200"),
        (1, {"x": -1.0}, "'front' lies from -1.000"),
        (2, {"y": 460.0}, "'tab' lies from 460.000 to 510.000 across"),
        (2, {"y": -1.0}, "'tab' lies from -1.000 to 49.000 across"),
        (0, {"y": 1.0}, "'back' lies at 1.000 across, it may lie at 0.000 to 0.000"),
        (1, {"variant": 4}, "'front' lies in a way that is not allowed"),
        (1, {"variant": -1}, "'front' lies in a way that is not allowed"),
        (2, {"copy": 1}, "copy 1 of 'tab' lies on the cloth 0 times"),
        (2, {"item": 1}, "copy 1 of 'tab' lies on the cloth 0 times"),
        (2, {"item": 7}, "lies on the cloth"),
        (2, {"x": float("nan")}, "no finite place"),
        (2, {"y": float("inf")}, "no finite place"),
    ],
)
def test_one_piece_wrong(good: Marker, item: int, changes: dict[str, Any], why: str) -> None:
    """One piece moved, lost, doubled or turned as it may not be: refused by name."""
    with pytest.raises(CheckError, match=why):
        check(moved(good, item, **changes))


@pytest.mark.parametrize("length", [199.0, 0.0, -200.0, float("nan"), float("inf")])
def test_length_that_is_none(good: Marker, length: float) -> None:
    """A marker shorter than its pieces, or of no length at all, is refused."""
    with pytest.raises(CheckError):
        check(replace(good, length=length))


@pytest.mark.parametrize("placements", [(), (Placement(0, 0, 0, 0.0, 0.0),)])
def test_pieces_left_out(good: Marker, placements: tuple[Placement, ...]) -> None:
    """A marker without all its pieces is refused."""
    with pytest.raises(CheckError, match="0 times instead of once"):
        check(replace(good, placements=placements))


def test_piece_laid_twice(good: Marker) -> None:
    """The same copy cannot lie in two places."""
    with pytest.raises(CheckError, match="copy 1 of 'tab' lies on the cloth 2 times"):
        check(replace(good, placements=(*good.placements, Placement(2, 0, 0, 100.0, 310.0))))


def test_turned_though_napped(good: Marker) -> None:
    """A front turned end for end is none of the ways of napped cloth: a marker of plain cloth is refused there."""
    assert [v.turn for v in good.problem.items[1].variants] == [0, 180, 0, 180]
    napped = lay_pieces([back(), front(), tab()], replace(TWILL, gap=mm(5.0), nap=True), "folded")
    check(replace(good, problem=napped))
    turned = moved(good, 1, variant=3, y=155.0)
    with pytest.raises(CheckError, match="'front' lies in a way that is not allowed"):
        check(replace(turned, problem=napped))


def test_half_off_its_fold(good: Marker) -> None:
    """A half that the problem wrongly lets lie in the middle is still refused: it lies on no fold."""
    item = good.problem.items[0]
    loose = replace(item, variants=tuple(replace(v, low=0.0, high=300.0) for v in item.variants))
    problem = replace(good.problem, items=(loose, *good.problem.items[1:]))
    marker = Marker(problem, (Placement(0, 0, 0, 300.0, 100.0), *good.placements[1:]), 500.0)
    with pytest.raises(CheckError, match="'back' is half a piece, but is not on a fold"):
        check(marker)


def test_two_triangles_make_a_square() -> None:
    """Touching along the whole diagonal is no overlap; moved along by 0.02 mm, they overlap by that over root 2."""
    problem = Problem.from_outlines(100, [TRIANGLE, TRIANGLE], [1, 1], [[0.0], [180.0]])
    for by in (0.0, 0.001, 0.0141):
        check(Marker(problem, (Placement(0, 0, 0, by, 0.0), Placement(1, 0, 0, 0.0, 0.0)), 100.0 + by))
    with pytest.raises(CheckError, match=r"overlap by 0\.014 mm"):
        check(Marker(problem, (Placement(0, 0, 0, 0.02, 0.0), Placement(1, 0, 0, 0.0, 0.0)), 100.02))


@pytest.mark.parametrize("length", [1.0, 1_000.0, 1_000_000.0])
@pytest.mark.parametrize("deep", [1e-7, 1e-5, 0.0099, 0.0101, 0.1])
def test_what_counts_is_depth_not_area(length: float, deep: float) -> None:
    """Two panels one above the other share a sliver, long or short: what decides is how deep it is, 0.01 mm."""
    panel = [(0, 0), (length, 0), (length, 50), (0, 50)]
    problem = Problem.from_outlines(200, [panel], [2], [[0.0]])
    marker = Marker(problem, (Placement(0, 0, 0, 0.0, 0.0), Placement(0, 1, 0, 0.0, 50.0 - deep)), length)
    if deep < 0.01:
        check(marker)
    else:
        with pytest.raises(CheckError, match=f"overlap by {deep:.3f} mm"):
            check(marker)


@pytest.mark.parametrize("wide", [0.05, 0.1, 1.0])
def test_a_small_spike_is_deep(wide: float) -> None:
    """A spike that reaches 0.1 mm into its neighbour is refused, though they share less than a hundredth of a mm²."""
    spiked = [(0, 0), (100, 0), (100, 50), (50 + wide / 2, 50), (50, 50.1), (50 - wide / 2, 50), (0, 50)]
    above = [(0, 0), (100, 0), (100, 50), (0, 50)]
    problem = Problem.from_outlines(200, [spiked, above], [1, 1], [[0.0], [0.0]])
    check(Marker(problem, (Placement(0, 0, 0, 0.0, 0.0), Placement(1, 0, 0, 0.0, 50.1)), 100.0))
    with pytest.raises(CheckError, match=r"overlap by 0\.0\d+ mm"):
        check(Marker(problem, (Placement(0, 0, 0, 0.0, 0.0), Placement(1, 0, 0, 0.0, 50.0)), 100.0))


@pytest.mark.parametrize(("x", "y"), [(0.02, 0.0), (-0.02, 0.0), (0.0, 0.02), (0.0, -0.02)])
def test_sticking_out(x: float, y: float) -> None:
    """A piece as large as the cloth may stick out of it by half a hundredth of a mm on any side, not by two."""
    problem = Problem.from_outlines(50, [[(0, 0), (100, 0), (100, 50), (0, 50)]], [1], [[0.0]])
    check(Marker(problem, (Placement(0, 0, 0, x / 4, y / 4),), 100.0))
    with pytest.raises(CheckError, match="lies from"):
        check(Marker(problem, (Placement(0, 0, 0, x, y),), 100.0))


def test_gap_to_the_tolerance() -> None:
    """A gap of 5 mm may be 4.995, not 4.98."""
    problem = Problem.from_outlines(200, [[(0, 0), (100, 0), (100, 50), (0, 50)]], [2], [[0.0]], gap=5.0)
    check(Marker(problem, (Placement(0, 0, 0, 0.0, 0.0), Placement(0, 1, 0, 0.0, 54.995)), 100.0))
    with pytest.raises(CheckError, match=r"4\.980 mm apart instead of 5\.000"):
        check(Marker(problem, (Placement(0, 0, 0, 0.0, 0.0), Placement(0, 1, 0, 0.0, 54.98)), 100.0))


def test_piece_inside_another() -> None:
    """A small piece wholly within a large one overlaps it."""
    square = [(0, 0), (10, 0), (10, 10), (0, 10)]
    problem = Problem.from_outlines(100, [TRIANGLE, square], [1, 1], [[0.0], [0.0]])
    with pytest.raises(CheckError, match=r"overlap by 10\.0"):
        check(Marker(problem, (Placement(0, 0, 0, 0.0, 0.0), Placement(1, 0, 0, 20.0, 20.0)), 100.0))


def test_outline_that_crosses_itself() -> None:
    """A bow tie is no outline to cut."""
    bow = [(0, 0), (100, 100), (100, 0), (0, 90)]
    problem = Problem.from_outlines(100, [bow], [1], [[0.0]])
    with pytest.raises(CheckError, match="crosses itself"):
        check(in_a_row(problem))


@given(st.lists(st.tuples(st.integers(1, 90), st.integers(1, 90)), min_size=1, max_size=8), st.floats(0, 5))
def test_all_in_a_row_is_a_marker(sizes: list[tuple[int, int]], gap: float) -> None:
    """Rectangles one behind another, the gap between them, can always be cut."""
    boxes = [[(0, 0), (x, 0), (x, y), (0, y)] for x, y in sizes]
    check(in_a_row(Problem.from_outlines(100, boxes, [2] * len(boxes), [[0.0]] * len(boxes), gap=gap)))


@given(st.floats(-120, 120), st.floats(-100, 100), st.sampled_from([0.0, 3.0]))
def test_agrees_with_shapely(x: float, y: float, gap: float) -> None:
    """Two triangles anywhere: refused just when shapely finds them overlapping, or closer than the gap."""
    problem = Problem.from_outlines(500, [TRIANGLE], [2], [[0.0]], gap=gap)
    marker = Marker(problem, (Placement(0, 0, 0, 150.0, 150.0), Placement(0, 1, 0, 150.0 + x, 150.0 + y)), 500.0)
    one, other = (shapely.Polygon(outline) for *_, outline in marker.outlines())
    bad = one.intersection(other).area > 1 or one.distance(other) < gap - 0.01
    fine = not one.overlaps(other) and not one.equals(other) and one.distance(other) >= gap
    try:
        check(marker)
        assert not bad
    except CheckError:
        assert not fine


@pytest.mark.parametrize(("low_edge", "high_edge"), [("selvedge", "fold"), ("fold", "selvedge")])
def test_half_on_a_selvedge(low_edge: Any, high_edge: Any) -> None:
    """A half laid along the selvedge, where the problem wrongly lets it lie, is on no fold; on the fold it may lie."""
    half = np.array([(0, 0), (100, 0), (100, 40), (0, 40)], dtype=float)
    ways = (Variant(half, 0.0, False, 0, 0.0, 60.0, on_fold=True),)
    band = Band("folded cloth", 0.0, 100.0, 2, True, low_edge, high_edge)
    problem = Problem((band,), (Item("back", 1, ways),))
    on, off = (60.0, 0.0) if low_edge == "selvedge" else (0.0, 60.0)
    check(Marker(problem, (Placement(0, 0, 0, 0.0, on),), 100.0))
    with pytest.raises(CheckError, match="'back' is half a piece, but is not on a fold"):
        check(Marker(problem, (Placement(0, 0, 0, 0.0, off),), 100.0))


def test_a_piece_over_a_fault() -> None:
    """A piece that lies over a fault, or nearer to it than the gap, is refused; two faults may touch."""
    square = [(0, 0), (100, 0), (100, 100), (0, 100)]
    fault, beside = (np.array([(x, 40), (x + 20, 40), (x + 20, 60), (x, 60)], dtype=float) for x in (150, 170))
    problem = replace(Problem.from_outlines(100, [square], [1], [[0.0]], gap=5.0), faults=(fault, beside))
    check(Marker(problem, (Placement(0, 0, 0, 0.0, 0.0),), 100.0))
    for x, why in ((80.0, "overlap"), (47.0, r"3\.000 mm apart")):
        with pytest.raises(CheckError, match=f"'a fault in the cloth'.* {why}|'a fault in the cloth' {why}"):
            check(Marker(problem, (Placement(0, 0, 0, x, 0.0),), 300.0))
