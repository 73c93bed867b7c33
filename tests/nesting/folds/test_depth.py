"""Cloth folded in part: the depths that are tried, and what is proved of all depths."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from nesting.cloth.fabric import Fabric
from nesting.errors import NestingError, PieceTooWideError, SpreadError
from nesting.folds.depth import _depths, fold_in_part, folded_at
from nesting.problem.lay import lay_pieces
from nesting.proof.bounds import lower_bound
from nesting.proof.slices import slice_bound
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from nesting.verify import Asked, verify_asked
from pieces import Piece
from pieces.length import mm
from tests.make.outlines import sides

METRE = Fabric("cloth", mm(1000.0))


def panel(name: str, length: float, width: float, *, fold: bool = False, pair: bool = False) -> Piece:
    """A rectangle, mm: alone, half of one on a fold, or a left and a right."""
    corners = [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)]
    edges = sides(corners, [0.0] * 4, fold=0 if fold else None)
    return Piece(name, edges, cut=2 if pair else 1, mirrored_pair=pair)


def pairs_and_halves() -> list[Piece]:
    """Six pairs that ask for deep folds, and two halves: 155 mm deep, one lies on the fold and one whole beside it."""
    pairs = [panel(f"pair {i}", 10, 350 + 10 * i, pair=True) for i in range(6)]
    return [*pairs, panel("a", 500, 155, fold=True), panel("b", 500, 155, fold=True)]


def test_depths_come_from_all_pieces() -> None:
    """The best depth is that of the narrowest piece, the last of all: the marker there is half as long as deep ones."""
    depth, problem = fold_in_part(pairs_and_halves(), METRE)
    assert depth == pytest.approx(155.0, abs=0.01)
    assert solve(problem, MaxIterations(0)).marker.length == pytest.approx(540.0, abs=0.01)
    for other in (350.001, 400.001):
        deep = lay_pieces(pairs_and_halves()[-2:], METRE, "part-folded", depth=mm(other))
        assert lower_bound(deep)[0] > 999.0


def test_depths_are_those_that_pieces_fill() -> None:
    """Pairs of 120 and 95 mm, selvedges of 10: filled by one, by two, and leaving a single part that one or two fill.

    By hand: the folded part is the depth less a selvedge, the single part the width less a selvedge and
    twice the depth.
    """
    pieces = [panel("wide", 800, 120, pair=True), panel("narrow", 700, 95, pair=True)]
    cloth = Fabric("cloth", mm(700.0), mm(10.0))
    by_one, by_two = _depths(pieces, cloth)
    assert sorted(by_one) == pytest.approx([105, 130, 285, 297.5], abs=0.01)
    assert sorted(by_two) == pytest.approx([200, 225, 225, 237.5, 250, 250], abs=0.01)


def test_a_shallow_fold_lays_what_deep_ones_refuse() -> None:
    """Beside a piece 780 mm wide no more than 110 mm are folded over, and no piece needs just that for itself."""
    pieces = [panel("wide", 300, 780), panel("pair", 200, 440, pair=True), panel("half", 300, 105, fold=True)]
    cloth = Fabric("cloth", mm(1000.0))
    with pytest.raises(NestingError):
        lay_pieces(pieces, cloth, "part-folded", depth=mm(440.0))
    depth, problem = fold_in_part(pieces, cloth)
    assert 104.9 < depth <= 110.0
    verify_asked(solve(problem, MaxIterations(1)).marker, Asked.of(pieces, cloth, "part-folded", depth=depth))
    assert any(found == pytest.approx(110.0, abs=0.01) for found in _depths(pieces, cloth)[0])


def test_refusals_say_what_was_tried() -> None:
    """Wider than the cloth laid open is refused at any depth; where depths were tried, the words say how many."""
    with pytest.raises(PieceTooWideError):
        fold_in_part([panel("wide", 300, 1001)], METRE)
    pieces = [panel("wide", 300, 960), panel("pair", 300, 60, pair=True)]
    with pytest.raises(
        SpreadError, match=r"does not hold the pieces at any of \d+ depths tried; at the first, 'wide' needs"
    ):
        fold_in_part(pieces, Fabric("cloth", mm(1000.0), mm(15.0)))


@pytest.mark.parametrize("seed", range(12))
def test_proofs_hold_at_every_depth(seed: int) -> None:
    """However deep the cloth is folded, no marker found is shorter than what is proved at another depth."""
    rng = np.random.default_rng(seed)
    pieces = []
    for number in range(int(rng.integers(2, 6))):
        kind = int(rng.integers(3))
        length, width = rng.uniform(100, 600), rng.uniform(60, 330)
        pieces.append(panel(f"p{number}", length, width, fold=kind == 1, pair=kind == 2))
    fabric = Fabric("cloth", mm(1000.0), mm(float(rng.choice([0.0, 12.0]))), gap=mm(float(rng.choice([0.0, 5.0]))))
    _, problem = fold_in_part(pieces, fabric, most=1)
    bound = max(lower_bound(problem)[0], slice_bound(problem, 0.05)[0], solve(problem, MaxIterations(2)).bound)
    laid = 0
    for depth in rng.uniform(fabric.selvedge + 20, 490, 12):
        try:
            other = lay_pieces(pieces, fabric, "part-folded", depth=mm(float(depth)))
        except NestingError:
            continue
        laid += 1
        assert solve(other, MaxIterations(3)).marker.length >= bound
        assert lower_bound(folded_at(float(depth), pieces, fabric))[0] == pytest.approx(lower_bound(problem)[0])
    assert laid


def test_a_proof_at_one_depth_knows_of_twins_wasted() -> None:
    """Three of 500 x 200: 240 mm single hold one, and 380 mm folded one more, its twin wasted: 1000 mm, not 1500."""
    ones = [replace(panel(f"one {i}", 500, 200), mirrored_pair=False) for i in range(3)]
    problem = lay_pieces(ones, METRE, "part-folded", depth=mm(380.0), waste_twins=True)
    assert lower_bound(lay_pieces(ones, METRE, "part-folded", depth=mm(380.0)))[0] > 1499.0
    assert max(lower_bound(problem)[0], slice_bound(problem, 0.1)[0], solve(problem, MaxIterations(0)).bound) <= 1000.0


def test_a_proof_at_one_depth_knows_of_halves_laid_whole() -> None:
    """Two halves of 500 x 150, whole 300 x 500: in both layers of 300 mm at once 500 mm, not 1000 on their fold."""
    half = replace(panel("half", 500, 150, fold=True), cut=2)
    problem = lay_pieces([half], Fabric("cloth", mm(650.0)), "part-folded", depth=mm(300.0))
    assert max(lower_bound(problem)[0], slice_bound(problem, 0.1)[0], solve(problem, MaxIterations(0)).bound) <= 500.0


def test_what_is_proved_of_one_depth_is_not_said_of_all() -> None:
    """At 400 mm two halves need 1000 mm, proved; what is said of all depths stays below the 500 mm of another depth."""
    pieces = pairs_and_halves()[-2:]
    assert lower_bound(lay_pieces(pieces, METRE, "part-folded", depth=mm(400.0)))[0] > 999.0
    assert lower_bound(folded_at(400.0, pieces, METRE))[0] <= 500.0
