"""Bands of each spread, worked out by hand for cloth 1,500 mm wide with selvedges of 10 mm."""

from __future__ import annotations

from typing import get_args

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from nesting.cloth.band import Band
from nesting.cloth.fabric import Fabric
from nesting.cloth.spread import FLAT_SPREADS, STACKS, Spread, laid_width, lengths_of_cloth, pattern, spread_cloth
from nesting.errors import SpreadError
from nesting.folds.depth import fold_in_part
from nesting.problem.lay import lay_pieces
from pieces.length import mm
from tests.make.cloth import front, in_a_row, tab

TWILL = Fabric("twill", mm(1500.0), mm(10.0))
SPREADS = get_args(Spread)


@pytest.mark.parametrize(
    ("spread", "bands"),
    [
        ("open", [(10.0, 1490.0, 1, False, "selvedge", "selvedge")]),
        ("folded", [(0.0, 740.0, 2, True, "fold", "selvedge")]),
        ("double-folded", [(0.0, 365.0, 2, True, "fold", "selvedge"), (385.0, 750.0, 2, True, "selvedge", "fold")]),
    ],
)
def test_bands(spread: Spread, bands: list[tuple[float, float, int, bool, str, str]]) -> None:
    """Each spread's bands: edges, layers, mirroring, and what lies along them."""
    made = [(b.low, b.high, b.layers, b.mirrored, b.low_edge, b.high_edge) for b in spread_cloth(TWILL, spread)]
    assert made == bands


def test_tube() -> None:
    """A tube of 1,500 mm round lies 750 mm wide, double, with a fold on either side."""
    (band,) = spread_cloth(Fabric("jersey", mm(1500.0)), "tube")
    assert band == Band("tube", 0.0, 750.0, 2, True, "fold", "fold")
    assert (band.width, band.cloth_width) == (750.0, 1500.0)


@pytest.mark.parametrize(("spread", "width"), [("open", 1500.0), ("folded", 750.0), ("double-folded", 750.0)])
def test_laid_width(spread: Spread, width: float) -> None:
    """Folded once, or with both selvedges to the middle, cloth lies half as wide."""
    assert laid_width(TWILL, spread) == width


@given(st.floats(20, 4000), st.floats(0, 60), st.sampled_from(SPREADS))
def test_bands_fit_on_the_cloth(width: float, selvedge: float, spread: Spread) -> None:
    """Bands lie beside one another on the table, and use no more cloth than there is between the selvedges."""
    try:
        fabric = Fabric("cloth", mm(width), mm(0.0 if spread == "tube" else selvedge))
        bands = spread_cloth(fabric, spread)
    except SpreadError:
        assume(False)
    edges = [edge for band in bands for edge in (band.low, band.high)]
    assert edges == sorted(edges) and edges[0] >= 0 and edges[-1] <= laid_width(fabric, spread)
    assert all(band.width > 0 for band in bands)
    lengths = lengths_of_cloth(spread)
    assert sum(band.cloth_width for band in bands) <= lengths * fabric.usable_width * (1 + 1e-12)


def test_crosswise_is_never_used_with_nap() -> None:
    """A crosswise fold turns the upper layer's nap round (home-sewing handbook, "Laying out the pattern", U5)."""
    with pytest.raises(SpreadError, match="would run the other way in the upper layer of a crosswise fold"):
        spread_cloth(Fabric("velvet", mm(1500.0), nap=True), "crosswise")
    (band,) = spread_cloth(Fabric("velvet", mm(1500.0), nap=True), "face-to-face")
    assert band.mirrored and band.layers == 2


@pytest.mark.parametrize(("spread", "plies"), [("face-up", 1), ("face-to-face", 3), ("face-to-face", 0)])
def test_stacks_need_enough_plies(spread: Spread, plies: int) -> None:
    """A stack has two plies at least, and right sides together an even number."""
    with pytest.raises(SpreadError, match=f"a stack laid {spread} needs"):
        spread_cloth(TWILL, spread, plies=plies)


def test_tube_has_no_selvedge() -> None:
    """A tube with selvedges is a mistake."""
    with pytest.raises(SpreadError, match="a tube has no selvedge: leave selvedge out"):
        spread_cloth(TWILL, "tube")


def test_too_narrow_to_fold_twice() -> None:
    """Selvedges of a quarter of the width leave nothing between fold and middle."""
    with pytest.raises(SpreadError, match="too narrow to fold both selvedges to the middle"):
        spread_cloth(Fabric("ribbon", mm(100.0), mm(25.0)), "double-folded")


def test_unknown_spread() -> None:
    """An unknown spread is refused with those there are."""
    with pytest.raises(SpreadError, match="'rolled': choose one of open, folded, double-folded"):
        spread_cloth(TWILL, "rolled")  # type: ignore[arg-type]


def test_flat_spreads_are_spreads() -> None:
    """The spreads that are tried are among those there are, and none is for a tube or a stack."""
    assert set(FLAT_SPREADS) < set(SPREADS) - {"tube", *STACKS}


def test_part_folded_by_hand() -> None:
    """1 m of cloth with 10 mm selvedges, 300 mm folded over: 290 mm double from the fold, then 300 to 690 single."""
    double, single = spread_cloth(TWILL, "part-folded", 300.0)
    assert (double.low, double.high, double.layers, double.mirrored, double.low_edge) == (0.0, 290.0, 2, True, "fold")
    assert (single.low, single.high, single.layers, single.mirrored) == (300.0, TWILL.width - 310.0, 1, False)
    assert laid_width(TWILL, "part-folded", 300.0) == TWILL.width - 300.0


@pytest.mark.parametrize("depth", [None, 5.0, 800.0])
def test_part_folded_needs_a_depth(depth: float | None) -> None:
    """Without a depth, or with one that leaves no fold or reaches past the middle, the spread is refused."""
    with pytest.raises(SpreadError, match="folded in part needs a fold_depth of more than"):
        spread_cloth(TWILL, "part-folded", depth)


def test_a_pattern_folded_crosswise_is_refused() -> None:
    """Folded across its length, a pattern along the cloth does not meet itself in the upper layer: refused."""
    with pytest.raises(SpreadError, match="a crosswise fold cannot match"):
        pattern(Fabric("stripes", mm(1500.0), repeat_along=mm(60.0)), "crosswise")
    assert pattern(Fabric("plain", mm(1500.0)), "crosswise") is None


def test_as_much_cloth_as_plies() -> None:
    """Under a marker on three plies lies three times its length of cloth, folded crosswise twice."""
    for spread, plies, times in (("face-up", 3, 3), ("crosswise", 2, 2), ("folded", 2, 1)):
        marker = in_a_row(lay_pieces([tab(cut=6)], TWILL, spread, plies=plies))  # type: ignore[arg-type]
        assert marker.cloth_length == pytest.approx(times * marker.length)


def test_folded_as_deep_as_a_piece_and_its_selvedge() -> None:
    """A front 150 mm across, and a selvedge of 10: folded over by 160, so that the pair may be cut double."""
    depth, problem = fold_in_part([front()], Fabric("twill", mm(1000.0), mm(10.0)), most=1)
    assert depth == pytest.approx(160, abs=0.01)
    assert (problem.items[0].name, problem.items[0].yields, problem.items[0].quantity) == ("front", 2, 1)
