"""How many garments of a run must be sold for it to be paid for."""

from __future__ import annotations

from decimal import Decimal
from itertools import combinations
from typing import Any

from hypothesis import given
from hypothesis import strategies as some

from reports.money.cost.breakeven import break_even

prices = some.lists(some.tuples(some.integers(0, 300), some.integers(1, 3)), max_size=4)


@given(some.integers(0, 2000), prices)
def test_exact(cost: int, sold: list[Any]) -> None:
    """Any so many garments bring in the cost; of one fewer some do not; without a number all together do not.

    Every choice of garments is added up.
    """
    number = break_even(Decimal(cost), [(Decimal(price), garments) for price, garments in sold])
    each = [price for price, garments in sold for _ in range(garments)]
    if number is None:
        assert sum(each) < cost
    else:
        assert all(sum(some) >= cost for some in combinations(each, number))
        assert number == 0 or any(sum(some) < cost for some in combinations(each, number - 1))


def test_by_hand() -> None:
    """A run of 2053.94 is paid for by 28 garments at 74.46 (2084.88), not by one, and not where there are only 27."""
    price = Decimal("74.46")
    assert 27 * price < Decimal("2053.94") <= 28 * price
    assert break_even(Decimal("2053.94"), [(price, 40)]) == 28
    assert break_even(Decimal("2053.94"), [(price, 27)]) is None
    assert break_even(Decimal(100), [(Decimal(50), 2), (Decimal(30), 1)]) == 3
