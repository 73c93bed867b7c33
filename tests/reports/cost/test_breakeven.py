"""From how many garments on a run pays."""

from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as some

from reports.cost import break_even

cents = some.integers(0, 30_000)


@given(cents, cents, cents)
def test_exact(fixed, variable, price):
    """It is the least number that brings in its cost: one fewer does not, and where there is none, none does."""
    number = break_even(Decimal(fixed) / 100, Decimal(variable) / 100, Fraction(price, 100))
    if number is None:
        assert all(price * n < fixed + variable * n for n in (1, 10, 10_000_000))
    else:
        assert price * number >= fixed + variable * number
        assert number == 1 or price * (number - 1) < fixed + variable * (number - 1)


def test_by_hand():
    """Fixed 300, 20 a garment: at 50 it takes 10, at 49 eleven, at 20 and below no number does."""
    assert [break_even(Decimal(300), Decimal(20), Decimal(price)) for price in (50, 49, 20, 15)] == [10, 11, None, None]
