"""Halves on folded cloth that may lie whole in both layers: where a twin may be wasted, and in proofs."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nesting.cloth.fabric import Fabric
from nesting.fit.fitting import disproof
from nesting.problem.lay import lay_pieces
from nesting.proof.bounds import lower_bound
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from nesting.verify import Asked, verify_asked
from pieces.length import mm
from tests.nesting.folds.test_depth import panel

if TYPE_CHECKING:
    from pieces import Piece

CLOTH = Fabric("cloth", mm(900.0))


def halves() -> list[Piece]:
    """Three halves, 610 mm one behind another on the fold, and a pair beside them."""
    return [
        panel("a", 150, 220, fold=True),
        panel("b", 305, 100, fold=True),
        panel("c", 155, 100, fold=True),
        panel("d", 300, 100, pair=True),
    ]


def test_a_half_lies_whole_where_its_twin_may_be_wasted() -> None:
    """One behind another they take 610 mm, proved; laid whole beside the fold, twin wasted, some take 460 at most.

    By hand: c lies whole, 200 mm across, beside b on the fold; a lies behind b: 150 + 305 = 455 mm.
    """
    strict = solve(lay_pieces(halves(), CLOTH, "folded"), MaxIterations(3))
    assert (strict.stopped_by, strict.marker.length) == ("proved", pytest.approx(610.0, abs=0.01))
    problem = lay_pieces(halves(), CLOTH, "folded", waste_twins=True)
    assert lower_bound(problem)[0] <= 455.0
    result = solve(problem, MaxIterations(60))
    verify_asked(result.marker, Asked.of(halves(), CLOTH, "folded", waste_twins=True))
    assert result.marker.length <= 455.01
    assert any(item.name.endswith("(twin wasted)") for _, item, _, _ in result.marker.outlines())


@pytest.mark.parametrize("garments", [2, 3])
def test_two_halves_lie_whole_and_no_more_is_wasted_than_asked(garments: int) -> None:
    """Of several garments two backs are one whole back in both layers; at most the last twin is wasted."""
    problem = lay_pieces(halves()[:3], CLOTH, "folded", garments=garments, waste_twins=True)
    result = solve(problem, MaxIterations(30))
    verify_asked(result.marker, Asked.of(halves()[:3], CLOTH, "folded", garments=garments, waste_twins=True))
    assert sum(item.yields for _, item, _, _ in result.marker.outlines()) == 3 * garments


def test_proofs_know_that_two_halves_may_lie_whole() -> None:
    """Without leave to waste a twin the marker has halves alone, but no proof goes beyond the one with leave."""
    strict = lay_pieces(halves(), CLOTH, "folded", garments=2)
    loose = solve(lay_pieces(halves(), CLOTH, "folded", garments=2, waste_twins=True), MaxIterations(40)).marker
    verify_asked(loose, Asked.of(halves(), CLOTH, "folded", garments=2))  # nothing is wasted there
    result = solve(strict, MaxIterations(5))
    assert loose.length < result.marker.length
    assert result.bound <= loose.length
    assert disproof(strict, loose.length, ()) is None
