"""From how many garments on a run pays for itself."""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from decimal import Decimal


def break_even(fixed: Decimal | Fraction, variable: Decimal | Fraction, price: Decimal | Fraction) -> int | None:
    """The least number of garments that bring in what they cost.

    Parameters
    ----------
    fixed
        Money that does not depend on their number.
    variable
        What each of them costs besides.
    price
        What each of them brings in.

    Returns
    -------
    1 or more; None if no number does, as each garment costs what it brings in, or more.
    """
    left = Fraction(price) - Fraction(variable)
    if left < 0 or (left == 0 and fixed > 0):
        return None
    return max(1, ceil(Fraction(fixed) / left)) if left else 1
