"""Pieces moved by hand: back to where they may lie, touching what is there; told where they may not lie."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from nesting.cloth.band import Band
from nesting.cloth.repeat import Repeat
from nesting.edit.by_hand import REACH, SNAP, laid_again, put, snap, with_places
from nesting.errors import CheckError, NestingError
from nesting.marker.marker import Marker, Placement
from nesting.marker.opinion import check
from nesting.problem.item import Item, Variant
from nesting.problem.problem import Problem
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations

SQUARE = np.array([(0, 0), (100, 0), (100, 100), (0, 100)], dtype=float)
LEG = np.array([(0, 0), (200, 0), (200, 50), (50, 50), (50, 200), (0, 200)], dtype=float)


def squares(gap: float = 0.0) -> Marker:
    """Two squares of 100 mm on cloth 300 mm wide, at the start and 150 mm behind it."""
    problem = Problem.from_outlines(300, [SQUARE], [2], [[0, 180]], gap=gap)
    return Marker(problem, (Placement(0, 0, 0, 0, 0), Placement(0, 1, 0, 150, 0)), 250)


def moved(marker: Marker, number: int, x: float, y: float, turn: float | None = None) -> tuple[float, float]:
    """Where a piece comes to lie; the marker with it there has passed the check."""
    place = snap(marker, number, x, y, turn)
    assert place is not None
    placements = list(marker.placements)
    placements[number] = place
    check(laid_again(marker, placements))
    return place.x, place.y


def test_pushed_into_another_goes_back_to_touch() -> None:
    """Let go 30 mm over the other square, a square goes back those 30 mm, and touches it."""
    assert moved(squares(), 1, 70, 0) == pytest.approx((100, 0), abs=1e-3)


def test_let_go_near_goes_on_to_touch() -> None:
    """Let go less than the snap away from the other square, a square goes on to it; farther away it stays."""
    assert moved(squares(), 1, 100 + SNAP - 1, 50) == pytest.approx((100, 50), abs=1e-3)
    assert moved(squares(), 1, 100 + SNAP + 1, 50) == pytest.approx((100 + SNAP + 1, 50))


def test_gap_is_kept() -> None:
    """With a gap of 5 mm a square comes to lie 5 mm off the other."""
    assert moved(squares(gap=5), 1, 80, 20) == pytest.approx((105, 20), abs=0.01)


def test_let_go_off_the_cloth_comes_back_to_its_edge() -> None:
    """Let go with 40 mm over the cloth's edge, a square comes back to the edge; before the start, to the start."""
    assert moved(squares(), 1, 130, 240) == pytest.approx((130, 200), abs=1e-6)
    assert moved(squares(), 1, -30, 150) == pytest.approx((0, 150), abs=1e-6)


def test_nothing_within_reach() -> None:
    """In the middle of a piece wider than the reach there is no place near; put there, a square fails the check."""
    wide = np.array([(0, 0), (500, 0), (500, 300), (0, 300)], dtype=float)
    problem = Problem.from_outlines(300, [wide, SQUARE], [1, 1], [[0], [0]])
    marker = Marker(problem, (Placement(0, 0, 0, 0, 0), Placement(1, 0, 0, 500, 0)), 600)
    assert REACH < 100
    assert snap(marker, 1, 200, 100) is None
    with pytest.raises(CheckError, match="overlap"):
        check(laid_again(marker, [marker.placements[0], put(marker, 1, 200, 100)]))


def test_slides_into_a_hollow() -> None:
    """A square let go near the inner corner of an L goes into it, and touches both its sides (worked out by hand)."""
    problem = Problem.from_outlines(300, [LEG, SQUARE], [1, 1], [[0], [0]])
    marker = Marker(problem, (Placement(0, 0, 0, 0, 0), Placement(1, 0, 0, 300, 0)), 400)
    assert moved(marker, 1, 30, 35) == pytest.approx((50, 50), abs=0.01)


def test_a_hole_that_just_fits() -> None:
    """A place where a square just fits is found: between two others exactly as far apart as it is wide."""
    problem = Problem.from_outlines(100, [SQUARE], [3], [[0]])
    marker = Marker(problem, tuple(Placement(0, i, 0, x, 0) for i, x in enumerate((0, 200, 300))), 400)
    assert moved(marker, 2, 110, 0) == pytest.approx((100, 0), abs=1e-3)


def test_held_fast() -> None:
    """A square between two others that are nearer than it is wide, by less than the check minds, goes back there."""
    wide = np.array([(0, 0), (1, 0), (1, 300), (0, 300)], dtype=float)
    problem = Problem.from_outlines(300, [SQUARE, wide], [1, 2], [[0], [0]])
    less = 4e-7
    bars = Placement(1, 0, 0, less, 0), Placement(1, 1, 0, 101 - less, 0)
    marker = Marker(problem, (Placement(0, 0, 0, 1, 100), *bars), 102)
    assert moved(marker, 0, 4, 103) == (1, 100)


def test_turned() -> None:
    """An L turned by half lies in its other way; a turn that the cloth forbids is refused, with those it allows."""
    problem = Problem.from_outlines(300, [LEG], [2], [[0, 180]])
    marker = Marker(problem, (Placement(0, 0, 0, 0, 0), Placement(0, 1, 0, 300, 0)), 500)
    place = snap(marker, 1, 20, 45, 180)
    assert place is not None
    assert problem.items[0].variants[place.variant].turn == 180
    assert (place.x, place.y) == pytest.approx((20, 50), abs=0.01)  # its arm over the other's arm, by hand
    with pytest.raises(NestingError, match="allowed turns are 0, 180"):
        snap(marker, 1, 60, 60, 90)


def test_on_the_fold_it_stays_on_the_fold() -> None:
    """A half pinned to the fold moves along it alone, up to the next half."""
    band = Band("folded cloth", 0, 300, 2, True, "fold", "selvedge")
    half = Variant(SQUARE.copy(), 0, False, 0, 0, 0, on_fold=True)
    problem = Problem((band,), (Item("back", 2, (half,)),))
    marker = Marker(problem, (Placement(0, 0, 0, 0, 0), Placement(0, 1, 0, 200, 0)), 300)
    assert moved(marker, 1, 80, 40) == pytest.approx((100, 0), abs=1e-3)
    assert moved(marker, 1, 160, 30) == pytest.approx((160, 0))


@pytest.mark.parametrize(("along", "across"), [(40.0, 0.0), (0.0, 40.0), (40.0, 30.0)])
def test_pattern_lines_are_met(along: float, across: float) -> None:
    """On striped cloth a piece comes to lie on the lines, wherever it is let go; the check says so."""
    repeat = Repeat(along, across)
    lowest, highest = repeat.range_y((50, 50), 0, 200, 0) or (0, 0)
    way = Variant(SQUARE.copy(), 0, False, 0, lowest, highest, match=(50, 50))
    band = Band("open cloth", 0, 300)
    problem = Problem((band,), (Item("pocket", 2, (way,)),), repeat=repeat)
    low = way.low
    marker = Marker(problem, (Placement(0, 0, 0, 30, low), Placement(0, 1, 0, 150, low)), 250)
    for x, y in ((140.0, 20.0), (100.0, 90.0), (171.0, 130.0)):
        at = moved(marker, 1, x, y)
        assert np.hypot(at[0] - x, at[1] - y) < REACH


def test_never_illegal_never_far() -> None:
    """200 places at random: what is found passes the check, and lies no farther than the reach from where it was."""
    problem = Problem.from_outlines(400, [LEG, SQUARE], [3, 4], [[0, 180], [0, 180]])
    marker = solve(problem, MaxIterations(0)).marker
    rng = np.random.default_rng(0)
    found = 0
    for _ in range(200):
        number = int(rng.integers(len(marker.placements)))
        x, y = float(rng.uniform(-50, marker.length)), float(rng.uniform(-50, 400))
        place = snap(marker, number, x, y)
        if place is not None:
            found += 1
            assert np.hypot(*moved(marker, number, x, y) - np.array((x, y))) <= REACH
        else:
            assert touches_another(marker, number, x, y) or sticks_out(marker, number, y)
    assert 20 < found < 180


def touches_another(marker: Marker, number: int, x: float, y: float) -> bool:
    """By shapely: whether a piece put there lies over another."""
    after = laid_again(marker, [put(marker, i, x, y) if i == number else p for i, p in enumerate(marker.placements)])
    shapes = [shapely.Polygon(outline) for *_, outline in after.outlines()]
    return any(shapes[number].intersection(shape).area > 0 for i, shape in enumerate(shapes) if i != number)


def sticks_out(marker: Marker, number: int, y: float) -> bool:
    """Whether a piece put there sticks out over an edge of the cloth."""
    place = marker.placements[number]
    height = marker.problem.items[place.item].variants[place.variant].height
    return y < 0 or y + height > 400


def test_layout_by_hand() -> None:
    """Places for all pieces make a marker as long as they reach; too few, or no numbers, are refused."""
    marker = with_places(squares(), [(0, 0, None), (0, 100, 180)])
    check(marker)
    assert marker.length == 100
    with pytest.raises(NestingError, match="2 pieces lie on the cloth, but 1 places"):
        with_places(squares(), [(0, 0, None)])
    with pytest.raises(NestingError, match="no finite place"):
        with_places(squares(), [(0, 0, None), (float("nan"), 0, None)])
