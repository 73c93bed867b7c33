"""Rib plans: published cutting-stock optima, hand-reasoned rows, and brute force."""

from __future__ import annotations

import dataclasses
from itertools import product
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import MonkeyPatch

from nesting.errors import CheckError, NestingError, StripTooShortError
from nesting.rib import planning, rows
from nesting.rib.band import RibBand, RibStock, bands_of
from nesting.rib.planning import plan_rib
from nesting.rib.task import RibTask
from nesting.rib.verify import check_rib
from pieces.length import inches, mm

if TYPE_CHECKING:
    from collections.abc import Callable

    from nesting.rib.plan import RibCut, RibPlan
    from pieces.piece.pieces import PieceSet

INCH = 25.4

# OR-Library, binpack5, t60_00 (Falkenauer): 60 items, capacity 100, optimum 20; each three in file order fill a bin.
T60 = """36.6 26.8 36.6 43.0 26.3 30.7 41.4 28.7 29.9 49.5 25.1 25.4 47.4 25.2 27.4 37.0 26.9 36.1 47.3 25.2 27.5
47.2 25.9 26.9 44.4 25.8 29.8 43.9 27.3 28.8 44.5 27.2 28.3 41.9 26.1 32.0 36.3 27.1 36.6 35.5 27.3 37.2 46.6 26.2 27.2
35.7 29.2 35.1 39.5 25.5 35.0 35.0 30.3 34.7 45.0 25.2 29.8 41.0 27.5 31.5"""


def jacket_bands() -> list[RibBand]:
    """Rib of one jacket: two cuffs, a hem band longer than the tube, a neckband."""
    return [
        RibBand("cuff", inches(9.5), inches(7), 2),
        RibBand("hem band", inches(49), inches(7)),
        RibBand("neckband", inches(23), inches(3)),
    ]


def parts_of(plan: RibPlan, band: str) -> list[float]:
    """Lengths of a band's parts, inches, shortest first."""
    return sorted(cut.length / INCH for cut in plan.cuts if cut.band == band)


def test_jacket_on_a_tube() -> None:
    """Hem 49 + 1 and cuffs 19 fill 69 of two 40 in rows 7 deep; the neckband takes a row 3 deep: 17 in, not proved.

    16 in would do: the 11 in left beside the bands hold 9 in along, three parts of the neckband above one another.
    """
    plan = plan_rib(jacket_bands(), RibStock("tube", "tube", inches(40)), seam=inches(0.5))
    assert plan.length <= 17 * INCH + 0.01
    assert plan.bound <= 16 * INCH + 0.01
    assert plan.fewest_joins == (plan.joins == 1)
    assert plan.optimal == (plan.bound == plan.length)


def test_parts_are_even() -> None:
    """Beside two cuffs the hem band's shorter part has 40 - 19 = 21 in of room, and takes it all."""
    plan = plan_rib(jacket_bands(), RibStock("tube", "tube", inches(40)), seam=inches(0.5))
    assert parts_of(plan, "hem band") == pytest.approx([21, 29])


def test_strips_stack_rows() -> None:
    """A strip 8 in deep holds two rows 3 in deep, or one 7 in deep: five 3 in rows take three strips."""
    stock = RibStock("strips", "strips", inches(20), inches(8))
    assert plan_rib([RibBand("neck", inches(15), inches(3), 5)], stock, seam=mm(0), least_part=inches(15)).count == 3
    deep = plan_rib([RibBand("cuff", inches(15), inches(7), 2)], stock, seam=mm(0), least_part=inches(15))
    assert (deep.count, deep.length, deep.optimal) == (2, 0.0, True)


def test_flat_leaves_its_selvedges() -> None:
    """Two 10 in bands lie in one row of 20 in, and not in 20 in less two selvedges of 1/2 in."""
    bands = [RibBand("cuff", inches(10), inches(4), 2)]
    free = plan_rib(
        bands, RibStock("flat", "flat", inches(21), selvedge=inches(0.5)), seam=mm(0), least_part=inches(10)
    )
    tight = plan_rib(
        bands, RibStock("flat", "flat", inches(20), selvedge=inches(0.5)), seam=mm(0), least_part=inches(10)
    )
    assert (free.length, tight.length) == pytest.approx((4 * INCH, 8 * INCH))


def test_flat_leaves_both_selvedges() -> None:
    """Of 20 1/2 in less two selvedges of 1/2 in, 19 1/2 are left: two 10 in bands take two rows, though 20 lie free."""
    stock = RibStock("flat", "flat", inches(20.5), selvedge=inches(0.5))
    assert stock.usable == pytest.approx(19.5 * INCH)
    plan = plan_rib([RibBand("cuff", inches(10), inches(4), 2)], stock, seam=mm(0), least_part=inches(10))
    assert plan.length == pytest.approx(8 * INCH)


def test_join_saves_a_row() -> None:
    """Three 25 in bands fill 75 + 1 of two 40 in rows once one is joined; unjoined they take three rows."""
    bands, stock = [RibBand("band", inches(25), inches(4), 3)], RibStock("tube", "tube", inches(40))
    joined = plan_rib(bands, stock, seam=inches(0.5))
    whole = plan_rib(bands, stock, seam=inches(0.5), least_part=inches(25))
    assert (joined.length, joined.joins, joined.optimal) == (pytest.approx(8 * INCH), 1, True)
    assert (whole.length, whole.joins, whole.optimal) == (pytest.approx(12 * INCH), 0, True)


def test_join_of_two_least_parts() -> None:
    """An 80 band in two parts of the least 45 mm (seam 5) lies beside two of 55 mm on 100 mm: two rows."""
    bands = [RibBand("short", mm(55), mm(20), 2), RibBand("long", mm(80), mm(20))]
    plan = plan_rib(bands, RibStock("tube", "tube", mm(100)), seam=mm(5), least_part=mm(45))
    assert (plan.length, plan.joins, plan.optimal) == (40, 1, True)


def test_exact_fit_of_thirds() -> None:
    """Three thirds of a width that no decimal holds still lie in one row."""
    bands = [RibBand("band", mm(1000 / 3), mm(50), 3)]
    assert plan_rib(bands, RibStock("tube", "tube", mm(1000)), seam=mm(6), least_part=mm(400)).length == 50


def test_published_triplets() -> None:
    """t60_00 takes 20 strips, proved (OR-Library binpack5; first-fit-decreasing takes 23)."""
    bands = [RibBand(f"item {i}", mm(float(size)), mm(10)) for i, size in enumerate(T60.split())]
    plan = plan_rib(bands, RibStock("strips", "strips", mm(100), mm(10)), seam=mm(0), least_part=mm(100))
    assert (plan.count, plan.optimal, plan.joins) == (20, True, 0)


def test_published_cutting_stock() -> None:
    """45×97, 36×610, 31×395, 14×211 out of 100 take 453 (Chvatal, Linear Programming, 1983, p. 195)."""
    demand = {45: 97, 36: 610, 31: 395, 14: 211}
    bands = [RibBand(f"{size}", mm(size), mm(10), count) for size, count in demand.items()]
    plan = plan_rib(bands, RibStock("tube", "tube", mm(100)), seam=mm(0), least_part=mm(100))
    assert (plan.length, plan.optimal) == (4530, True)


def test_published_neckband() -> None:
    """16 in of neck take 3/4 of 12 in (sewing.org); 2 1/2 in finished are cut 5 1/2 in (handbook, "Ribbed edges")."""
    plan = plan_rib(
        [RibBand("neck", mm(16 * INCH * 3 / 4), inches(2 * 2.5 + 0.5))],
        RibStock("tube", "tube", inches(28)),
        seam=mm(6),
    )
    assert (plan.cuts[0].length, plan.length) == pytest.approx((12 * INCH, 5.5 * INCH))


def least_rows(lengths: list[int], width: int, join: int, least: int) -> tuple[int, int]:
    """Rows and joins by trying everything: every way to cut each band in two, every way to pack the parts."""
    ways = [
        [(length,)] * (length <= width)
        + [
            (a, length + join - a)
            for a in range(least, length + join - least + 1)
            if max(a, length + join - a) <= width
        ]
        for length in lengths
    ]
    best = (len(lengths) * 2, len(lengths))
    for chosen in product(*ways):
        parts = sorted((part for band in chosen for part in band), reverse=True)
        best = min(best, (_pack(parts, [], width), len(parts) - len(lengths)))
    return best


def _pack(parts: list[int], rooms: list[int], width: int) -> int:
    if not parts:
        return len(rooms)
    first, rest = parts[0], parts[1:]
    places = {room: at for at, room in enumerate(rooms) if room >= first}.values()
    filled = [_pack(rest, [*rooms[:at], rooms[at] - first, *rooms[at + 1 :]], width) for at in places]
    return min([_pack(rest, [*rooms, width - first], width), *filled])


@settings(deadline=None, max_examples=25, derandomize=True)
@given(st.lists(st.integers(4, 14), min_size=1, max_size=4), st.integers(0, 1))
def test_against_brute_force(lengths: list[int], seam: int) -> None:
    """Rows, then joins, equal those found by trying every cut in two (tube 10 wide)."""
    bands = [RibBand(f"band {i}", mm(length), mm(5)) for i, length in enumerate(lengths)]
    plan = plan_rib(bands, RibStock("tube", "tube", mm(10)), seam=mm(seam), least_part=mm(3))
    rows, joins = least_rows(lengths, 10, 2 * seam, 3)
    assert plan.optimal
    assert plan.fewest_joins
    assert (plan.length / 5, plan.joins) <= (rows, joins)  # three parts may do better than two, never worse
    if max(lengths) + 4 * seam < 9:  # three parts of 3 would be longer than any band
        assert (plan.length / 5, plan.joins) == (rows, joins)


def test_repeats() -> None:
    """The same bands give the same plan, to the last bit."""
    stock = RibStock("tube", "tube", inches(40))
    first = plan_rib(jacket_bands(), stock, seam=mm(12.7))
    planning._solved.cache_clear()  # else the second plan is the first one, kept
    second = plan_rib(jacket_bands(), stock, seam=mm(12.7))
    assert second == first
    assert second.cuts is not first.cuts


def test_the_same_bands_are_planned_once(monkeypatch: MonkeyPatch) -> None:
    """Bands planned before are not planned anew; one that differs is."""
    solved: list[object] = []
    solve = rows.solve_rows

    def counted(*asked: Any) -> Any:
        solved.append(asked)
        return solve(*asked)

    monkeypatch.setattr(rows, "solve_rows", counted)
    planning._solved.cache_clear()
    stock = RibStock("tube", "tube", inches(40))
    bands = [RibBand("cuff", inches(10), inches(4), 2)]
    assert plan_rib(bands, stock, seam=mm(12.7)) == plan_rib(list(bands), stock, seam=mm(12.7))
    assert len(solved) == 1
    plan_rib([dataclasses.replace(bands[0], count=4)], stock, seam=mm(12.7))
    assert len(solved) == 2


def test_short_effort_is_honest() -> None:
    """Forty jackets with hardly any effort: a plan that can be cut, and a bound no longer than it."""
    bands = [dataclasses.replace(band, count=band.count * 40) for band in jacket_bands()]
    plan = plan_rib(bands, RibStock("tube", "tube", inches(40)), seam=mm(12.7), effort=0.05)
    area = sum(band.length * band.depth * band.count for band in bands)
    assert area / (40 * INCH) <= plan.bound <= plan.length
    assert plan.optimal == (plan.bound == plan.length)


@pytest.mark.parametrize(
    "change",
    [
        lambda plan: {"cuts": plan.cuts[:-1]},
        lambda plan: {"cuts": (dataclasses.replace(plan.cuts[0], length=plan.cuts[0].length - 1), *plan.cuts[1:])},
        lambda plan: {"cuts": (dataclasses.replace(plan.cuts[0], offset=500), *plan.cuts[1:])},
        lambda plan: {"cuts": (*plan.cuts[:-1], dataclasses.replace(plan.cuts[-1], row=0, source="row 1"))},
        lambda plan: {"length": plan.length - 1},
        lambda plan: {"bound": plan.length + 1},
        lambda plan: {"joins": 0},
    ],
)
def test_check_finds_what_is_wrong(change: Callable[..., Any]) -> None:
    """A part missing, short, outside or on top of another, or a false total, is found."""
    plan = plan_rib(jacket_bands(), RibStock("tube", "tube", inches(40)), seam=mm(12.7))
    check_rib(plan, jacket_bands(), seam=12.7, least_part=101.6)
    with pytest.raises(CheckError):
        check_rib(dataclasses.replace(plan, **change(plan)), jacket_bands(), seam=12.7, least_part=101.6)


def test_shallow_strip() -> None:
    """A strip shallower than the band is refused, with both depths and a remedy."""
    stock = RibStock("strips", "strips", mm(1000), inches(6))
    with pytest.raises(
        StripTooShortError, match=r"'hem band' needs rib 7 in .* deep; the strips are 6 in .*: buy deeper"
    ):
        plan_rib([RibBand("hem band", mm(900), inches(7))], stock, seam=mm(6))


@pytest.mark.parametrize(("width", "least"), [(100, 101.6), (101, 101.6), (600, 590)])
def test_no_join_adds_up(width: float, least: float) -> None:
    """A long band on stock narrower than its least part, or in two parts that would be too short, is refused."""
    with pytest.raises(StripTooShortError, match="buy wider rib, or allow shorter parts"):
        plan_rib(
            [RibBand("hem", mm(1100), mm(100))],
            RibStock("tube", "tube", mm(width)),
            seam=mm(12.7),
            least_part=mm(least),
        )


@pytest.mark.parametrize("size", [0.0, -1.0, float("nan"), float("inf")])
def test_sizes_must_be_sizes(size: float) -> None:
    """Zero, negative and unmeasurable sizes are refused by name."""
    with pytest.raises(NestingError, match="'cuff' needs a length above 0 mm"):
        RibBand("cuff", mm(size), mm(100))
    with pytest.raises(NestingError, match="'tube' needs a width above 0 mm"):
        RibStock("tube", "tube", mm(size))


def test_stock_must_make_sense() -> None:
    """Strips without depth, a tube with a selvedge, names used twice, a seam too wide: each is refused."""
    with pytest.raises(NestingError, match="depth above 0 mm, got none"):
        RibStock("strips", "strips", mm(500))
    with pytest.raises(NestingError, match="only flat rib has a selvedge"):
        RibStock("tube", "tube", mm(500), selvedge=mm(10))
    tube = RibStock("tube", "tube", mm(500))
    with pytest.raises(NestingError, match="got 'cuff' twice"):
        plan_rib([RibBand("cuff", mm(100), mm(50)), RibBand("cuff", mm(120), mm(50))], tube, seam=mm(6))
    with pytest.raises(NestingError, match="two seam allowances"):
        plan_rib([RibBand("cuff", mm(100), mm(50))], tube, seam=mm(60))


def test_check_says_which_part_is_wrong() -> None:
    """A missing cuff, a part too short, a join that takes but one seam, an overlap, a false total: each by its name."""
    bands, seam = jacket_bands(), 12.7
    plan = plan_rib(bands, RibStock("tube", "tube", inches(40)), seam=mm(seam))
    at = next(i for i, cut in enumerate(plan.cuts) if cut.joins and cut.part == 0)
    joined, whole = plan.cuts[at], next(i for i, cut in enumerate(plan.cuts) if not cut.joins)

    def refused(reason: str, least: float = 101.6, **changes: Any) -> None:
        with pytest.raises(CheckError, match=reason):
            check_rib(dataclasses.replace(plan, **changes), bands, seam=seam, least_part=least)

    def other(number: int, **changes: Any) -> tuple[RibCut, ...]:
        return (*plan.cuts[:number], dataclasses.replace(plan.cuts[number], **changes), *plan.cuts[number + 1 :])

    refused("is missing, or is one too many", cuts=plan.cuts[:whole] + plan.cuts[whole + 1 :])
    refused("the parts of 'hem band' make", cuts=other(at, length=joined.length - seam))
    refused("has a part shorter than", least=joined.length + plan.cuts[at].depth + 500)
    refused("lies outside row", cuts=other(whole, offset=38 * INCH))
    refused("the plan says", length=plan.length + 1)
    refused("the plan's bound", bound=plan.length + 1)


def test_check_of_two_bands_in_one_place() -> None:
    """Two cuffs laid over one another by 1 cm overlap."""
    bands = [RibBand("cuff", inches(10), inches(4), 2)]
    plan = plan_rib(bands, RibStock("tube", "tube", inches(40)), seam=mm(0), least_part=inches(10))
    first, second = plan.cuts
    over = dataclasses.replace(second, offset=first.offset + first.length - 10.0)
    with pytest.raises(CheckError, match="parts of 'cuff' and 'cuff' overlap"):
        check_rib(dataclasses.replace(plan, cuts=(first, over)), bands, seam=0, least_part=10 * INCH)


def test_bands_of_pieces(jacket: PieceSet) -> None:
    """A jacket's rib, for three: cuffs 9 1/2 by 7 in, six of them, rings; hem bands 50 by 7; neckbands 3 deep."""
    bands = {band.name: band for band in bands_of(jacket, 3)}
    assert {name: band.count for name, band in bands.items()} == {"cuff": 6, "hem band": 3, "neckband": 3}
    assert (bands["cuff"].length, bands["cuff"].depth) == pytest.approx((9.5 * INCH, 7 * INCH))
    assert (bands["hem band"].length, bands["hem band"].depth) == pytest.approx((50 * INCH, 7 * INCH))
    assert bands["neckband"].depth == pytest.approx(3 * INCH)
    assert [bands[name].ring for name in ("cuff", "hem band", "neckband")] == [True, False, False]


def test_bounds_by_hand() -> None:
    """Three bands of 45 on strips of 100 hold two each: two strips; a band of 150 on 100, seams of 5, is 160 of it."""
    strips = plan_rib(
        [RibBand("band", mm(45), mm(10), 3)],
        RibStock("strips", "strips", mm(100), mm(10)),
        seam=mm(0),
        least_part=mm(45),
    )
    assert (strips.count, strips.bound, strips.optimal) == (2, 2, True)
    exact = plan_rib(
        [RibBand("band", mm(190), mm(10))], RibStock("tube", "tube", mm(100)), seam=mm(5), least_part=mm(20)
    )
    assert (exact.length, exact.bound, exact.joins) == (20, 20, 1)  # two parts of 100, less two seams of 5


def test_a_strip_an_eighth_too_shallow() -> None:
    """A band 7 in deep does not come out of strips of 6 7/8 in."""
    with pytest.raises(StripTooShortError, match=r"needs rib 7 in .* deep; the strips are 6 7/8 in"):
        plan_rib(
            [RibBand("cuff", mm(200), inches(7))], RibStock("strips", "strips", mm(1000), inches(6.875)), seam=mm(6)
        )


@pytest.mark.parametrize(
    ("bands", "stock", "least"),
    [
        (
            [RibBand("band", mm(45), mm(10), 3)],
            RibStock("strips", "strips", mm(100), mm(10)),
            2,
        ),  # two rows of two and one
        (
            [RibBand("band", mm(50), mm(5), 8)],
            RibStock("strips", "strips", mm(100), mm(10)),
            2,
        ),  # four rows, two a strip
        (
            [RibBand("deep", mm(90), mm(6)), RibBand("low", mm(90), mm(4))],
            RibStock("strips", "strips", mm(100), mm(10)),
            1,
        ),  # 6 and 4 of 10
    ],
)
def test_least_stock_by_hand(bands: list[RibBand], stock: RibStock, least: int) -> None:
    """What area alone asks for, in strips: never more than is enough."""
    assert RibTask.from_bands(bands, stock, 0.0, 40.0).least_stock() == least
    assert plan_rib(bands, stock, seam=mm(0), least_part=mm(40)).count == least
