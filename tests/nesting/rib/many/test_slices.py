"""What slices prove: never more than what is cut, and as much as a hand finds."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.rib.band import RibBand, RibStock
from nesting.rib.many.slices import SlicePrices, least_within, scale_shares
from nesting.rib.planning import plan_rib
from nesting.rib.task import RibTask
from pieces.length import mm

WIDE = st.integers(3, 9).map(lambda n: n * 10)


def bound(bands: list[RibBand], stock: RibStock, seam: float, least: float) -> float:
    """What slices and scales prove, mm or strips."""
    task = RibTask.from_bands(bands, stock, seam, least)
    prices = SlicePrices(task, 10**7)
    found = least_within(task, prices, prices.of([float(kind.count * kind.depth) for kind in task.kinds]))
    return found * (1 if stock.depth else task.depth_step)


@settings(max_examples=40, deadline=None, derandomize=True)
@given(
    st.lists(st.tuples(st.integers(30, 140), st.sampled_from((40, 40, 25)), st.integers(1, 2)), min_size=1, max_size=4),
    st.sampled_from((11, 30, 50, 100)),
    st.sampled_from((0, 5)),
    st.booleans(),
)
def test_no_plan_undercuts_the_bound(sizes: list[tuple[int, int, int]], least: int, seam: int, is_strips: bool) -> None:
    """Small jobs whose plans come of the exact models: what slices prove is never more than the plan takes."""
    bands = [RibBand(f"band {i}", mm(size), mm(depth), number) for i, (size, depth, number) in enumerate(sizes)]
    stock = RibStock("strips", "strips", mm(100), mm(66)) if is_strips else RibStock("tube", "tube", mm(100))
    try:
        plan = plan_rib(bands, stock, seam=mm(seam), least_part=mm(least), effort=1)
    except ValueError:
        return
    assert bound(bands, stock, seam, least) <= max(plan.count, plan.length) + 1e-6


@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.lists(st.integers(5, 100), min_size=1, max_size=8), st.sampled_from((20, 34, 51, 80, 100)))
def test_no_slice_holds_more_than_a_whole(lengths: list[int], least: int) -> None:
    """Whole bands that fit the width beside one another take no more than one, on every scale and by the prices."""
    bands = [RibBand(f"band {i}", mm(length), mm(10)) for i, length in enumerate(lengths)]
    task = RibTask.from_bands(bands, RibStock("tube", "tube", mm(100)), 5.0, float(least))
    fit, room = [], task.width
    for index, kind in enumerate(task.kinds):
        if kind.length <= room:
            fit.append(index)
            room -= kind.length
    for shares in (*scale_shares(task), SlicePrices(task, 10**7).of([1.0] * len(bands))):
        assert float(np.asarray(shares)[fit].sum()) <= 1 + 1e-9


def test_half_a_width_and_a_little() -> None:
    """Bands of 50.5 mm that are never joined lie one in a row of 100: ten rows, of which area asks for six."""
    bands = [RibBand("band", mm(50.5), mm(10), 10)]
    assert bound(bands, RibStock("tube", "tube", mm(100)), 0, 100) == pytest.approx(100)


def test_just_longer_than_the_width() -> None:
    """Bands of 100.1 mm in parts of 50 or more, seams of 5: 50 and 60.1, two of 50 to a row, so 1 1/2 rows a band."""
    bands = [RibBand("band", mm(100.1), mm(10), 10)]
    assert bound(bands, RibStock("tube", "tube", mm(100)), 5, 50) == pytest.approx(150)


def test_bands_above_one_another_count() -> None:
    """Two bands of 60 x 30 and two of 40 x 20 and one more: the bound holds for the layout in columns as well.

    On a tube of 100 the columns take 60 and 60: 60 mm, though rows take 30 + 30 + 20.
    """
    bands = [RibBand("wide", mm(60), mm(30), 2), RibBand("low", mm(40), mm(20), 3)]
    assert bound(bands, RibStock("tube", "tube", mm(100)), 0, 100) == pytest.approx(60)
