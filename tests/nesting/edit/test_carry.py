"""A marker carried over to other cloth; expected places worked out by hand, soundness by `check` and `verify`."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from nesting.cloth.fabric import Fabric
from nesting.cloth.spread import FLAT_SPREADS, Spread
from nesting.edit.carry import carry
from nesting.edit.unfold import LayerMove
from nesting.fit.remnant import Remnant, Zone
from nesting.folds.fold_then_open import fold_then_open
from nesting.marker.marker import Marker, Placement
from nesting.marker.opinion import check
from nesting.problem.lay import lay_pieces
from nesting.problem.transform import Transform
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from nesting.verify import verify
from pieces import Piece
from pieces.length import mm
from tests.make.carried import try_carried
from tests.make.cloth import back, front, in_a_row, patch, tab
from tests.make.outlines import sides

if TYPE_CHECKING:
    from collections.abc import Iterator

NARROW = Fabric("twill", mm(1000.0), mm(10.0))
WIDE = replace(NARROW, width=mm(1200.0))


@pytest.mark.parametrize("spread", FLAT_SPREADS)
def test_narrow_marker_lies_on_wider_cloth(spread: Spread) -> None:
    """What lies on narrow cloth lies on wider cloth of the same spread, no longer and no shorter."""
    pieces = [back(), front(), tab(4)]
    marker = in_a_row(lay_pieces(pieces, NARROW, spread))
    again = carry(marker, lay_pieces(pieces, WIDE, spread))
    assert again is not None
    check(again)
    assert again.length == marker.length
    assert again.problem.cloth_width == marker.problem.cloth_width + 200.0


def test_pieces_keep_to_their_fold() -> None:
    """On cloth folded twice, the upper fold moves out by half of what the cloth gains, and its pieces with it."""
    problem = lay_pieces([tab(4)], NARROW, "double-folded")
    upper = next(i for i, way in enumerate(problem.items[0].variants) if way.band == 1)
    placed = (Placement(0, 0, 0, 0.0, 20.0), Placement(0, 1, upper, 0.0, 300.0))
    again = carry(Marker(problem, placed, 80.0), lay_pieces([tab(4)], WIDE, "double-folded"))
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
    again = carry(marker, lay_pieces([piece], replace(checked, width=mm(1060.0)), "open"))
    assert again is not None
    check(again)
    assert [p.y for p in again.placements] == [low + 30.0, low + 80.0]


def test_nap_holds_without_but_not_the_other_way() -> None:
    """A layout with all tops one way holds on cloth without a nap; one with a piece turned does not hold with it."""
    plain, napped = (lay_pieces([front()], replace(NARROW, nap=nap), "open") for nap in (False, True))
    assert carry(in_a_row(napped), plain) is not None
    marker = in_a_row(plain)
    turned = next(i for i, way in enumerate(plain.items[0].variants) if way.turn == 180.0)
    marker = replace(marker, placements=(replace(marker.placements[0], variant=turned), *marker.placements[1:]))
    check(marker)
    assert carry(marker, napped) is None


def test_wide_marker_does_not_lie_on_narrow_cloth() -> None:
    """A layout that needs all the width is refused on less."""
    problem = lay_pieces([tab(2)], NARROW, "open")
    placed = (Placement(0, 0, 0, 0.0, 10.0), Placement(0, 1, 0, 0.0, 940.0))
    marker = Marker(problem, placed, 80.0)
    check(marker)
    assert carry(marker, lay_pieces([tab(2)], replace(NARROW, width=mm(999.0)), "open")) is None


def test_other_spread_or_pieces_are_refused() -> None:
    """Cloth that asks for more, or other things to lay, take no marker over."""
    marker = in_a_row(lay_pieces([tab(2)], NARROW, "folded"))
    assert carry(marker, lay_pieces([tab(2)], WIDE, "double-folded")) is None
    assert carry(marker, lay_pieces([tab(2), front()], WIDE, "folded")) is None
    assert carry(marker, lay_pieces([tab(4)], WIDE, "folded")) is None


def corners(marker: Marker) -> list[tuple[str, float, float]]:
    """Name and lower left corner of everything that lies on the cloth, in order."""
    return sorted((item.name, *outline.min(axis=0).round(6).tolist()) for _, item, _, outline in marker.outlines())


@pytest.mark.parametrize("over", ["", "x", "y"])
def test_a_layer_is_moved_as_its_points_are(over: str) -> None:
    """What brings a piece to its new place brings each point to where the old place's point comes by hand."""
    placed, move = Transform(30.0, True, (1.1, 1.2), (40.0, 50.0)), LayerMove(0, 7.0, 9.0, over)  # type: ignore[arg-type]
    points = np.array([(3.0, 4.0), (10.0, -2.0)])
    by_hand = placed(points) * {"": (1, 1), "x": (-1, 1), "y": (1, -1)}[over] + (7.0, 9.0)
    assert np.allclose(move(placed)(points), by_hand)


def test_folded_marker_is_laid_open() -> None:
    """From a fold in the middle, at 500 mm, one layer lies up and the other down; a half on the fold becomes whole."""
    pieces = [back(), front()]
    folded = lay_pieces(pieces, NARROW, "folded")
    marker = in_a_row(folded)
    placed = [replace(p, y=100.0) if folded.items[p.item].name == "front" else p for p in marker.placements]
    opened = carry(replace(marker, placements=tuple(placed)), lay_pieces(pieces, NARROW, "open"))
    assert opened is not None
    verify(opened, pieces, NARROW, "open")
    assert opened.length == marker.length == 400.0
    # The back is 150 mm wide at its fold's start, and whole 300; the front, 150 wide, lies 100 off the fold.
    assert corners(opened) == [
        ("back", 0.0, 350.0),
        ("front (left)", 200.0, 600.0),
        ("front (right)", 200.0, 250.0),
    ]


def test_both_selvedges_to_the_middle_laid_open() -> None:
    """The folds lie at 250 and 750 mm: a half on each becomes whole about them."""
    pieces = [replace(back(), cut=2)]
    twice = lay_pieces(pieces, NARROW, "double-folded")
    upper = next(i for i, way in enumerate(twice.items[0].variants) if way.band == 1)
    ways = twice.items[0].variants
    placed = (Placement(0, 0, 0, 0.0, ways[0].low), Placement(0, 1, upper, 0.0, ways[upper].low))
    opened = carry(Marker(twice, placed, 200.0), lay_pieces(pieces, NARROW, "open"))
    assert opened is not None
    verify(opened, pieces, NARROW, "open")
    assert corners(opened) == [("back", 0.0, 100.0), ("back", 0.0, 600.0)]


def test_cloth_folded_in_part_laid_open() -> None:
    """Folded over 200 mm deep, the fold lies at 200; what lay singly from 200 on lies from 400 on."""
    pieces = [back(), tab(1)]
    part = lay_pieces(pieces, NARROW, "part-folded", depth=mm(200.0))
    marker = in_a_row(part)
    opened = carry(marker, lay_pieces(pieces, NARROW, "open"))
    assert opened is not None
    verify(opened, pieces, NARROW, "open")
    assert corners(opened) == [("back", 0.0, 50.0), ("tab", 200.0, 400.0)]


def test_cloth_folded_and_then_opened_laid_open() -> None:
    """The folded stretch is unfolded about the middle; the opened one stays where it is."""
    pieces = [front(), patch()]
    laid = fold_then_open(pieces, NARROW, most=0)
    marker = solve(laid, MaxIterations(0)).marker
    opened = carry(marker, lay_pieces(pieces, NARROW, "open"))
    assert opened is not None
    verify(opened, pieces, NARROW, "open")
    assert opened.length == marker.length == 400.0
    (single,) = [outline for _, item, _, outline in marker.outlines() if item.name == "patch"]
    assert np.allclose(next(o for _, item, _, o in opened.outlines() if item.name == "patch"), single)


def test_cloth_folded_crosswise_laid_open() -> None:
    """The upper layer is turned over about the fold at the marker's end: twice as long, as much cloth."""
    pieces = [front()]
    marker = in_a_row(lay_pieces(pieces, NARROW, "crosswise"))
    opened = carry(marker, lay_pieces(pieces, NARROW, "open"))
    assert opened is not None
    verify(opened, pieces, NARROW, "open")
    assert opened.length == opened.cloth_length == marker.cloth_length == 400.0


def test_a_wasted_twin_is_left_out() -> None:
    """Laid open, a piece that was cut double though wanted once is cut once, and of the right hand."""
    marker = in_a_row(lay_pieces([patch()], NARROW, "folded", waste_twins=True))
    opened = carry(marker, lay_pieces([patch()], NARROW, "open"))
    assert opened is not None
    verify(opened, [patch()], NARROW, "open")
    assert len(opened.placements) == 1


def test_a_gap_is_made_where_the_fold_was() -> None:
    """Two that touch along the fold are parted by the gap: no longer, as there is room across."""
    gapped = replace(NARROW, gap=mm(5.0))
    marker = in_a_row(lay_pieces([front()], gapped, "folded"))
    assert marker.placements[0].y == 0.0
    opened = carry(marker, lay_pieces([front()], gapped, "open"))
    assert opened is not None
    verify(opened, [front()], gapped, "open")
    assert opened.length == pytest.approx(200.0)


def test_without_room_for_the_gap_it_is_not_carried() -> None:
    """A pair that fills the folded cloth fits on open cloth, side by side, only without the gap."""
    wide = Piece("front", sides([(0, 0), (200, 0), (200, 490), (0, 490)], [0.0] * 4), cut=2, mirrored_pair=True)
    gapped = replace(NARROW, gap=mm(5.0))
    for cloth, holds in ((NARROW, True), (gapped, False)):
        again = carry(in_a_row(lay_pieces([wide], cloth, "folded")), lay_pieces([wide], cloth, "open"))
        assert (again is not None) is holds


def test_a_smaller_piece_lies_where_it_lay() -> None:
    """A piece that has become shorter is laid in its old place, and what lay behind it moves up."""
    long, short = (Piece("strip", sides([(0, 0), (x, 0), (x, 900), (0, 900)], [0.0] * 4)) for x in (300.0, 250.0))
    marker = in_a_row(lay_pieces([long, front()], NARROW, "open"))
    assert marker.length == 700.0
    again = carry(marker, lay_pieces([short, front()], NARROW, "open"))
    assert again is not None
    verify(again, [short, front()], NARROW, "open")
    assert again.length <= 650.001


def test_a_missing_area_that_is_there_no_more() -> None:
    """What lies round a missing area lies on a remnant without it; not the other way, under a piece."""
    whole = Remnant(mm(1000.0), mm(900.0))
    torn = replace(whole, cut_outs=(Zone(0.0, 100.0, 0.0, 200.0),))
    marker = in_a_row(whole.problem([front()], "open"))
    assert carry(marker, torn.problem([front()], "open")) is None
    behind = replace(marker, placements=tuple(replace(p, x=p.x + 100.0) for p in marker.placements), length=500.0)
    round_it = carry(behind, torn.problem([front()], "open"))
    assert round_it is not None
    assert carry(round_it, whole.problem([front()], "open")) is not None


@pytest.mark.generated(25)
def test_random_markers_hold_on_cloth_that_asks_for_less(numbers: Iterator[int]) -> None:
    """Laid open, wider, without nap, gap, pattern or faults: each is judged from the pieces, and none is longer."""
    for seed in numbers:
        try_carried(seed)
