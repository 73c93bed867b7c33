"""Plies dealt out to rolls by plain rules."""

from __future__ import annotations

import random

from nesting.lays.roll_fit import count_opened, deal, missing


def test_an_exact_fit_is_found() -> None:
    """6 + 4 and 7 + 3 fill both rolls."""
    dealt = deal([6.0, 4.0, 7.0, 3.0], [10.0, 10.0])
    assert None not in dealt
    assert {dealt[0]} == {dealt[1]} != {dealt[2]} == {dealt[3]}


def test_what_finds_no_roll_is_missing() -> None:
    """A ply longer than every roll; the others lie."""
    dealt = deal([12.0, 5.0], [10.0, 6.0])
    assert dealt[0] is None
    assert missing([12.0, 5.0], dealt) == 12.0
    assert count_opened(dealt) == 1


def test_no_roll_gives_more_than_it_has() -> None:
    """Random plies and rolls: what is cut of a roll is no longer than the roll."""
    chance = random.Random(7)
    for _ in range(50):
        plies = [chance.uniform(1, 9) for _ in range(12)]
        rolls = [chance.uniform(5, 25) for _ in range(5)]
        dealt = deal(plies, rolls)
        for number, roll in enumerate(rolls):
            assert sum(ply for ply, own in zip(plies, dealt, strict=True) if own == number) <= roll + 1e-5


def test_plies_as_they_come() -> None:
    """4 + 4 + 2 and 5 + 3 + 2 fill both rolls of 10 in their order; the longest first put 5 and 4 on one, and fail."""
    plies, rolls = [4.0, 4.0, 2.0, 5.0, 3.0, 2.0], [10.0, 10.0]
    assert missing(plies, deal(plies, rolls)) == 0
    assert missing(sorted(plies, reverse=True), deal(sorted(plies, reverse=True), rolls)) > 0
