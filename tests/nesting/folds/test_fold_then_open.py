"""Cloth folded for part of its length and then opened out: known by hand, and checked by shapely."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from nesting.cloth.fabric import Fabric
from nesting.errors import CheckError, SpreadError
from nesting.folds.fold_then_open import fold_then_open
from nesting.marker.marker import Marker
from nesting.marker.opinion import check
from nesting.marker.stretches import join_stretches, split_stretches
from nesting.problem.lay import lay_pieces
from nesting.proof.bounds import lower_bound
from nesting.proof.slices import slice_bound
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from pieces import Piece
from pieces.length import mm
from tests.make.outlines import sides

CLOTH = Fabric("twill", mm(1000.0))


def block(name: str, length: float, width: float, **more: object) -> Piece:
    """A rectangle, its grain along its length."""
    corners = [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)]
    return Piece(name, sides(corners, [0.0] * 4), **more)  # type: ignore[arg-type]


def wide_and_pair(**more: object) -> list[Piece]:
    """One piece 900 mm across and 300 long, and a pair each 500 across and 400 long."""
    return [block("wide", 300.0, 900.0), block("side", 400.0, 500.0, cut=2, mirrored_pair=True, **more)]


def test_known_by_hand() -> None:
    """The pair takes 400 mm of folded cloth, the wide piece 300 mm of it opened out: 700 mm, and no less."""
    problem = fold_then_open(wide_and_pair(), CLOTH)
    result = solve(problem, MaxIterations(3))
    marker = result.marker
    assert marker.length == pytest.approx(700.0)
    assert [(band.start, band.end, band.layers) for band in marker.problem.bands] == [(0, 400, 2), (400, 700, 1)]
    assert marker.density == pytest.approx((900 * 300 + 2 * 500 * 400) / (700 * 1000))
    assert lower_bound(problem)[0] <= 700.0


def test_gap_between_stretches() -> None:
    """The blade needs its gap where one stretch ends and the other begins, too."""
    marker = solve(fold_then_open(wide_and_pair(), replace(CLOTH, gap=mm(5.0))), MaxIterations(0)).marker
    assert marker.length == pytest.approx(705.0)


def test_a_proof_holds_wherever_pieces_lie() -> None:
    """A pair 900 x 100 that may lie across is 900 long folded; opened out, 350 do for all, and no proof denies that."""
    pieces = [
        block("wide", 100.0, 1000.0),
        block("bar", 900.0, 100.0, cut=2, mirrored_pair=True, lies="cross"),
        block("side", 50.0, 500.0, cut=2, mirrored_pair=True),
    ]
    stiff, free = (fold_then_open(pieces, CLOTH, most=most) for most in (0, 1))
    length = solve(free, MaxIterations(0)).marker.length
    assert length == pytest.approx(350.0)
    assert solve(stiff, MaxIterations(0)).marker.length > 1000.0
    for problem in (stiff, free):
        assert max(lower_bound(problem)[0], slice_bound(problem, 0.1)[0], solve(problem, MaxIterations(1)).bound) <= 350


def test_as_short_as_open() -> None:
    """Folded for the pair and opened for the rest is no shorter than open cloth, nor longer than the sum of both."""
    pieces = wide_and_pair()
    stretched = solve(fold_then_open(pieces, CLOTH), MaxIterations(3)).marker.length
    assert stretched >= solve(lay_pieces(pieces, CLOTH, "open"), MaxIterations(3)).bound - 1e-6


def test_pieces_choose_their_stretch() -> None:
    """Two pairs that would lie one behind the other folded: opened out, one of them fills the room beside the wide."""
    pieces = [
        block("wide", 400.0, 600.0),
        block("side", 400.0, 450.0, cut=2, mirrored_pair=True),
        block("strip", 400.0, 200.0, cut=2, mirrored_pair=True),
    ]
    problem = fold_then_open(pieces, CLOTH)
    assert solve(problem, MaxIterations(3)).marker.length == pytest.approx(800.0)
    assert solve(fold_then_open(pieces, CLOTH, most=0), MaxIterations(3)).marker.length > 800.0 + 1e-6


def test_a_piece_across_the_opening_is_refused() -> None:
    """What lies in part where the cloth is folded and in part where it is open does not pass the check."""
    marker = solve(fold_then_open(wide_and_pair(), CLOTH), MaxIterations(0)).marker
    moved = [replace(p, x=p.x - 50.0) if marker.problem.items[p.item].name == "wide" else p for p in marker.placements]
    with pytest.raises(CheckError, match="its stretch"):
        check(Marker(marker.problem, tuple(moved), marker.length))


def test_taken_apart_and_put_together() -> None:
    """A marker in stretches taken apart and joined again is the same, and can be searched on from."""
    problem = fold_then_open(wide_and_pair(), replace(CLOTH, gap=mm(4.0)))
    marker = solve(problem, MaxIterations(2)).marker
    again = join_stretches(problem, split_stretches(marker))
    assert [(p.item, p.copy, p.variant) for p in again.placements] == [
        (p.item, p.copy, p.variant) for p in marker.placements
    ]
    assert np.allclose([(p.x, p.y) for p in again.placements], [(p.x, p.y) for p in marker.placements])
    assert solve(problem, MaxIterations(2), initial=marker).marker.length <= marker.length


@pytest.mark.parametrize("matches", [(130.0, 130.0), (130.0, 45.0), (20.0, 63.0)])
def test_on_the_lines_of_a_pattern(matches: tuple[float, float]) -> None:
    """Stripes across the length: every match point is on a line of one pattern running through both stretches."""
    pieces = [replace(piece, match=(x, 0.0)) for piece, x in zip(wide_and_pair(), matches, strict=True)]
    marker = solve(fold_then_open(pieces, replace(CLOTH, repeat_along=mm(70.0))), MaxIterations(3)).marker
    assert marker.problem.repeat
    starts = [(p.x + v.match[0] - marker.problem.repeat.start) % 70.0 for p, _, v, _ in marker.outlines() if v.match]
    assert len(starts) == 2
    assert all(min(start, 70.0 - start) < 1e-6 for start in starts)
    check(marker)
    parts = split_stretches(marker)
    assert np.allclose(
        [(p.x, p.y) for p in join_stretches(marker.problem, parts).placements],
        [(p.x, p.y) for p in marker.placements],
    )


def test_what_cannot_lie_so() -> None:
    """A pattern across lies differently folded and open; and something must go on folded cloth."""
    with pytest.raises(SpreadError, match="pattern across"):
        fold_then_open(
            [replace(p, match=(10.0, 10.0)) for p in wide_and_pair()], replace(CLOTH, repeat_across=mm(50.0))
        )
    with pytest.raises(SpreadError, match="needs some pieces for each part"):
        fold_then_open([block("wide", 300.0, 900.0)], CLOTH)
