"""How many garments of a run must be sold for it to be paid for."""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable
    from decimal import Decimal


def break_even(cost: Decimal, sold: Iterable[tuple[Decimal, int]]) -> int | None:
    """The least number of a run's garments that, whichever they are, bring in what all of it costs.

    Parameters
    ----------
    cost
        Of the whole run: it is made, however many are sold.
    sold
        Prices, and how many garments there are at each.

    Returns
    -------
    None if not even all of them together bring in as much.
    """
    number, left = 0, cost
    for price, garments in sorted(sold):  # the cheapest first: whichever are sold bring in no less
        if left <= 0:
            break
        needed = garments + 1 if price <= 0 else ceil(Fraction(left) / Fraction(price))
        if needed <= garments:
            return number + needed
        number, left = number + garments, left - price * garments
    return number if left <= 0 else None
