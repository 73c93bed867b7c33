"""Rib of several garments at once: clusters of rows, chains of bands, and what is proved of them."""

from __future__ import annotations

import dataclasses
import math
from itertools import product
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.rib.band import RibBand, RibStock
from nesting.rib.even import even_parts
from nesting.rib.joined.chain import Chain
from nesting.rib.joined.clusters import Cluster, fits, has_ends, list_clusters
from nesting.rib.joined.rows import joined_rows
from nesting.rib.placed import placed_rows
from nesting.rib.planning import plan_rib
from nesting.rib.task import BandPart, RibTask, StripRow
from pieces.length import inches, mm

if TYPE_CHECKING:
    from nesting.rib.plan import RibPlan

INCH = 25.4
SIDES = (("right side seam", 0.25), ("centre back", 0.5), ("left side seam", 0.75))


def jackets(number: int) -> list[RibBand]:
    """Bands of so many jackets: two cuffs of 8 1/4 in, a hem band of 40, a neckband of 18 7/8."""
    return [
        RibBand("cuff", inches(8.25), inches(6), 2 * number),
        RibBand("hem band", inches(40), inches(6), number, SIDES),
        RibBand("neckband", inches(18.875), inches(3.5), number),
    ]


def plan(bands: list[RibBand], stock: RibStock) -> RibPlan:
    """A plan with seams of 1/2 in and parts of 4 in or more."""
    return plan_rib(bands, stock, seam=inches(0.5))


def task(width: float, bands: list[RibBand]) -> RibTask:
    """The same in whole steps, on a tube."""
    return RibTask.from_bands(bands, RibStock("tube", "tube", inches(width)), INCH / 2, 4 * INCH)


def lengths(rows: list[StripRow]) -> list[int]:
    """Width used in each row, steps."""
    return [sum(part.length for part in row.parts) for row in rows]


def test_six_jackets_of_strips() -> None:
    """Six jackets take 10 strips of 42 x 7 in; two strips a jacket, as is commonly bought, would be 12.

    Cuffs and hem bands are 6 in deep, so that a strip holds one row of them: 12 x 8.25 + 6 x 40 = 339 in fill 8.07, and
    with neckbands 452.25 in do not fit 9 rows of 42. In ten strips they must fill 9 rows and two less deep, 462 in: no
    more than 9 joins of 1 in, and two rows of five cuffs spare one. With bands above one another fewer might do.
    """
    found = plan(jackets(6), RibStock("strips", "strips", inches(42), inches(7)))
    assert (found.count, found.bound, found.optimal) == (10, 10, True)
    assert (found.joins, found.fewest_joins) == (8, False)


@pytest.mark.parametrize(
    ("stock", "area"),
    [
        (RibStock("flat", "flat", inches(29), selvedge=inches(0.5)), 28),
        (RibStock("strips", "strips", inches(30), inches(8)), 30 * 8),
    ],
)
def test_forty_jackets(stock: RibStock, area: float) -> None:
    """Forty jackets come within 3 % of the bound, which is no less than their area, and twice the same."""
    first, second = (plan_rib(jackets(40), stock, seam=inches(0.5), effort=2) for _ in range(2))
    used, least = (first.count, first.bound) if first.count else (first.length / INCH, first.bound / INCH)
    assert math.fsum(band.length * band.depth * band.count for band in jackets(40)) / INCH**2 / area <= least
    assert least <= used <= 1.03 * least
    assert first == second


@settings(max_examples=15, deadline=None, derandomize=True)
@given(st.lists(st.integers(1, 20), min_size=1, max_size=12))
def test_splitting_costs_nothing(sizes: list[int]) -> None:
    """Without seams and short parts, rows are as many as the lengths fill: McNaughton (1959, from memory).

    His rule lays jobs end to end over machines and cuts them where one is full: ceil(total / width) rows, and at most
    a cut for each row but one. Machines are rows here, and jobs bands.
    """
    bands = [RibBand(f"band {i}", mm(float(size)), mm(5.0)) for i, size in enumerate(sizes)]
    found = plan_rib(bands, RibStock("tube", "tube", mm(20.0)), seam=mm(0), least_part=mm(0.5))
    rows = -(-sum(sizes) // 20)
    assert (found.length / 5, found.optimal) == (rows, True)
    assert found.joins <= rows - 1


def fillings_by_trial(of: RibTask, rows: int) -> set[tuple[int, ...]]:
    """Counts of bands that fit so many rows, and to which no band of any kind can be added."""
    counts = product(*(range(kind.count + 1) for kind in of.kinds))
    fit = {c for c in counts if fits(of, [0] * rows, c) and (rows == 1 or has_ends(of, rows, c))}
    return {c for c in fit if not any(o != c and all(a >= b for a, b in zip(o, c, strict=True)) for o in fit)}


def test_listed_clusters_hold_all() -> None:
    """Every count of bands that fits some rows is listed, or one with more is: against trying every count."""
    of = task(36, [dataclasses.replace(band, depth=inches(6)) for band in jackets(3)])
    listed, most = list_clusters(of)
    for rows in range(1, most + 1):
        own = {cluster.counts for cluster in listed if len(cluster.rows) == rows}
        assert fillings_by_trial(of, rows) <= own
        assert all(fits(of, [0] * rows, counts) for counts in own)


def test_a_band_joined_to_three_rows() -> None:
    """8 cuffs and a hem band fill three rows of 36 in to the last: 66 + 40 and two joins of 1 in are 108."""
    of = task(36, jackets(4))
    rows = Chain(of, Cluster((0, 0, 0), (8, 1, 0)), 2, 2.0).rows()
    assert rows is not None
    assert lengths(rows) == [of.width] * 3
    assert [sum(part.kind == 1 for part in row.parts) for row in rows] == [1, 1, 1]


def test_two_bands_begun_at_once() -> None:
    """Ten neckbands of 18 7/8 in on seven rows of 28 with six joins: 188.75 + 6 of 196; one at a time is not enough."""
    of = task(28, [RibBand("neckband", inches(18.875), inches(3.5), 10)])
    chain = Chain(of, Cluster((0,) * 7, (10,)), 6, 2.0)
    rows = chain.rows()
    assert rows is not None
    assert max(lengths(rows)) <= of.width
    assert sum(len(row.parts) for row in rows) == 16
    assert chain.most_begun == 2


def test_rows_at_the_ends_waste() -> None:
    """13 neckbands and 6 joins would fill 251.4 in of 252, but a row at an end wastes 1.3: 36 - 18 7/8 - 15 7/8 in."""
    of = task(36, [RibBand("neckband", inches(18.875), inches(3.5), 13)])
    assert fits(of, [0] * 7, (13,))
    assert not has_ends(of, 7, (13,))
    assert Chain(of, Cluster((0,) * 7, (13,)), 6, 1.0).rows() is None


def test_what_cannot_be_laid_is_chosen_anew() -> None:
    """The first choice of clusters for forty jackets cannot be laid; the rows found hold, and its bound stays."""
    of = task(28, jackets(40))
    found = joined_rows(of, 10**6, 1.0)
    assert found.rows is not None
    assert max(lengths(found.rows)) <= of.width
    assert of.least_stock() <= found.stock_bound <= of.stock_used(found.rows)


def test_lengths_reach_places() -> None:
    """A hem band of 40 in in parts of 24 and 17, alone in rows of 36, is moved to its middle: 19 1/2 + 1 in each."""
    of = task(36, [RibBand("hem band", inches(40), inches(6), 1, SIDES)])
    inch = round(INCH / of.step)
    rows = [StripRow((BandPart(0, 24 * inch, 0),)), StripRow((BandPart(0, 17 * inch, 0),))]
    evened = [part for row in even_parts(of, rows, 1.0) for part in row.parts]
    assert sorted((part.group, part.length) for part in evened) == [(0, round(20.5 * inch)), (1, round(20.5 * inch))]


def test_bands_parted_in_different_ways() -> None:
    """One hem band in halves, one joined at a side seam: so four rows of 36 in are full.

    Halves of 20 1/2 in lie beside cuffs of 15; beside a band of 25 only 10 3/4 fit, and 30 1/4 beside one of 5.
    """
    bands = [
        RibBand("hem band", inches(40), inches(6), 2, SIDES),
        RibBand("cuff", inches(15), inches(6), 2),
        RibBand("loop", inches(25), inches(6), 1),
        RibBand("tab", inches(5), inches(6), 1),
    ]
    found = plan(bands, RibStock("tube", "tube", inches(36)))
    assert (found.length / INCH, found.joins) == (pytest.approx(24), 2)
    assert {join.place for join in found.seams} - {"centre back"} <= {"right side seam", "left side seam"}
    assert len({join.place == "centre back" for join in found.seams}) == 2


def test_no_way_at_places() -> None:
    """Places so near the ends that a part would be longer than the tube is wide: no rows with every join at one."""
    of = task(36, [RibBand("hem band", inches(40), inches(6), 1, (("front", 0.05),))])
    inch = round(INCH / of.step)
    rows = [StripRow((BandPart(0, 24 * inch, 0),)), StripRow((BandPart(0, 17 * inch, 0),))]
    assert placed_rows(of, rows, 1.0) is None
