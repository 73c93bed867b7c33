"""Counts in a line of words: where they stand, and how many."""

from __future__ import annotations

import pytest

from pieces.exchange.words.counted import CutCount, counts_in, holds_a_number, merged, without


def test_where_counts_stand() -> None:
    """Each count is found with its place, in the order of the line; what was read can be taken out of it."""
    line = "Front cut 2 shell, x3 lining"
    found = counts_in(line)
    assert [(line[one.start : one.end], one.many) for one in found] == [("cut 2", 2), ("x3", 3)]
    assert without(line, [one[:2] for one in found]).replace("\0", "") == "Front  shell,  lining"


def test_the_same_said_twice_is_one_count() -> None:
    """A count and the same in pairs are one; another number is told."""
    line = "cut 4 (2 pairs)"
    (one,) = merged(counts_in(line), line)
    assert (one.many, one.pair, one.doubt) == (4, True, "")
    line = "cut 2 (2 pairs)"
    assert merged(counts_in(line), line)[0].doubt


@pytest.mark.parametrize(("line", "more"), [("2 left, 1 right", 1), ("cut 1 + 3 mirrored", 2), ("1L 1R", 0)])
def test_unlike_halves_are_told(line: str, more: int) -> None:
    """Left and right that are not as many are counted together, and told."""
    (one,) = counts_in(line)
    assert isinstance(one, CutCount) and one.pair == (more == 0)
    assert (f"{more} more" in one.doubt) == (more > 0)


@pytest.mark.parametrize("line", ["cut 2 cm off", "cut 0", "cut 501", "dart", "12"])
def test_no_count(line: str) -> None:
    """Lengths, nothing, and more than any pattern says."""
    assert counts_in(line) == []
    assert holds_a_number(line) == (line in ("cut 0", "cut 501"))


@pytest.mark.parametrize(
    ("line", "many", "doubt"),
    [
        ("2 per garment", 2, "says 2 per garment"),
        ("4 pcs per sleeve", 4, "says 4 per sleeve"),
        ("cut 2 each side", 2, "says 2 each side"),
        ("1/2 pr", 4, "a fraction before 'pr'"),
        ("2self", 2, ""),
        ("cut 2 each", 2, ""),
    ],
)
def test_counts_of_a_part_are_told(line: str, many: int, doubt: str) -> None:
    """So many of each garment, sleeve or side are counted once, and told, as a fraction is."""
    (one,) = counts_in(line)
    assert one.many == many and (doubt in one.doubt if doubt else not one.doubt)
