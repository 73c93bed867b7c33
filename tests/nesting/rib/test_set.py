"""Ready sets of ribbing, and tubes left closed: hand-reasoned."""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING

import pytest

from nesting.errors import CheckError, NestingError, StripTooShortError
from nesting.rib.band import RibBand, RibStock
from nesting.rib.planning import plan_rib
from nesting.rib.verify import check_rib
from pieces.length import inches, mm
from tests.make.lengths import in_mm

if TYPE_CHECKING:
    from nesting.rib.plan import RibPlan

INCH = 25.4
SEAM = INCH / 2
SET = RibStock("set L", "set", inches(52), inches(7), cuff=inches(10))
CUFFS = RibBand("cuff", inches(9.5), inches(7), 2, ring=True)
HEM = RibBand("hem band", inches(50), inches(7))
NECK = RibBand("neckband", inches(21), inches(3))


def sources(plan: RibPlan) -> set[tuple[str, str]]:
    """What is cut of what."""
    return {(cut.band, cut.source) for cut in plan.cuts}


def test_one_set_gives_a_jacket() -> None:
    """Two cuffs of 9 1/2 in and a hem of 50 come out of one set of 10 and 52 in, each out of its own."""
    plan = plan_rib([CUFFS, HEM], SET, seam=mm(SEAM))
    assert (plan.count, plan.length, plan.joins, plan.optimal, plan.bound) == (1, 0.0, 0, True, 1)
    assert sources(plan) == {("cuff", "set 1, cuff 1"), ("cuff", "set 1, cuff 2"), ("hem band", "set 1, hem band")}


def test_neckband_takes_a_second_set() -> None:
    """Beside a hem of 50 in 2 in are left: the neckband needs another set's hem band."""
    plan = plan_rib([CUFFS, HEM, NECK], SET, seam=mm(SEAM))
    assert (plan.count, plan.optimal) == (2, True)
    assert ("neckband", "set 2, hem band") in sources(plan)


def test_neckband_beside_a_short_hem() -> None:
    """A hem of 30 in and a neckband of 21 lie side by side on 52."""
    plan = plan_rib([dataclasses.replace(HEM, length=inches(30)), NECK], SET, seam=mm(SEAM))
    assert (plan.count, [row.used for row in plan.rows]) == (1, [pytest.approx(51 * INCH)])


def test_many_jackets() -> None:
    """Forty jackets without neckbands take forty sets: each has one hem band as long as the hem."""
    plan = plan_rib([dataclasses.replace(band, count=band.count * 40) for band in (CUFFS, HEM)], SET, seam=mm(SEAM))
    assert (plan.count, plan.optimal) == (40, True)


def test_cuffs_too_short_are_cut_of_hems() -> None:
    """Cuffs of 9 1/2 in, of a set whose cuffs are 9, come out of a hem band: for one jacket a second set."""
    plan = plan_rib([CUFFS, HEM], dataclasses.replace(SET, cuff=inches(9)), seam=mm(SEAM))
    assert plan.count == 2
    assert {source for band, source in sources(plan) if band == "cuff"} == {"set 2, hem band"}


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"width": 48 * INCH}, r"'hem band' needs 50 in .* of rib; the set 'set L' has 48 in .*: choose a larger set"),
        ({"depth": 6 * INCH}, r"'cuff' needs 7 in .* of rib deep; the set 'set L' has 6 in"),
    ],
)
def test_set_too_small(change: dict[str, float], why: str) -> None:
    """A set too short or too shallow for a band is refused, with both sizes."""
    with pytest.raises(StripTooShortError, match=why):
        plan_rib([CUFFS, HEM], dataclasses.replace(SET, **in_mm(change)), seam=mm(SEAM))


def test_set_must_make_sense() -> None:
    """A set without cuffs or depth, cuffs of what is no set, and closed rib that is no tube are refused."""
    with pytest.raises(NestingError, match="set 'S' needs a cuff length above 0 mm, got none"):
        RibStock("S", "set", mm(900), mm(150))
    with pytest.raises(NestingError, match="'S' needs a depth above 0 mm, got none"):
        RibStock("S", "set", mm(900), cuff=mm(200))
    with pytest.raises(NestingError, match="not a ready set, and only a set has its own cuffs"):
        RibStock("S", "strips", mm(900), mm(150), cuff=mm(200))
    with pytest.raises(NestingError, match="not a tube, and only a tube can stay closed"):
        RibStock("S", "flat", mm(900), closed=True)


def test_check_of_a_set() -> None:
    """A cuff said to come out of a fifth ready band, or to be longer than its own, is found."""
    plan = plan_rib([CUFFS, HEM], SET, seam=mm(SEAM))
    at = next(i for i, cut in enumerate(plan.cuts) if cut.source == "set 1, cuff 2")
    source = dataclasses.replace(plan.cuts[at], source="set 1, cuff 3")
    row = dataclasses.replace(plan.rows[source.row], source="set 1, cuff 3")
    rows = (*plan.rows[: source.row], row, *plan.rows[source.row + 1 :])
    cuts = (*plan.cuts[:at], source, *plan.cuts[at + 1 :])
    with pytest.raises(CheckError, match="is not a band of the set"):
        check_rib(dataclasses.replace(plan, cuts=cuts, rows=rows), [CUFFS, HEM], seam=SEAM, least_part=100)
    with pytest.raises(CheckError, match="lies outside set 1, cuff"):
        short = dataclasses.replace(plan, stock=dataclasses.replace(SET, cuff=inches(9)))
        check_rib(short, [CUFFS, HEM], seam=SEAM, least_part=100)


@pytest.mark.parametrize("round_it", [8.5, 8.5 * 1.03, 8.5 * 0.97])
def test_cuff_stays_a_closed_tube(round_it: float) -> None:
    """A cuff of 9 1/2 in is 8 1/2 sewn: a tube 8 1/2 in round, give or take 3 %, is one; two take 14 in."""
    plan = plan_rib([CUFFS], RibStock("cuffing", "tube", inches(round_it), closed=True), seam=mm(SEAM))
    assert (plan.length, plan.bound, plan.joins, plan.optimal) == (pytest.approx(14 * INCH), plan.length, 0, True)
    assert all(cut.closed and cut.length == pytest.approx(round_it * INCH) for cut in plan.cuts)


def test_closed_beside_others() -> None:
    """On cuffing 8 1/2 in round, two cuffs stay closed and a neckband of 8 in, 3 in deep, takes a row: 17 in."""
    bands = [CUFFS, RibBand("neckband", inches(8), inches(3))]
    plan = plan_rib(bands, RibStock("cuffing", "tube", inches(8.5), closed=True), seam=mm(SEAM))
    assert plan.length == pytest.approx(17 * INCH)
    assert {cut.band for cut in plan.cuts if cut.closed} == {"cuff"}


@pytest.mark.parametrize(
    ("stock", "band"),
    [
        (RibStock("cuffing", "tube", inches(8.5)), CUFFS),  # not asked for
        (RibStock("cuffing", "tube", inches(8.5 * 1.04), closed=True), CUFFS),  # too wide
        (RibStock("cuffing", "tube", inches(8.5), closed=True), dataclasses.replace(CUFFS, ring=False)),  # not a ring
    ],
)
def test_tube_is_cut_open(stock: RibStock, band: RibBand) -> None:
    """Unasked, or on a tube 4 % too wide, or for a band with free ends, no tube stays closed: cuffs are joined."""
    plan = plan_rib([band], stock, seam=mm(SEAM), least_part=inches(3))
    assert not any(cut.closed for cut in plan.cuts)
    assert plan.joins == 2


def test_check_of_a_closed_tube() -> None:
    """A cuff said to stay closed on a tube that is not told to, or is too wide, is found."""
    stock = RibStock("cuffing", "tube", inches(8.5), closed=True)
    plan = plan_rib([CUFFS], stock, seam=mm(SEAM))
    for other in (dataclasses.replace(stock, closed=False), dataclasses.replace(stock, width=inches(9))):
        with pytest.raises(CheckError, match="left a closed tube"):
            check_rib(dataclasses.replace(plan, stock=other), [CUFFS], seam=SEAM, least_part=100)
