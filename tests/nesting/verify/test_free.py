"""Whether rectangles are free: each way in which one may not be is seen."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nesting.cloth.fabric import Fabric
from nesting.errors import CheckError
from nesting.problem.lay import lay_pieces
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from nesting.verify import Asked, Flaw, LaidMarker
from nesting.verify.free import check_free
from pieces import Piece
from pieces.length import mm

Zone = tuple[float, float, float, float]

PAIR = Piece.from_polygon([(0, 0), (60, 0), (60, 40), (0, 40)], "pair", unit="mm", cut=2, pair=True)
CLOTH = Fabric("cloth", mm(220), selvedge=mm(10), gap=mm(5))
"""Folded, 100 mm between fold and selvedge."""


@pytest.fixture(scope="module")
def marker() -> LaidMarker:
    """A pair, 60 x 40, in the corner of folded cloth: at the start and the fold."""
    found = LaidMarker.of(solve(lay_pieces([PAIR], CLOTH, "folded"), MaxIterations(1)).marker)
    assert found.laid[0].outline.min(axis=0) == pytest.approx((0, 0), abs=1e-3)
    return found


ASKED = Asked.of([PAIR], CLOTH, "folded")


def test_free(marker: LaidMarker) -> None:
    """Beside the piece with the gap, up to the selvedge, to the end of the cloth; and one more with the gap again."""
    check_free(marker, ASKED, 100.0, [(0, 100, 45.01, 100), (65.01, 100, 0, 40)])


@pytest.mark.parametrize(
    ("zones", "why"),
    [
        ([(0, 100, 30, 100)], "overlap"),
        ([(0, 100, 44.9, 100)], "4.90 mm apart instead of 5.00"),
        ([(0, 100, 45.1, 100.1)], "beyond the upper edge"),
        ([(70, 100, -1, 40)], "beyond the lower edge"),
        ([(70, 100.1, 0, 40)], "beyond the end"),
        ([(0, 100, 45.1, 100), (70, 100, 0, 41)], "'free rectangle 1' are 4.10 mm apart"),
        ([(70, 100, 0, 40), (80, 90, 10, 20)], "overlap"),
        ([(100, 70, 0, 40)], "no length"),
    ],
)
def test_not_free(marker: LaidMarker, zones: list[Zone], why: str) -> None:
    """On a piece, too near, over an edge, on or too near to another, or inside out."""
    with pytest.raises(CheckError, match=why):
        check_free(marker, ASKED, 100.0, zones)


@pytest.mark.parametrize(("low", "high", "lost"), [(190.0, 200.0, True), (20.0, 30.0, True), (140.0, 150.0, False)])
def test_faults_through_the_fold(marker: LaidMarker, low: float, high: float, lost: bool) -> None:
    """The middle, 110, is the fold: 190 and 30 of the flat cloth lie 80 from it, one in either layer. By hand."""
    asked = replace(ASKED, flaws=(Flaw(70, 90, low, high),))
    if lost:
        with pytest.raises(CheckError, match="a fault in the cloth"):
            check_free(marker, asked, 100.0, [(0, 100, 45.1, 100)])
    else:
        check_free(marker, asked, 100.0, [(0, 100, 45.1, 100)])
