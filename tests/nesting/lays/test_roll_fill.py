"""Rolls cut as far as they can be."""

from __future__ import annotations

import random
from collections import Counter
from itertools import combinations

from nesting.lays.roll_fill import Filling


def test_a_roll_is_filled_to_the_last_step() -> None:
    """70 goes first; of 40, 25, 20 and 10 the roll of 100 then holds 20 and 10, by all ways tried."""
    plies = [70, 40, 25, 20, 10]
    (given,) = Filling(plies, [100]).given
    most = max(sum(some) for size in range(5) for some in combinations(plies[1:], size) if sum(some) <= 30)
    assert given == Counter([70, 20, 10]) and 70 + most == 100


def test_exchange_finds_room_for_what_is_left() -> None:
    """120 plies of 20 to 100 of 51 rolls of 150: filled one by one some are left, and exchange finds room for them."""
    chance = random.Random(0)
    plies = [chance.randint(20, 100) for _ in range(120)]
    filling = Filling(plies, [150] * 51)
    assert filling.left
    filling.exchange(1.0)
    assert not filling.left
    assert sum(filling.given, Counter()) == Counter(plies)


def test_nothing_is_lost_or_stretched() -> None:
    """Random plies and rolls: each ply is on one roll or left, and no roll gives more than it has."""
    chance = random.Random(5)
    for _ in range(20):
        plies = [chance.randint(10, 60) for _ in range(25)]
        rolls = [chance.randint(50, 200) for _ in range(7)]
        filling = Filling(plies, rolls)
        filling.exchange(0.05)
        assert sum(filling.given, filling.left) == Counter(plies)
        assert all(sum(given.elements()) <= roll for roll, given in zip(rolls, filling.given, strict=True))


def test_work_ends() -> None:
    """Plies that no roll holds are left, and the search ends."""
    filling = Filling([30, 30], [20, 25])
    filling.exchange(0.01)
    assert filling.left == Counter([30, 30]) and filling.work < 2_000
