"""Buying: whole steps, a least quantity, and price breaks."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as some

from reports.errors import PriceError
from reports.money.cost.tariff import Tariff
from reports.money.price import Price

if TYPE_CHECKING:
    from hypothesis.strategies import DrawFn


def price(cents: int) -> Price:
    """So many cents a piece."""
    return Price.parse(f"{Decimal(cents) / 100} / piece")


@some.composite
def tariffs(draw: DrawFn) -> tuple[Any, ...]:
    """Prices in cents that fall from some quantities on."""
    cents = sorted(draw(some.sets(some.integers(1, 400), min_size=1, max_size=4)), reverse=True)
    starts = sorted(draw(some.sets(some.integers(2, 90), min_size=len(cents) - 1, max_size=len(cents) - 1)))
    breaks = tuple((Fraction(start), price(c)) for start, c in zip(starts, cents[1:], strict=True))
    step, least = draw(some.integers(1, 12)), draw(some.integers(0, 30))
    return Tariff(price(cents[0]), Fraction(step), Fraction(least), breaks), cents, starts


@given(tariffs(), some.integers(1, 120))
def test_no_purchase_is_cheaper(found: tuple[Any, ...], need: int) -> None:
    """Of all whole steps that cover the need and the least sold, none costs less, nor as much and is smaller."""
    tariff, cents, starts = found

    def cost(quantity: Any) -> Any:
        return quantity * cents[sum(start <= quantity for start in starts)]

    allowed = [n for n in range(1, 250) if n % tariff.step == 0 and n >= max(need, tariff.minimum)]
    best = min(allowed, key=lambda n: (cost(n), n))
    bought = tariff.buy(Fraction(need))
    assert (bought.quantity, int(bought.cost * 100)) == (best, cost(best))
    assert bought.least == allowed[0]
    assert bought.up_to_break == (best > allowed[0])


@given(tariffs(), some.integers(1, 100))
def test_more_never_costs_less(found: tuple[Any, ...], need: int) -> None:
    """What covers a larger need covers a smaller one, so it never costs less."""
    tariff, _, _ = found
    assert tariff.buy(Fraction(need)).cost <= tariff.buy(Fraction(need + 1)).cost


def test_nothing_is_bought_for_nothing() -> None:
    """Where nothing is needed nothing is bought, whatever the least quantity."""
    assert Tariff(price(100), Fraction(1), Fraction(10)).buy(Fraction(0)).cost == 0


def test_whole_steps_are_not_passed_by_rounding() -> None:
    """Thirty garments that share 15 m take 15 m, whatever the last bit of each share is: no step of 0.5 m more."""
    share = Fraction(15_000 / 30 + 1e-10)
    assert Tariff(price(100), Fraction(500)).buy(30 * share).quantity == 15_000
    assert Tariff(price(100), Fraction(500)).buy(Fraction(15_001)).quantity == 15_500


def test_by_hand() -> None:
    """At 4.20, from 25 on 3.60: 21 cost 88.20; 22 would cost 92.40, so that 25 are bought at 90.00."""
    tariff = Tariff(price(420), Fraction(1), breaks=((Fraction(25), price(360)),))
    assert [(tariff.buy(Fraction(n)).quantity, tariff.buy(Fraction(n)).cost) for n in (21, 22, 26)] == [
        (21, Decimal("88.20")),
        (25, Decimal("90.00")),
        (26, Decimal("93.60")),
    ]


@pytest.mark.parametrize(
    ("breaks", "says"),
    [
        ([(10, "2.00 / piece")], "is not less than"),
        ([(10, "1.50 / piece"), (20, "1.60 / piece")], "1.60 / piece is not less than 1.50 / piece"),
        ([(0, "1.50 / piece")], "breaks lower a price"),
        ([(10, "$1.50 / piece")], "one currency"),
        ([(10, "1.50 / m")], "same kind of unit"),
    ],
)
def test_odd_breaks(breaks: list[tuple[int, str]], says: str) -> None:
    """A break that raises the price, or is in other units or money, is refused."""
    with pytest.raises(PriceError, match=says):
        Tariff(price(200), breaks=tuple((Fraction(n), Price.parse(text)) for n, text in breaks))
