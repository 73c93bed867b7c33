"""Where joins of rib bands fall: at seams of the garment wherever that costs neither rib nor joins."""

from __future__ import annotations

import dataclasses
from itertools import product
from typing import TYPE_CHECKING, Any

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.errors import CheckError, NestingError
from nesting.rib.band import RibBand, RibStock, bands_of
from nesting.rib.planning import plan_rib
from nesting.rib.verify import check_rib
from pieces import GARMENTS, Body, PieceSet
from pieces.length import inches, mm

if TYPE_CHECKING:
    from nesting.rib.plan import RibPlan
    from pieces.garments import JacketStyle

INCH = 25.4
SIDES = (("right side seam", 0.3), ("centre back", 0.5), ("left side seam", 0.7))


def hem(length: float, places: tuple[tuple[str, float], ...] = SIDES) -> RibBand:
    """A hem band 7 in deep, `length` in inches."""
    return RibBand("hem band", inches(length), inches(7), places=places)


def tube(width: float) -> RibStock:
    """A tube, `width` in inches."""
    return RibStock("tube", "tube", inches(width))


def joins(plan: RibPlan) -> list[tuple[str | None, object]]:
    """Where joins fall: what they meet, and inches from the start of the sewn band."""
    return [(join.place, pytest.approx(join.at / INCH, abs=1e-3)) for join in plan.seams]


def test_one_join_falls_at_the_centre_back() -> None:
    """50 in with 1/2 in seams are 49 sewn: two parts of 25 1/2 meet at 24 1/2, and lie beside a cuff on 40 in."""
    bands = [hem(50), RibBand("cuff", inches(9.5), inches(7), 2)]
    plan = plan_rib(bands, tube(40), seam=inches(0.5))
    assert joins(plan) == [("centre back", 24.5)]
    assert (plan.length, plan.joins) == (pytest.approx(14 * INCH), 1)
    assert (plan.optimal, plan.fewest_joins, plan.most_at_places) == (True, True, True)
    assert sorted(cut.length / INCH for cut in plan.cuts if cut.joins) == pytest.approx([25.5, 25.5])


def test_two_joins_fall_at_the_side_seams() -> None:
    """On 24 in, 50 in take three parts: 14.7, 19.6 and 14.7 sewn meet at both side seams."""
    plan = plan_rib([hem(50)], tube(24), seam=inches(0.5))
    assert joins(plan) == [("right side seam", 14.7), ("left side seam", 34.3)]
    parts = sorted((cut.part, cut.length / INCH) for cut in plan.cuts)
    assert [length for _, length in parts] == pytest.approx([15.7, 20.6, 15.7])


def test_no_place_within_reach_is_said() -> None:
    """At a tenth and nine tenths of 49 in, a part would be 45.1 in, on a tube of 26: the join falls between, proved."""
    plan = plan_rib([hem(50, (("right", 0.1), ("left", 0.9)))], tube(26), seam=inches(0.5))
    assert [join.place for join in plan.seams] == [""]
    assert plan.most_at_places
    assert min(cut.length for cut in plan.cuts) / INCH == pytest.approx(25.5)  # as even as can be


def test_some_joins_at_places() -> None:
    """On 22 in the middle part between both sides would be 0.46 x 49 + 1 = 23.5 in: one join falls at a side seam."""
    places = (("right side seam", 0.27), ("centre back", 0.5), ("left side seam", 0.73))
    plan = plan_rib([hem(50, places)], tube(22), seam=inches(0.5))
    assert sorted(join.place or "" for join in plan.seams)[0] == ""
    assert sum(bool(join.place) for join in plan.seams) == 1
    assert (plan.joins, plan.most_at_places) == (2, True)


def test_a_band_that_meets_nothing() -> None:
    """Of a band without places nothing is said but where it is joined."""
    plan = plan_rib([hem(50, ())], tube(40), seam=inches(0.5))
    assert [join.place for join in plan.seams] == [None]


def placed_best(lengths: list[int], places: list[int], width: int, least: int) -> tuple[int, int, int]:
    """Rows, joins, and joins off the places, by trying everything: every cut in two, every way to pack the parts."""
    ways = [
        [((length,), 0)] * (length <= width)
        + [
            ((a, length - a), int(place not in (a, length - a)))
            for a in range(least, length - least + 1)
            if max(a, length - a) <= width
        ]
        for length, place in zip(lengths, places, strict=True)
    ]
    best = (9, 9, 9)
    for chosen in product(*ways):
        parts = sorted((part for band, _ in chosen for part in band), reverse=True)
        best = min(best, (rows(parts, [], width), len(parts) - len(lengths), sum(off for _, off in chosen)))
    return best


def rows(parts: list[int], rooms: list[int], width: int) -> int:
    """Fewest rows for parts, longest first, by trying every row for each."""
    if not parts:
        return len(rooms)
    tried = [
        rows(parts[1:], [*rooms[:at], room - parts[0], *rooms[at + 1 :]], width)
        for at, room in enumerate(rooms)
        if room >= parts[0] and room not in rooms[:at]
    ]
    return min([rows(parts[1:], [*rooms, width - parts[0]], width), *tried])


@settings(max_examples=30, derandomize=True)
@given(st.lists(st.tuples(st.integers(4, 11), st.integers(1, 3)), min_size=1, max_size=4))
def test_against_brute_force(bands: list[tuple[int, int]]) -> None:
    """Rows, then joins, then joins off their places equal those of every cut tried (10 wide, parts of 4, no seam).

    A band's one place lies one to three from its start, or from its end: three parts of 4 are longer than any band.
    """
    places = [length // 2 if off == 1 else length - 3 - off for length, off in bands]
    wanted = [
        RibBand(f"band {i}", mm(length), mm(5), places=(("place", place / length),))
        for i, ((length, _), place) in enumerate(zip(bands, places, strict=True))
        if place > 0
    ]
    lengths = [int(band.length) for band in wanted]
    if not wanted:
        return
    plan = plan_rib(wanted, RibStock("tube", "tube", mm(10)), seam=mm(0), least_part=mm(4))
    found = (plan.length / 5, plan.joins, sum(join.place != "place" for join in plan.seams))
    assert plan.optimal and plan.fewest_joins and plan.most_at_places
    assert found == placed_best(lengths, [place for place in places if place > 0], 10, 4)


def test_places_cost_nothing(jacket: PieceSet) -> None:
    """With places and without, the jacket's bands take the same rib and joins, on tubes from 16 to 44 in."""
    bands = bands_of(jacket)
    for width in range(16, 45, 7):
        with_places = plan_rib(bands, tube(width), seam=inches(0.5))
        without = plan_rib([dataclasses.replace(band, places=()) for band in bands], tube(width), seam=inches(0.5))
        assert (with_places.length, with_places.joins) == pytest.approx((without.length, without.joins))


def test_bands_of_a_jacket(jacket: PieceSet) -> None:
    """A band meets a seam at the share of its opening at which the garment has it: lengths of sew lines by shapely."""
    bands = {band.name: band for band in bands_of(jacket)}
    for name, edge, seam in (("hem band", "hem", "side seam"), ("neckband", "neck", "shoulder seam")):
        front, back = (shapely.LineString(jacket[piece].edge(edge).points).length for piece in ("front", "back"))
        share = front / (front + back) / 2
        assert dict(bands[name].places) == pytest.approx(
            {f"right {seam}": share, "centre back": 0.5, f"left {seam}": 1 - share}
        )
    assert {name: (band.count, band.ring) for name, band in bands.items()} == {
        "cuff": (2, True),
        "hem band": (1, False),
        "neckband": (1, False),
    }


def test_tabs_shorten_the_fronts_share(body: Body, style: JacketStyle) -> None:
    """With a tab of 3 in at each front, the hem band starts 3 in later: its side seam comes at a smaller share."""
    made = GARMENTS["rib-jacket"].draft(body, dataclasses.replace(style, tab_width=inches(3)))
    front, back = (shapely.LineString(made[piece].edge("hem").points).length for piece in ("front", "back"))
    band = next(band for band in bands_of(made) if band.name == "hem band")
    assert band.places[0][1] == pytest.approx((front - 3 * INCH) / (front + back - 3 * INCH) / 2)


@pytest.mark.parametrize(
    "change",
    [
        {"seams": ()},
        {"at": 24 * INCH},
        {"place": "left side seam"},
        {"part": 1},
    ],
)
def test_check_finds_a_join_that_is_not_there(change: dict[str, Any]) -> None:
    """A join left out, elsewhere, at another seam or after another part than told is found."""
    plan = plan_rib([hem(50)], tube(40), seam=inches(0.5))
    seams = change["seams"] if "seams" in change else (dataclasses.replace(plan.seams[0], **change),)
    with pytest.raises(CheckError, match=r"joined|joins"):
        check_rib(dataclasses.replace(plan, seams=seams), [hem(50)], seam=INCH / 2, least_part=101.6)


@pytest.mark.parametrize("places", [(("a", 0.0),), (("a", 1.0),), (("a", 0.6), ("b", 0.4)), (("a", 0.4), ("a", 0.6))])
def test_places_must_lie_on_the_band(places: tuple[tuple[str, float], ...]) -> None:
    """Places at a band's ends, in the wrong order or of one name are refused."""
    with pytest.raises(NestingError, match="needs places with different names, in order from its start"):
        hem(50, places)


def test_published_cutting_stock_variant() -> None:
    """45×97, 35×610, 31×395, 14×211 out of 100 take 453 (after Chvatal, 1983; first-fit-decreasing takes 485)."""
    demand = {45: 97, 35: 610, 31: 395, 14: 211}
    bands = [RibBand(f"{size}", mm(size), mm(10), count) for size, count in demand.items()]
    plan = plan_rib(bands, RibStock("strips", "strips", mm(100), mm(10)), seam=mm(0), least_part=mm(100))
    assert (plan.count, plan.bound, plan.optimal) == (453, 453, True)


def test_many_jackets_are_joined_at_places(jacket: PieceSet) -> None:
    """Twelve hem bands of 50 in on a tube of 26 fill 612 / 26 = 23.5, so 24 rows: each in halves of 25 1/2 in."""
    bands = [band for band in bands_of(jacket, 12) if band.name == "hem band"]
    plan = plan_rib(bands, tube(26), seam=inches(0.5))
    assert (plan.length, plan.joins, plan.optimal) == (pytest.approx(24 * 7 * INCH), 12, True)
    assert {join.place for join in plan.seams} == {"centre back"}
    assert plan.most_at_places


def test_placed_joins_repeat(jacket: PieceSet) -> None:
    """The same bands give the same plan with joins at places, to the last bit."""
    first, second = (plan_rib(bands_of(jacket), tube(22), seam=inches(0.5)) for _ in range(2))
    assert first == second


def test_marks_that_are_no_places(body: Body, style: JacketStyle) -> None:
    """Quarters and the ends of a zip are no places to join a band, however its marks are ordered, or doubled."""
    jacket = GARMENTS["rib-jacket"].draft(body, dataclasses.replace(style, closure="zip"))
    band = jacket["hem band"]
    shuffled = dataclasses.replace(band, notches=(*band.notches[::-1], *band.notches))
    for piece in (band, shuffled):
        (found,) = bands_of(PieceSet("band", (piece,)))
        assert [name for name, _ in found.places] == ["right side seam", "centre back", "left side seam"]
