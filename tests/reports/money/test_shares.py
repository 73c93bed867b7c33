"""A whole parted by shares adds up, and no part is a whole step off."""

from __future__ import annotations

from random import Random

import pytest

from pieces.errors import WrongNumberError
from reports.money.shares import part_out


def test_by_hand() -> None:
    """Ten cents among three alike: the first gets the cent that is left over."""
    assert part_out(10, [1, 1, 1]) == [4, 3, 3]
    assert part_out(1000, [2, 1, 0]) == [667, 333, 0]


def test_adds_up() -> None:
    """The parts are the whole again, each within one step of its exact share."""
    random = Random(7)
    for _ in range(200):
        shares = [random.random() * 10 ** random.randrange(-3, 4) for _ in range(random.randrange(1, 15))]
        whole = random.randrange(0, 100_000)
        parts = part_out(whole, shares)
        assert sum(parts) == whole
        assert all(
            abs(part - whole * share / sum(shares)) < 1 + 1e-6 for part, share in zip(parts, shares, strict=True)
        )


@pytest.mark.parametrize("shares", [[0.0, 0.0], [1.0, -0.5]])
def test_no_shares(shares: list[float]) -> None:
    """Without a share above 0, or with one below, there is nothing to part by."""
    with pytest.raises(WrongNumberError):
        part_out(5, shares)
