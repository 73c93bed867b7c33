"""Prices: read as shops write them, counted in decimals."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as some

from reports.errors import PriceError
from reports.money.price import Price

YARD = 914.4  # mm, exactly, by international agreement since 1959 (Wikipedia, "Yard")


@pytest.mark.parametrize(
    ("text", "amount", "currency", "kind", "size"),
    [
        ("14.00 / yd", "14.00", "", "length", YARD),
        ("$9.50 / m", "9.50", "$", "length", 1000),
        ("6 EUR / strip", "6", "EUR", "strip", 1),
        ("€ 12/metre", "12", "€", "length", 1000),
        (" 0.25 usd / IN ", "0.25", "usd", "length", 25.4),
        ("3.5/ft", "3.5", "", "length", 304.8),
        ("2 / cm", "2", "", "length", 10),
        ("US$ 8 / yard", "8", "US$", "length", YARD),
        ("0.90 / piece", "0.90", "", "piece", 1),
        ("$18.00 / h", "18.00", "$", "time", 60),
    ],
)
def test_read(text: str, amount: str, currency: str, kind: str, size: float) -> None:
    """A price is an amount, perhaps a currency on either side, and the unit it is for."""
    price = Price.parse(text)
    assert (price.amount, price.currency, price.kind) == (Decimal(amount), currency, kind)
    assert price.size == pytest.approx(size, abs=1e-9)


@pytest.mark.parametrize(
    "text",
    ["", "14", "/ yd", "14 / furlong", "14,00 / yd", "-1 / yd", "nan / yd", "1e3 / yd", "$5 EUR / yd"]
    + ["9" * 40 + " / m", "5 [b] / yd", 14.0, None, True],
)
def test_refused(text: str) -> None:
    """What is no price is refused with the text and an example."""
    with pytest.raises(PriceError, match=r"cannot read the price .*such as \"14\.00 / yd\""):
        Price.parse(text)


@pytest.mark.parametrize(
    ("price", "mm", "cost"),
    [
        ("14.00 / yd", 1.5 * YARD, "21.00"),
        ("12.80 / yd", 1.375 * YARD, "17.60"),
        ("10 / m", YARD, "9.14"),
        ("0.01 / yd", YARD / 2, "0.01"),  # half a cent: up
        ("0.03 / yd", YARD / 2, "0.02"),  # 1.5 cents: up, where banker's rounding gives the same
        ("0.05 / yd", YARD / 2, "0.03"),  # 2.5 cents: up, where banker's rounding gives 0.02
        ("1.15 / m", 0.1 * 1000 * 3, "0.35"),  # 0.345, which binary floats hold a little below
    ],
)
def test_cost(price: str, mm: float, cost: str) -> None:
    """Cost is counted in decimals and rounded to the cent, halves up."""
    assert Price.parse(price).of(mm) == Decimal(cost)


@given(cents=some.integers(0, 100_000), eighths=some.integers(0, 800))
def test_eighths_of_a_yard(cents: int, eighths: int) -> None:
    """Any number of eighths of a yard costs what exact fractions say."""
    price = Price.parse(f"{Decimal(cents) / 100} / yd")
    exact = Fraction(cents * eighths, 8)
    whole = Decimal(exact.numerator) / exact.denominator
    assert price.of(eighths * (YARD / 8)) * 100 == whole.quantize(Decimal(1), ROUND_HALF_UP)


def test_strips() -> None:
    """Strips cost their price each."""
    assert Price.parse("5.40 / strip").of(3) == Decimal("16.20")


@pytest.mark.parametrize(("text", "written"), [("5/m", "7.50"), ("$5/m", "$7.50"), ("5 EUR/m", "7.50 EUR")])
def test_written(text: str, written: str) -> None:
    """Money is written with two decimals and its currency: a sign before it, a code after it."""
    assert Price.parse(text).write(Decimal("7.5")) == written
