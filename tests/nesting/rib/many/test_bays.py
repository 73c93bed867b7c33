"""Bays: every one can be cut, and the best are worth what a hand finds."""

from __future__ import annotations

from collections import defaultdict
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.rib.band import RibBand, RibStock
from nesting.rib.many.bays import Bay, BaySearch, simple_bays
from nesting.rib.many.fill import Fill, Thing
from nesting.rib.task import RibTask
from pieces.length import inches, mm


def check_bay(task: RibTask, bay: Bay) -> None:
    """Rows hold their parts, the parts of a joined column add up, and none is too short."""
    joined: dict[tuple[int, int], list[int]] = defaultdict(list)
    for row in bay.rows:
        assert sum(part.length for part in row) <= task.width
        for part in row:
            assert task.kinds[part.kind].depth <= bay.depth
            if part.joined is None:
                assert part.length == task.kinds[part.kind].length
            else:
                joined[part.kind, part.joined].append(part.length)
    for (kind, _), lengths in joined.items():
        assert len(lengths) > 1
        assert min(lengths) >= task.least
        assert sum(lengths) == task.kinds[kind].length + (len(lengths) - 1) * task.join


@settings(max_examples=25, deadline=None, derandomize=True)
@given(
    st.lists(st.tuples(st.integers(20, 260), st.sampled_from((20, 31))), min_size=1, max_size=4),
    st.sampled_from((13, 31, 47.3)),
)
def test_bays_can_be_cut(sizes: list[tuple[int, int]], least: float) -> None:
    """Whatever the prices, rows are not too full and bands are whole: widths that are no whole cells included."""
    bands = [RibBand(f"band {i}", mm(size + 0.3337 * i), mm(depth), 9) for i, (size, depth) in enumerate(sizes)]
    task = RibTask.from_bands(bands, RibStock("tube", "tube", mm(100)), 6.0, least)
    prices = [kind.length / task.width for kind in task.kinds]
    for depth in (task.depths[0], 2 * task.depths[0]):
        for _, bay in BaySearch(task, depth, 3_000).best(prices, 1.0, 1e-4):
            check_bay(task, bay)


def test_a_chain_of_three_rows() -> None:
    """8 cuffs of 8 1/4 in and a hem band of 40 fill three rows of 36 to the last: worth 106 in, two joins 2 in."""
    bands = [RibBand("cuff", inches(8.25), inches(6), 8), RibBand("hem band", inches(40), inches(6), 1)]
    task = RibTask.from_bands(bands, RibStock("tube", "tube", inches(36)), 12.7, 101.6)
    best = BaySearch(task, task.depths[0], 30_000).best([8.25, 40.0], 0.0, 0.0)
    value, bay = next((value, bay) for value, bay in best if len(bay.rows) == 3)
    assert value >= 106
    assert bay.joins(task) >= 2


def test_bands_lie_above_one_another() -> None:
    """A bay 20 mm deep holds two bands 10 deep in a column, and its value counts both."""
    task = RibTask.from_bands([RibBand("low", mm(50), mm(10), 8)], RibStock("tube", "tube", mm(100)), 0.0, 50.0)
    value, bay = BaySearch(task, 2 * task.depths[0], 1_000).best([1.0], 0.0, 0.0)[0]
    assert value == pytest.approx(4)
    assert (bay.columns(), bay.above(task, 0)) == ({0: 2}, 2)


def test_every_band_can_be_cut_alone() -> None:
    """On a tube of 150 in parts of 101.6 or more, a band of 775 mm is cut in parts that are long enough."""
    task = RibTask.from_bands([RibBand("hem", mm(775), mm(60))], RibStock("tube", "tube", mm(150)), 12.7, 101.6)
    (bay,) = simple_bays(task, task.depths)
    check_bay(task, bay)


@settings(max_examples=40, deadline=None, derandomize=True)
@given(
    st.lists(st.tuples(st.integers(1, 9), st.integers(0, 9), st.integers(1, 5)), min_size=1, max_size=3),
    st.integers(5, 20),
)
def test_fill_against_trying_all(things: list[tuple[int, int, int]], cells: int) -> None:
    """The best value of every room equals that of trying all numbers, and what is taken gives it."""
    fill = Fill(cells, [Thing(*thing) for thing in map(tuple, things)])
    numbers = list(product(*(range(copies + 1) for _, _, copies in things)))
    for room in range(cells + 1):
        fit = [own for own in numbers if sum(n * thing[0] for n, thing in zip(own, things, strict=True)) <= room]
        best = max(sum(n * thing[1] for n, thing in zip(own, things, strict=True)) for own in fit)
        assert fill.best[room] == best
        taken = fill.taken(room)
        assert sum(n * things[at][1] for at, n in taken.items()) == best
        assert sum(n * things[at][0] for at, n in taken.items()) <= room
        assert all(n <= things[at][2] for at, n in taken.items())
