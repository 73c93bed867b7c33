"""A marker laid again where there is more room; expected places worked out by hand, soundness by `check` (shapely)."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nesting.cloth.fabric import Fabric
from nesting.cloth.spread import FLAT_SPREADS, Spread
from nesting.edit.refit import refit
from nesting.marker.marker import Marker, Placement
from nesting.marker.opinion import check
from nesting.problem.lay import lay_pieces
from pieces.length import mm
from tests.make.cloth import back, front, in_a_row, tab

NARROW = Fabric("twill", mm(1000.0), mm(10.0))
WIDE = replace(NARROW, width=mm(1200.0))


@pytest.mark.parametrize("spread", FLAT_SPREADS)
def test_narrow_marker_lies_on_wider_cloth(spread: Spread) -> None:
    """What lies on narrow cloth lies on wider cloth of the same spread, no longer and no shorter."""
    pieces = [back(), front(), tab(4)]
    marker = in_a_row(lay_pieces(pieces, NARROW, spread))
    again = refit(marker, lay_pieces(pieces, WIDE, spread))
    assert again is not None
    check(again)
    assert again.length == marker.length
    assert again.problem.cloth_width == marker.problem.cloth_width + 200.0


def test_pieces_keep_to_their_fold() -> None:
    """On cloth folded twice, the upper fold moves out by half of what the cloth gains, and its pieces with it."""
    problem = lay_pieces([tab(4)], NARROW, "double-folded")
    upper = next(i for i, way in enumerate(problem.items[0].variants) if way.band == 1)
    placed = (Placement(0, 0, 0, 0.0, 20.0), Placement(0, 1, upper, 0.0, 300.0))
    again = refit(Marker(problem, placed, 80.0), lay_pieces([tab(4)], WIDE, "double-folded"))
    assert again is not None
    assert [p.y for p in again.placements] == [20.0, 400.0]


def test_lines_of_a_pattern_are_kept() -> None:
    """On open cloth the middle line of a pattern moves by half of what the cloth gains: so does every piece."""
    checked = replace(NARROW, repeat_along=mm(70.0), repeat_across=mm(50.0))
    piece = replace(tab(2), match=(0.0, 0.0))
    problem = lay_pieces([piece], checked, "open")
    assert problem.repeat is not None
    low = problem.items[0].variants[0].low
    placed = (Placement(0, 0, 0, 0.0, low), Placement(0, 1, 0, 0.0, low + 50.0))
    problem = replace(problem, repeat=replace(problem.repeat, start=problem.items[0].variants[0].match[0]))  # type: ignore[index]
    marker = Marker(problem, placed, 80.0)
    check(marker)
    again = refit(marker, lay_pieces([piece], replace(checked, width=mm(1060.0)), "open"))
    assert again is not None
    check(again)
    assert [p.y for p in again.placements] == [low + 30.0, low + 80.0]


def test_nap_holds_without_but_not_the_other_way() -> None:
    """A layout with all tops one way holds on cloth without a nap; one with a piece turned does not hold with it."""
    plain, napped = (lay_pieces([front()], replace(NARROW, nap=nap), "open") for nap in (False, True))
    assert refit(in_a_row(napped), plain) is not None
    marker = in_a_row(plain)
    turned = next(i for i, way in enumerate(plain.items[0].variants) if way.turn == 180.0)
    marker = replace(marker, placements=(replace(marker.placements[0], variant=turned), *marker.placements[1:]))
    check(marker)
    assert refit(marker, napped) is None


def test_wide_marker_does_not_lie_on_narrow_cloth() -> None:
    """A layout that needs all the width is refused on less."""
    problem = lay_pieces([tab(2)], NARROW, "open")
    placed = (Placement(0, 0, 0, 0.0, 10.0), Placement(0, 1, 0, 0.0, 940.0))
    marker = Marker(problem, placed, 80.0)
    check(marker)
    assert refit(marker, lay_pieces([tab(2)], replace(NARROW, width=mm(999.0)), "open")) is None


def test_other_spread_or_pieces_are_refused() -> None:
    """Cloth with other bands, or with other things to lay, takes no marker over."""
    marker = in_a_row(lay_pieces([tab(2)], NARROW, "folded"))
    assert refit(marker, lay_pieces([tab(2)], WIDE, "double-folded")) is None
    assert refit(marker, lay_pieces([tab(2), front()], WIDE, "folded")) is None
    assert refit(marker, lay_pieces([tab(4)], WIDE, "folded")) is None
