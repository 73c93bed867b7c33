"""Rows out of all the ways to fill one."""

from __future__ import annotations

from nesting.rib.band import RibBand, RibStock
from nesting.rib.fill import cut_parts
from nesting.rib.patterns import pattern_rows, row_patterns
from nesting.rib.task import RibTask
from nesting.rib.work import RibWork
from pieces.length import mm


def test_all_ways_to_fill_a_row() -> None:
    """Of lengths 4 and 3, one depth, in 10: by hand, with any waste; with a waste of one, the full ones alone."""
    found = list(row_patterns({(1, 4): 2, (1, 3): 3}, 10, 10))
    assert sorted(sum(length * n for (_, length), n in row.items()) for row in found) == [3, 4, 6, 7, 8, 9, 10]
    full = list(row_patterns({(1, 4): 2, (1, 3): 3}, 10, 0))
    assert full == [{(1, 4): 1, (1, 3): 2}]


def test_shallow_parts_beside_deep_ones_waste_their_difference() -> None:
    """One deep part and a shallow one beside it waste 3 of 10 parts of a row twice as deep."""
    assert {(2, 7): 1, (1, 3): 1} in list(row_patterns({(2, 7): 1, (1, 3): 1}, 10, 3))
    assert {(2, 7): 1, (1, 3): 1} not in list(row_patterns({(2, 7): 1, (1, 3): 1}, 10, 2))


def test_an_exact_fit_and_a_proof_that_there_is_none_shorter() -> None:
    """700 + 300 twice fill two rows of 70 mm; in one row's depth it is proved that they do not go."""
    bands = [RibBand("a", mm(700.0), mm(70.0), 2), RibBand("b", mm(300.0), mm(70.0), 2)]
    task = RibTask.from_bands(bands, RibStock("tube", "tube", mm(1000.0)), 0.0, 100.0)
    parts, depth = list(cut_parts(task)), task.kinds[0].depth
    rows, proved = pattern_rows(task, parts, 2 * depth, 5.0)
    assert rows is not None and len(rows) == 2 and proved
    assert pattern_rows(task, parts, depth, 5.0) == (None, True)


def test_patterns_that_come_to_nothing_end() -> None:
    """Twelve even lengths in an odd width, nothing wasted: no pattern, and after 2,000 steps no more looking."""
    work = RibWork(2_000)
    assert not list(row_patterns({(1, 2 * size): 9 for size in range(40, 28, -1)}, 901, 0, work))
    assert work.is_spent
    assert work.done < 200_000


def test_many_lengths_are_left_alone() -> None:
    """Sixty lengths of which countless rows come near: no rows, and nothing proved."""
    bands = [RibBand(f"band {i}", mm(40.0 + i), mm(70.0)) for i in range(60)]
    task = RibTask.from_bands(bands, RibStock("tube", "tube", mm(1000.0)), 0.0, 1000.0)
    assert pattern_rows(task, list(cut_parts(task)), 10**6, 0.1) == (None, False)
