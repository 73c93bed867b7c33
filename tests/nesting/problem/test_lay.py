"""Which ways each kind of piece may lie on each spread; outlines against shapely."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import affinity

from nesting.cloth.fabric import Fabric
from nesting.errors import NestingError, NoFoldError, PieceTooWideError, SpreadError
from nesting.problem.lay import lay_mix, lay_pieces
from nesting.verify.asked import Asked
from nesting.verify.verdict import verify_asked
from pieces import Piece, PieceSet
from pieces.length import mm
from tests.make.cloth import back, front, in_a_row, patch, tab
from tests.make.outlines import sides

if TYPE_CHECKING:
    from nesting.cloth.spread import Spread
    from nesting.problem.problem import Problem

TWILL = Fabric("twill", mm(1000.0), mm(10.0))
VELVET = replace(TWILL, nap=True)
JERSEY = Fabric("jersey", mm(1000.0))


def ways(problem: Problem, item: int = 0) -> set[tuple[float, bool, int, float, float]]:
    """Turn, hand, band, and the lowest and highest place, of each way an item may lie."""
    return {(v.turn, v.mirrored, v.band, v.low, v.high) for v in problem.items[item].variants}


def listed(problem: Problem) -> list[tuple[str, int, int, int]]:
    """Name, quantity, yield and number of ways of each item."""
    return [(i.name, i.quantity, i.yields, len(i.variants)) for i in problem.items]


def test_open_fold_piece_is_opened_out() -> None:
    """In a single layer a piece drawn on the fold lies whole: 300 mm across, both ways round."""
    problem = lay_pieces([back()], TWILL, "open")
    assert listed(problem) == [("back", 1, 1, 2)]
    assert ways(problem) == {(0.0, False, 0, 10.0, 690.0), (180.0, False, 0, 10.0, 690.0)}
    assert not problem.items[0].variants[0].on_fold


def test_open_pair_is_left_and_right() -> None:
    """In a single layer a pair is a left and a right, each of its own hand."""
    problem = lay_pieces([front()], TWILL, "open")
    assert listed(problem) == [("front (left)", 1, 1, 2), ("front (right)", 1, 1, 2)]
    assert [{v.mirrored for v in item.variants} for item in problem.items] == [{False}, {True}]


def test_open_keeps_right_sides_up() -> None:
    """A single piece that is no pair is never turned over."""
    assert not any(v.mirrored for v in lay_pieces([patch()], TWILL, "open").items[0].variants)


def test_rectangle_lies_one_way() -> None:
    """Turning a rectangle round, or over, changes nothing: one way, counted once."""
    assert listed(lay_pieces([tab()], TWILL, "open")) == [("tab", 2, 1, 1)]
    assert listed(lay_pieces([tab()], TWILL, "folded")) == [("tab", 1, 2, 1)]


def test_folded_fold_piece_is_pinned() -> None:
    """On folded cloth the half lies with its fold edge on the fold, as drawn or turned end for end."""
    problem = lay_pieces([back()], TWILL, "folded")
    assert listed(problem) == [("back", 1, 1, 2)]
    assert ways(problem) == {(0.0, False, 0, 0.0, 0.0), (180.0, True, 0, 0.0, 0.0)}
    for variant in problem.items[0].variants:
        ys, xs = variant.outline[:, 1], variant.outline[:, 0]
        assert variant.on_fold and np.ptp(xs[ys == 0]) == 200  # the fold edge, whole, at the bottom


def test_napped_fold_piece_lies_one_way() -> None:
    """With a nap the half on the fold cannot be turned end for end."""
    assert ways(lay_pieces([back()], VELVET, "folded")) == {(0.0, False, 0, 0.0, 0.0)}


def test_tube_has_two_folds() -> None:
    """In a tube the half lies on either fold: at 0, or with its top at 500 mm."""
    assert ways(lay_pieces([back()], JERSEY, "tube")) == {
        (0.0, False, 0, 0.0, 0.0), (180.0, True, 0, 0.0, 0.0),
        (0.0, True, 0, 350.0, 350.0), (180.0, False, 0, 350.0, 350.0),
    }  # fmt: skip
    assert ways(lay_pieces([back()], replace(JERSEY, nap=True), "tube")) == {
        (0.0, False, 0, 0.0, 0.0), (0.0, True, 0, 350.0, 350.0),
    }  # fmt: skip


def test_double_folded_has_a_fold_a_band() -> None:
    """With both selvedges to the middle, each band has one fold, at its outer edge."""
    assert {(band, low) for _, _, band, low, _ in ways(lay_pieces([back()], TWILL, "double-folded"))} == {
        (0, 0.0), (1, 350.0),
    }  # fmt: skip


def test_fold_drawn_on_the_other_side() -> None:
    """A half drawn with its fold at the top is turned over to lie on the fold at the bottom."""
    upper = Piece("back", sides([(0.0, -150.0), (200.0, -100.0), (200.0, 0.0), (0.0, 0.0)], [0.0] * 4, fold=2))
    problem = lay_pieces([upper], VELVET, "folded")
    assert ways(problem) == {(0.0, True, 0, 0.0, 0.0)}
    (variant,) = problem.items[0].variants
    assert np.ptp(variant.outline[variant.outline[:, 1] == 0][:, 0]) == 200


@pytest.mark.parametrize(("fabric", "count"), [(TWILL, 4), (VELVET, 2)])
def test_folded_pair_comes_from_two_layers(fabric: Fabric, count: int) -> None:
    """Folded right sides together, one placement of either hand gives left and right."""
    problem = lay_pieces([front()], fabric, "folded")
    assert listed(problem) == [("front", 1, 2, count)]
    assert {(low, high) for *_, low, high in ways(problem)} == {(0.0, 340.0)}


def test_twin_must_be_asked_for() -> None:
    """A piece needed once would be cut twice from folded cloth: only when asked, and said."""
    for piece in (tab(cut=1), patch()):
        with pytest.raises(SpreadError, match=f"'{piece.name}' is cut once.*lay the cloth open, or allow waste_twins"):
            lay_pieces([piece], TWILL, "folded")
    assert listed(lay_pieces([tab(cut=1)], TWILL, "folded", waste_twins=True)) == [("tab (twin wasted)", 1, 1, 1)]
    assert listed(lay_pieces([tab(cut=3)], TWILL, "folded", waste_twins=True)) == [
        ("tab", 1, 2, 1), ("tab (twin wasted)", 1, 1, 1),
    ]  # fmt: skip


def test_all_the_same_way_up_wastes_every_twin() -> None:
    """Two slanted pieces that are no pair cannot come from one placement in folded cloth."""
    with pytest.raises(SpreadError, match="'patch' is cut 2 times, all the same way up"):
        lay_pieces([patch(cut=2)], TWILL, "folded")
    problem = lay_pieces([patch(cut=2)], TWILL, "folded", waste_twins=True)
    assert listed(problem) == [("patch (twin wasted)", 2, 1, 4)]
    assert problem.piece_area == pytest.approx(2 * 25_000)


def test_two_garments() -> None:
    """Two garments take twice the pieces; a rectangle needed once in each comes from one placement."""
    assert listed(lay_pieces([back(), front(), tab(cut=1)], TWILL, "folded", garments=2)) == [
        ("back", 2, 1, 2), ("front", 2, 2, 4), ("tab", 1, 2, 1),
    ]  # fmt: skip


def test_wide_piece_on_open_cloth() -> None:
    """A piece wider than the cloth is refused, with what it needs and what there is."""
    with pytest.raises(
        PieceTooWideError, match=r"'back' needs .*\(300 mm\) across.*\(280 mm\): choose a wider"
    ) as error:
        lay_pieces([back()], Fabric("ribbon", mm(300.0), mm(10.0)), "open")
    assert (error.value.name, error.value.needs, error.value.usable) == ("back", 300.0, 280.0)


def test_wide_piece_on_folded_cloth() -> None:
    """What is too wide for folded cloth may fit it opened: the error says so, where it is so."""
    with pytest.raises(PieceTooWideError, match="lay the cloth open"):
        lay_pieces([front()], Fabric("ribbon", mm(280.0)), "folded")
    with pytest.raises(PieceTooWideError, match="lay the cloth open"):
        lay_pieces([front()], Fabric("ribbon", mm(500.0)), "double-folded")
    with pytest.raises(PieceTooWideError, match="or cut the piece in two"):
        lay_pieces([back()], Fabric("ribbon", mm(280.0)), "folded")


def test_exact_fit() -> None:
    """A piece exactly as wide as the cloth fits."""
    assert ways(lay_pieces([back()], Fabric("ribbon", mm(300.0)), "folded")) >= {(0.0, False, 0, 0.0, 0.0)}
    assert ways(lay_pieces([back()], Fabric("ribbon", mm(300.0)), "open")) >= {(0.0, False, 0, 0.0, 0.0)}


def test_nothing_to_lay() -> None:
    """No pieces, no marker."""
    with pytest.raises(NestingError, match="nothing to lay"):
        lay_pieces([], TWILL, "open")


@pytest.mark.parametrize("spread", ["open", "folded", "double-folded", "tube"])
@pytest.mark.parametrize("garments", [1, 2])
def test_same_cloth_on_every_spread(jacket: PieceSet, spread: Spread, garments: int) -> None:
    """However the cloth lies, the pieces' area is that of the whole pieces, by shapely."""
    shell = jacket.of("shell")
    problem = lay_pieces(shell, Fabric("wide", mm(2700.0)), spread, garments=garments)
    area = sum(shapely.Polygon(piece.unfolded).area * piece.cut for piece in shell) * garments
    assert problem.piece_area == pytest.approx(area)
    wanted = garments * sum(piece.cut for piece in shell)
    assert sum(item.quantity * item.yields for item in problem.items) == wanted


@pytest.mark.parametrize("spread", ["open", "folded", "double-folded", "tube"])
@given(nap=st.booleans(), width=st.floats(1300, 3000), gap=st.floats(0, 10))
def test_ways_are_those_of_the_cloth(jacket: PieceSet, spread: Spread, nap: bool, width: float, gap: float) -> None:
    """Every way is the piece turned and mirrored as said (shapely), inside its band, the nap kept."""
    fabric = Fabric("cloth", mm(width), mm(0.0 if spread == "tube" else 10.0), nap=nap, gap=mm(gap))
    try:
        problem = lay_pieces(jacket.of("shell"), fabric, spread)
    except PieceTooWideError as error:
        assert error.needs > error.usable
        return
    assert problem.gap == gap
    for item in problem.items:
        assert item.piece is not None
        for way in item.variants:
            band = problem.bands[way.band]
            drawn = item.piece.cut_line if band.layers == 2 else item.piece.unfolded
            theirs = affinity.scale(shapely.Polygon(drawn), 1, -1 if way.mirrored else 1, origin=(0, 0))
            theirs = affinity.rotate(theirs, way.turn, origin=(0, 0))
            theirs = affinity.translate(theirs, -theirs.bounds[0], -theirs.bounds[1])
            assert shapely.Polygon(way.outline).symmetric_difference(theirs).area < 1e-3
            assert way.turn == 0 or (way.turn == 180 and not nap)
            assert band.low - 1e-6 <= way.low <= way.high <= band.high - way.height + 1e-5
            assert way.on_fold == (item.piece.on_fold and band.layers == 2)


def test_no_fold_for_a_half(jacket: PieceSet) -> None:
    """On cloth folded crosswise, with no fold along it, a half needed once is refused, with what to do."""
    with pytest.raises(NoFoldError, match="'back' is cut on a fold, but this spread has none: fold the cloth"):
        lay_pieces(jacket.of("shell"), Fabric("cloth", mm(1524.0), mm(12.7)), "crosswise")


@pytest.mark.parametrize(
    ("spread", "plies", "garments", "items"),
    [
        ("face-to-face", 2, 2, [("back", 1, 2), ("front", 2, 2), ("tab", 2, 2)]),
        ("face-to-face", 4, 4, [("back", 1, 4), ("front", 2, 4), ("tab", 2, 4)]),
        ("face-up", 3, 3, [("back", 1, 3), ("front (left)", 1, 3), ("front (right)", 1, 3), ("tab", 2, 3)]),
        ("crosswise", 2, 2, [("back", 1, 2), ("front", 2, 2), ("tab", 2, 2)]),
    ],
)
def test_stacks_cut_several_at_once(
    spread: Spread, plies: int, garments: int, items: list[tuple[str, int, int]]
) -> None:
    """Name, placements and pieces a placement, by hand: a whole back for each garment, a pair of fronts, two tabs."""
    problem = lay_pieces([back(), front(), tab()], TWILL, spread, plies=plies, garments=garments)
    assert [(item.name, item.quantity, item.yields) for item in problem.items] == items
    assert sum(item.quantity * item.yields * item.area for item in problem.items) == pytest.approx(
        garments * sum(shapely.Polygon(p.unfolded).area * p.cut for p in (back(), front(), tab()))
    )
    assert problem.lengths == plies and problem.cloth_width == plies * TWILL.usable_width


def test_a_stack_that_does_not_come_out_even() -> None:
    """Three plies for one garment cut three tabs where two are needed: refused, or wasted if asked."""
    with pytest.raises(SpreadError, match="'tab' is cut 2 times, but this stack cuts 3 at once"):
        lay_pieces([tab()], TWILL, "face-up", plies=3)
    (item,) = lay_pieces([tab()], TWILL, "face-up", plies=3, waste_twins=True).items
    assert (item.name, item.quantity, item.yields) == ("tab (twin wasted)", 1, 2)


def test_a_pair_alike_is_laid_once_in_two_plies() -> None:
    """Either hand of a pair of oblongs does for the other: one outline in two plies cuts both, and nothing is wasted.

    A pair of slanted fronts, or of oblongs matched at a point aside, still needs its left and its right.
    """
    pair = replace(tab(), mirrored_pair=True)
    problem = lay_pieces([pair], TWILL, "face-up", plies=2)
    assert [(item.name, item.quantity, item.yields) for item in problem.items] == [("tab", 1, 2)]
    verify_asked(in_a_row(problem), Asked.of([pair], TWILL, "face-up", plies=2))
    for other in (front(), replace(pair, match=(10.0, 5.0))):
        with pytest.raises(SpreadError, match="is cut once, but this stack cuts 2 at once"):
            lay_pieces([other], TWILL, "face-up", plies=2)


def test_sizes_on_one_marker() -> None:
    """Two of one size and one of another on one marker: each piece as often as its size; each second garment turned."""
    small = [replace(piece, name=f"{piece.name} S") for piece in (back(), front())]
    large = [replace(piece, name=f"{piece.name} L") for piece in (back(), front())]
    problem = lay_mix([(small, 2), (large, 1)], TWILL, "open")
    assert [(name, number) for name, number, _, _ in listed(problem)] == [
        ("back S", 2), ("front S (left)", 2), ("front S (right)", 2),
        ("back L", 1), ("front L (left)", 1), ("front L (right)", 1),
    ]  # fmt: skip
    by_garment = lay_mix([(small, 1), (large, 1)], replace(TWILL, nap="by garment"), "open")
    turns = {item.name: {way.turn for way in item.variants} for item in by_garment.items}
    assert (turns["back S"], turns["back L"]) == ({0.0}, {180.0})
