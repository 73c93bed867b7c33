"""Shallow bands above one another beside a deep one: found, checked, and no proof that forgets them."""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import count, product
from typing import Literal

import pytest

from nesting.errors import CheckError
from nesting.rib.band import RibBand, RibStock
from nesting.rib.bound import least_of_any
from nesting.rib.planning import plan_rib
from nesting.rib.task import RibTask
from nesting.rib.verify import check_rib
from pieces.length import inches, mm

INCH = 25.4
STACKED = (RibBand("hem", inches(28), inches(6)), RibBand("neck", inches(8), inches(3), 2))


def test_two_necks_beside_a_hem() -> None:
    """28 + 8 = 36 in across, and 3 + 3 = 6 in along: 6 in of tube, which is its area too. In rows it would take 9."""
    plan = plan_rib(STACKED, RibStock("tube", "tube", inches(36)), seam=inches(0.5))
    assert (plan.length, plan.bound, plan.optimal) == (pytest.approx(6 * INCH), pytest.approx(6 * INCH), True)
    assert sorted(cut.rise for cut in plan.cuts) == pytest.approx([0, 0, 3 * INCH])


def test_no_bound_where_sums_are_not_listed() -> None:
    """Of depths in steps of 0.0001 mm no sums are listed: the bound is no plan's length, whatever was found.

    By hand: of a tube 10 across, two bands 6 x 60.0001 lie above one another, one 1 x 20.0003 beside them: 120.0002.
    """
    bands = [RibBand("cuff", mm(6), mm(60.0001), 2), RibBand("neck", mm(1), mm(20.0003))]
    task = RibTask.from_bands(bands, RibStock("tube", "tube", mm(10)), seam=0, least_part=6)
    assert task.depth_step == pytest.approx(0.0001)
    assert least_of_any(task, 10_000_000) <= 1_200_002


def test_one_strip_does() -> None:
    """The same in strips 6 in deep: one holds all three; rows would take two."""
    plan = plan_rib(STACKED, RibStock("strips", "strips", inches(36), inches(6)), seam=inches(0.5))
    assert (plan.count, plan.optimal, len(plan.rows)) == (1, True, 1)


def test_a_joined_band_above_another_is_not_excluded() -> None:
    """A neck 21 × 3 in and 70 in of bands 7 in deep, on strips 42 × 8 in: three strips are found.

    Two would do: 84 - 71 in leave 13 in across, and the neck in two parts of 11 in lies there one above the other.
    """
    bands = (RibBand("cuff", inches(9.5), inches(7), 2), RibBand("hem", inches(50), inches(7)))
    stock = RibStock("strips", "strips", inches(42), inches(8))
    plan = plan_rib((*bands, RibBand("neck", inches(21), inches(3))), stock, seam=inches(0.5))
    assert plan.bound <= 2
    assert plan.optimal == (plan.count == 2)


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("form", ["tube", "strips"])
def test_least_of_all_rectangle_layouts(form: Literal["tube", "strips"], seed: int) -> None:
    """Random bands that are not joined take as little as a search of every place on a grid finds; bounds hold."""
    rng = random.Random(seed)
    width, depth = rng.randint(5, 8), 5 if form == "strips" else None
    sizes = [(rng.randint(1, width), rng.randint(1, 4)) for _ in range(rng.randint(3, 5))]
    bands = [RibBand(f"band {i}", mm(10.0 * long), mm(10.0 * deep)) for i, (long, deep) in enumerate(sizes)]
    stock = RibStock("rib", form, mm(10.0 * width), mm(10.0 * depth) if depth else None)
    plan = plan_rib(bands, stock, seam=mm(1), least_part=mm(1000), effort=20)
    if depth is None:
        least = next(high for high in count(1) if _fits(sizes, width, (high,)))
        assert plan.length == pytest.approx(10 * least)
    else:
        least = next(number for number in count(1) if _fits(sizes, width, (depth,) * number))
        assert plan.count == least
    assert plan.bound <= max(plan.length, plan.count)
    assert plan.optimal


def _fits(sizes: list[tuple[int, int]], width: int, strips: tuple[int, ...]) -> bool:
    """Whether rectangles of whole numbers lie somewhere in strips of given depths: every place is tried."""

    def lay(at: int, taken: frozenset[tuple[int, int, int]]) -> bool:
        if at == len(order):
            return True
        long, deep = order[at]
        for strip, high in enumerate(strips):
            for x, y in product(range(width - long + 1), range(high - deep + 1)):
                cells = {(strip, x + i, y + j) for i in range(long) for j in range(deep)}
                if not cells & taken and lay(at + 1, taken | cells):
                    return True
        return False

    order = sorted(sizes, key=lambda size: -size[0] * size[1])
    return lay(0, frozenset())


def test_the_check_knows_stacked_bands() -> None:
    """A band risen on to another one, or beyond its row, is found by the check."""
    plan = plan_rib(STACKED, RibStock("tube", "tube", inches(36)), seam=inches(0.5))
    for more, what in ((-INCH, "overlap"), (INCH, "beyond its row")):
        cuts = tuple(replace(cut, rise=cut.rise + more) if cut.rise else cut for cut in plan.cuts)
        with pytest.raises(CheckError, match=what):
            check_rib(replace(plan, cuts=cuts), STACKED, seam=INCH / 2, least_part=100)
