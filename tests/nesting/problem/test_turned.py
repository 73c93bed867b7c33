"""Garments turned on the nap by garment: how many are turned is free, and no proof may forget it.

A chevron is a V of 600 x 500; two nest into 600 x 700 (hand reckoning: the second 200 further across) only if both
point one way.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from nesting.cloth.fabric import Fabric
from nesting.fit.fitting import fit_pieces
from nesting.fit.remnant import Remnant
from nesting.folds.fold_then_open import fold_then_open
from nesting.marker.opinion import check
from nesting.placing.question import cannot_lie_within
from nesting.problem.lay import lay_pieces
from nesting.proof.slices import slice_bound
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from nesting.verify import verify
from pieces import Piece
from pieces.length import mm
from tests.make.cloth import front, patch
from tests.make.outlines import sides

if TYPE_CHECKING:
    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem

VELVET = Fabric("velvet", mm(700.0), nap="by garment")
CHEVRON = [(0, 0), (300, 300), (600, 0), (600, 200), (300, 500), (0, 200)]


def laid(problem: Problem, iterations: int = 40) -> Marker:
    """The marker of a short search, checked once more."""
    marker = solve(problem, MaxIterations(iterations)).marker
    check(marker)
    return marker


def chevron() -> Piece:
    """A broad V, 600 along the cloth and 500 across."""
    return Piece("chevron", sides([(float(x), float(y)) for x, y in CHEVRON], [0.0] * 6))


def test_all_turned_one_way_where_that_is_shorter() -> None:
    """Two chevrons, nap by garment: nested one way they take 600 of cloth 700 wide; with one turned, 900 or more."""
    problem = lay_pieces([chevron()], VELVET, "open", garments=2)
    result = solve(problem, MaxIterations(40))
    assert result.marker.length == pytest.approx(600)
    assert result.bound <= result.marker.length


def test_a_proof_by_garment_holds_for_any_number_turned() -> None:
    """On 700 x 640 two chevrons, nap by garment, fit: no bound, slices nor places may say that they do not."""
    fitting = fit_pieces(
        [chevron()],
        Remnant(mm(700), mm(640), nap="by garment"),
        ("open",),
        lambda: (MaxIterations(200),),
        proof=1.0,
        garments=2,
    )
    assert fitting.answer == "yes"
    problem = lay_pieces([chevron()], VELVET, "open", garments=2)
    assert slice_bound(problem, 1.0)[0] <= 600
    assert not cannot_lie_within(problem, 600, (), 1.0)
    half_turned = replace(problem, alternatives=(), loosest=None)
    assert cannot_lie_within(half_turned, 600, (), 5.0)  # true of that alone


def test_a_garment_is_turned_in_both_stretches() -> None:
    """Folded and then opened out, nap by garment: a garment is turned in both stretches, or in neither."""
    pieces = [front(), chevron()]
    marker = laid(fold_then_open(pieces, VELVET, garments=2))
    verify(marker, pieces, VELVET, "fold-then-open", garments=2)
    assert len(marker.problem.stretches) == 2
    assert all(len(other.stretches) == 2 for other in marker.problem.alternatives)


def test_two_plies_cut_two_garments_at_once() -> None:
    """A stack of two plies face up, nap by garment: one placement cuts a patch for both garments, nothing wasted."""
    marker = laid(lay_pieces([patch()], VELVET, "face-up", garments=2, plies=2))
    assert [(item.name, item.quantity, item.yields) for item in marker.problem.items] == [("patch", 1, 2)]
    marker = laid(lay_pieces([patch()], VELVET, "face-up", garments=2, plies=2, waste_twins=True))
    assert len(marker.placements) == 1
