"""Proofs that pieces do not fit within a length: cases known by hand, and layouts that are there are never denied."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.cloth.fabric import Fabric
from nesting.fit.fitting import SLACK
from nesting.fit.remnant import Zone, apart
from nesting.marker.marker import Marker, Placement
from nesting.marker.opinion import check
from nesting.placing.question import cannot_lie_within
from nesting.problem.lay import lay_pieces
from nesting.problem.problem import Problem
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from pieces.length import mm
from tests.make.cloth import back
from tests.make.polygons import star
from tests.nesting.fit.test_fitting import cut_up
from tests.nesting.folds.test_depth import panel

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

SQUARE = np.array([[0, 0], [40, 0], [40, 40], [0, 40]], dtype=float)
TRIANGLE = np.array([[0, 0], [100, 0], [0, 100]], dtype=float)


def laid(
    width: float, outlines: Sequence[NDArray[np.float64]], *, copies: int = 1, turns: Sequence[float] = (0.0,)
) -> Problem:
    """Each outline some times on a strip, in any of some turns."""
    return Problem.from_outlines(width, outlines, [copies] * len(outlines), [list(turns)] * len(outlines))


@pytest.mark.parametrize(("length", "proved"), [(70.0, True), (79.0, True), (80.0, False), (90.0, False)])
def test_three_squares(length: float, proved: bool) -> None:
    """Three squares of 40 on 100 lie two and one: they need 80 and no more, and their area but 48."""
    assert cannot_lie_within(laid(100, [SQUARE], copies=3), length, (), 1.0) is proved


def test_triangles_interlock_only_turned() -> None:
    """Two right triangles of 100 make a square of 100, one of them turned; if neither may be turned they need 200."""
    assert not cannot_lie_within(laid(100, [TRIANGLE], copies=2, turns=(0, 180)), 100.01, (), 1.0)
    assert cannot_lie_within(laid(100, [TRIANGLE], copies=2), 180, (), 1.0)
    assert not cannot_lie_within(laid(100, [TRIANGLE], copies=2), 200, (), 1.0)


@pytest.mark.parametrize(("end", "proved"), [(60.0, False), (70.0, True)])
def test_a_cut_out_stays_where_it_is(end: float, proved: bool) -> None:
    """On 100 x 100, two squares of 40 pass one end of a cut-out right across if it leaves 40 there, else neither."""
    zone = Zone(35.0, end, 0.0, 100.0)
    assert cannot_lie_within(laid(100, [SQUARE], copies=2), 100.0, [zone.outline], 1.0) is proved


def test_too_long_for_the_cloth() -> None:
    """A square of 40 does not lie on 39."""
    assert cannot_lie_within(laid(100, [SQUARE]), 39.0, (), 1.0)


def test_no_effort_no_proof() -> None:
    """Without effort nothing is proved."""
    assert not cannot_lie_within(laid(100, [SQUARE], copies=3), 70.0, (), 0.0)


@pytest.mark.parametrize("seed", range(8))
def test_what_fits_to_the_last_thread_is_never_denied(seed: int) -> None:
    """A rectangle cut up, some of its parts being cut-outs: the rest fits by construction."""
    parts = cut_up(100.0, 140.0, 6, seed)
    lost, pieces = apart(parts[: seed % 4]), parts[seed % 4 :]
    problem = laid(100.0, [zone.outline - (zone.start, zone.low) for zone in pieces])
    assert not cannot_lie_within(problem, 140.0 + SLACK, [zone.outline for zone in lost], 0.3)


@settings(max_examples=12)
@given(st.lists(star(), min_size=2, max_size=4))
def test_a_layout_that_passed_the_check_is_never_denied(outlines: list[NDArray[np.float64]]) -> None:
    """Outlines of any shape, laid by the search and checked by shapely: no proof denies that length."""
    width = max(float(np.ptp(outline[:, 1])) for outline in outlines) * 1.5
    marker = solve(laid(width, outlines, turns=(0.0, 180.0)), MaxIterations(3)).marker
    assert not cannot_lie_within(marker.problem, marker.length + SLACK, (), 0.2)


def test_where_others_may_stand_in_nothing_is_denied() -> None:
    """Four halves take 800 on the fold, and 400 if two are opened out on the single part: 400 is not denied."""
    problem = lay_pieces([replace(back(), cut=4)], Fabric("cloth", mm(620.0)), "part-folded", depth=mm(160.0))
    assert problem.choices
    assert not cannot_lie_within(problem, 400.0 + SLACK, (), 1.0)


def test_halves_are_not_held_to_lie_whole() -> None:
    """Two halves lie one behind another on the fold, a strip beside them: 800, where the two as one whole take 1200."""
    pieces = [replace(panel("half", 400, 280, fold=True), cut=2), panel("strip", 800, 300, pair=True)]
    problem = lay_pieces(pieces, Fabric("cloth", mm(1200.0)), "folded")
    assert problem.to_prove.choices
    assert solve(problem, MaxIterations(0)).marker.length == pytest.approx(800.0)
    assert not cannot_lie_within(problem, 800.0 + SLACK, (), 1.0)


def test_two_with_a_gap_beside_one_another() -> None:
    """Two squares of 40, 10 apart, lie beside one another on 90 of cloth, and on 85 only one behind the other."""
    assert not cannot_lie_within(replace(laid(90, [SQUARE], copies=2), gap=10.0), 40.0 + SLACK, (), 1.0)
    tight = replace(laid(85, [SQUARE], copies=2), gap=10.0)
    assert cannot_lie_within(tight, 75.0, (), 1.0)
    assert not cannot_lie_within(tight, 90.0 + SLACK, (), 1.0)


def test_a_piece_in_the_hollow_of_another_is_not_denied() -> None:
    """A C of 90 x 90, its mouth 30 x 60 to the side, and a bar of 50 x 25 in it: 90 long on 90 of cloth."""
    c = np.array([[0, 0], [90, 0], [90, 90], [60, 90], [60, 30], [30, 30], [30, 90], [0, 90]], dtype=float)
    bar = np.array([[0, 0], [25, 0], [25, 50], [0, 50]], dtype=float)
    problem = laid(90, [c, bar])
    check(Marker(problem, (Placement(0, 0, 0, 0.0, 0.0), Placement(1, 0, 0, 32.0, 38.0)), 90.0))
    assert not cannot_lie_within(problem, 90.0 + SLACK, (), 1.0)
