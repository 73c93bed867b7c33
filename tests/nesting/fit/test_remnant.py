"""Remnants: cut-outs through the fold, worked out by hand and by folding shapely polygons; sizes that make no sense."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Polygon, affinity

from nesting.errors import RemnantError, SpreadError
from nesting.fit.remnant import Remnant, Zone, apart, through_fold
from pieces.length import mm
from tests.make.cloth import tab

if TYPE_CHECKING:
    from nesting.fit.remnant import RemnantSpread

LENGTH = st.integers(0, 60).map(float)
SPREADS = ("open", "folded", "double-folded")


@pytest.mark.parametrize(
    ("spread", "low", "high", "laid"),
    [
        ("open", 10, 25, (10, 25)),
        ("folded", 0, 10, (20, 30)),  # at the lower selvedge: at the selvedges, far from the fold
        ("folded", 50, 60, (20, 30)),  # at the upper selvedge: the same
        ("folded", 40, 50, (10, 20)),
        ("folded", 20, 35, (0, 10)),  # across the fold: as far as its longer side reaches
        ("double-folded", 0, 5, (10, 15)),  # a selvedge lies in the middle
        ("double-folded", 55, 60, (15, 20)),
        ("double-folded", 10, 20, (0, 5)),  # across the first fold
        ("double-folded", 40, 50, (25, 30)),  # across the second
        ("double-folded", 25, 35, (10, 20)),  # in the middle of the lower layer
        ("double-folded", 0, 60, (0, 30)),
    ],
)
def test_through_the_fold_by_hand(spread: RemnantSpread, low: Any, high: Any, laid: Any) -> None:
    """On cloth 60 wide, each stretch lies where folding a strip of paper puts it."""
    assert through_fold(low, high, 60.0, spread) == laid


def folded_flat(shape: Any, width: float, spread: str) -> Any:
    """A polygon on the flat cloth folded as the spread says: mirrored over each fold, by shapely's affinity."""
    length = 1000.0

    def over(part: LineString | Polygon, line: float) -> LineString | Polygon:
        return affinity.scale(part, 1, -1, origin=(0, line))

    def between(low: float, high: float) -> Any:
        return shape.intersection(shapely.box(-length, low, length, high))

    if spread == "open":
        return shape
    if spread == "folded":
        upper = between(width / 2, width)
        return affinity.translate(shapely.union_all([upper, over(between(0, width / 2), width / 2)]), 0, -width / 2)
    quarter = width / 4
    parts = [between(quarter, 3 * quarter), over(between(0, quarter), quarter)]
    parts.append(over(between(3 * quarter, width), 3 * quarter))
    return affinity.translate(shapely.union_all(parts), 0, -quarter)


@given(LENGTH, LENGTH, st.sampled_from(SPREADS))
def test_through_the_fold_as_paper_folds(low: float, high: float, spread: RemnantSpread) -> None:
    """A strip across the cloth folds to what shapely makes of it by mirroring its parts."""
    if low == high:
        return
    low, high = sorted((low, high))
    _, y0, _, y1 = folded_flat(shapely.box(0, low, 10, high), 60.0, spread).bounds
    assert through_fold(low, high, 60.0, spread) == pytest.approx((y0, y1))


@given(st.lists(st.tuples(LENGTH, LENGTH, LENGTH, LENGTH), max_size=5))
def test_zones_apart_cover_the_same_cloth(corners: list[Any]) -> None:
    """Zones made not to overlap cover what they covered, no more and nothing twice (shapely's union)."""
    zones = [Zone(min(a, b), max(a, b), min(c, d), max(c, d)) for a, b, c, d in corners if a != b and c != d]
    parted = apart(zones)
    whole = shapely.union_all([shapely.Polygon(zone.outline) for zone in zones])
    again = shapely.union_all([shapely.Polygon(zone.outline) for zone in parted])
    assert sum(zone.area for zone in parted) == pytest.approx(whole.area)
    assert whole.symmetric_difference(again).area == pytest.approx(0)


def test_zones_are_not_cut_up_for_nothing() -> None:
    """Zones behind one another, and one that goes on at the same heights, stay whole."""
    zones = (Zone(0, 10, 0, 5), Zone(10, 20, 0, 5), Zone(30, 40, 2, 9))
    assert apart(zones) == (Zone(0, 20, 0, 5), Zone(30, 40, 2, 9))


def test_usable_cloth() -> None:
    """1000 x 500 with selvedges of 10 and two cut-outs that overlap, one of them partly selvedge: by hand."""
    remnant = Remnant(mm(500), mm(1000), (Zone(0, 100, 0, 60), Zone(50, 150, 0, 60)), selvedge=mm(10))
    assert remnant.usable == pytest.approx(480 * 1000 - 150 * 50)


def test_turned_end_for_end() -> None:
    """What was missing at the start, by the lower edge, is missing at the end, by the upper one."""
    remnant = Remnant(mm(500), mm(1000), (Zone(0, 100, 0, 60),))
    assert remnant.turned().cut_outs == (Zone(900, 1000, 440, 500),)
    assert remnant.turned().turned() == remnant


def test_turning_folded_cloth_leaves_heights_alone() -> None:
    """Turned and folded, a cut-out lies as far from the fold as before, at the other end."""
    remnant = Remnant(mm(60), mm(100), (Zone(0, 10, 0, 20),))
    assert remnant.lost("folded") == (Zone(0, 10, 10, 30),)
    assert remnant.turned().lost("folded") == (Zone(90, 100, 10, 30),)


def test_cut_outs_are_faults_of_the_problem() -> None:
    """Two cut-outs, one in either layer over the same place, are one fault of the folded cloth, between its edges."""
    remnant = Remnant(mm(400), mm(300), (Zone(0, 50, 0, 100), Zone(0, 50, 320, 400)), selvedge=mm(20))
    (fault,) = remnant.problem([tab()], "folded").faults
    assert shapely.Polygon(fault).equals(shapely.box(0, 100, 50, 180))
    assert len(remnant.problem([tab()], "open").faults) == 2


def test_a_cut_out_in_the_selvedge_is_no_fault() -> None:
    """Of the selvedge nothing is cut, so that nothing is lost there."""
    assert Remnant(mm(400), mm(300), (Zone(0, 50, 0, 10),), selvedge=mm(20)).problem([tab()], "open").faults == ()


def test_cut_outs_nearer_than_the_gap_are_one() -> None:
    """With 6 mm between pieces, cut-outs 5 apart are one fault, and those 10 apart are two."""
    for distance, count in ((5, 1), (10, 2)):
        zones = (Zone(50, 100, 50, 100), Zone(100 + distance, 150, 50, 100))
        faults = Remnant(mm(400), mm(300), zones, gap=mm(6)).problem([tab()], "open").faults
        assert len(faults) == count
        covered = shapely.union_all([shapely.Polygon(fault) for fault in faults])
        assert covered.buffer(1e-6).covers(shapely.box(50, 50, 100, 100))


def test_faults_are_simple_outlines() -> None:
    """Cut-outs that shut in a patch of cloth give one outline without a hole."""
    ring = (Zone(0, 90, 0, 10), Zone(0, 90, 80, 90), Zone(0, 10, 0, 90), Zone(80, 90, 0, 90))
    (fault,) = Remnant(mm(400), mm(300), ring).problem([tab()], "open").faults
    assert shapely.Polygon(fault).equals(shapely.box(0, 0, 90, 90))
    x, y = fault.T
    assert np.dot(x, np.roll(y, -1)) > np.dot(y, np.roll(x, -1))  # counter-clockwise


@pytest.mark.parametrize(
    ("sizes", "zones", "said"),
    [
        ((0, 100), (), "the width of a remnant must be more than 0 mm"),
        ((100, 0), (), "the length of a remnant must be more than 0 mm"),
        ((100, float("nan")), (), "the length of a remnant"),
        ((100, 100), (Zone(0, 0, 0, 10),), "cut-out 1 has no length or no width"),
        ((100, 100), (Zone(0, 10, 0, 10), Zone(0, 10, 50, 50)), "cut-out 2 has no length or no width"),
        ((100, 100), (Zone(95, 105, 0, 10),), "cut-out 1 reaches from .* but the length of the remnant is"),
        ((100, 100), (Zone(0, 10, 95, 105),), "cut-out 1 reaches from .* but the width of the remnant is"),
    ],
)
def test_sizes_that_make_no_sense(sizes: Any, zones: Any, said: str) -> None:
    """A remnant without size, a cut-out without size, and one beyond the cloth are refused, named by number."""
    with pytest.raises(RemnantError, match=said):
        width, length = map(mm, sizes)
        Remnant(width, length, zones)


def test_nothing_between_the_selvedges() -> None:
    """Selvedges as wide as the remnant leave nothing, and that is said."""
    with pytest.raises(SpreadError, match="nothing is left to cut"):
        Remnant(mm(100), mm(100), selvedge=mm(50)).problem([tab()], "open")


@pytest.mark.parametrize(
    ("selvedge", "spread", "edges"),
    [
        (0.0, "open", [("free", "free")]),
        (10.0, "open", [("selvedge", "selvedge")]),
        (0.0, "folded", [("fold", "free")]),
        (0.0, "double-folded", [("fold", "free"), ("free", "fold")]),
    ],
)
def test_edges_are_what_they_are(selvedge: float, spread: RemnantSpread, edges: list[tuple[str, str]]) -> None:
    """Where the selvedges were cut off there is a plain edge; a fold is a fold."""
    bands = Remnant(mm(400), mm(300), selvedge=mm(selvedge)).problem([tab()], spread).bands
    assert [(band.low_edge, band.high_edge) for band in bands] == edges


def test_a_remnant_shrinks_as_its_cloth_does() -> None:
    """A remnant that loses 20 % along and 10 % across: a tab of 80 x 50 is cut 100 x 55.6."""
    remnant = Remnant(mm(1000.0), mm(1000.0), shrinkage=(20.0, 10.0))
    (item,) = remnant.problem([tab()], "open").items
    assert np.ptp(item.variants[0].outline, axis=0) == pytest.approx([100, 50 / 0.9])


def test_a_fault_is_as_large_as_told() -> None:
    """A flaw of 100 x 100 mm stays so where a gap is kept: the gap is asked for once, not added to the flaw."""
    remnant = Remnant(mm(1000.0), mm(1000.0), (Zone(100.0, 200.0, 300.0, 400.0),), gap=mm(10.0))
    (fault,) = remnant.problem([tab()], "open").faults
    assert shapely.Polygon(fault).area == pytest.approx(10_000)
