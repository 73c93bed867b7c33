"""From cost to price, by hand: markup and margin as textbooks of retail arithmetic define them."""

from decimal import Decimal

import pytest

from reports.money.cost.pricing import PriceRule, Rate


def test_markup_is_of_the_cost_and_margin_of_the_price() -> None:
    """A cost of 60 at 50 % markup sells at 90; at 40 % margin at 100, of which 40 are left."""
    assert PriceRule(Rate(Decimal(50))).prices(Decimal(60)).wholesale == Decimal(90)
    found = PriceRule(Rate(Decimal(40), "margin")).prices(Decimal(60))
    assert (found.wholesale, found.margin) == (Decimal(100), Decimal(40))


def test_retail_is_put_on_what_the_shop_pays() -> None:
    """A shop that doubles what it pays sells at twice the wholesale price: 60, 90, 180."""
    found = PriceRule(Rate(Decimal(50)), Rate(Decimal(100))).prices(Decimal(60))
    assert (found.wholesale, found.retail) == (Decimal(90), Decimal(180))


def test_prices_are_rounded_up() -> None:
    """61.10 at 50 % markup are 91.65: 92.00 in whole steps of one, and 91.65 in cents, never less than asked for."""
    cost, half = Decimal("61.10"), Rate(Decimal(50))
    assert PriceRule(half, step=Decimal(1)).prices(cost).wholesale == Decimal(92)
    assert PriceRule(half).prices(cost).wholesale == Decimal("91.65")


@pytest.mark.parametrize(
    ("cost", "price", "margin"), [("75", "100", "25"), ("120", "100", "-20"), ("80", "120", "33.3")]
)
def test_margin_is_of_the_price(cost: str, price: str, margin: str) -> None:
    """What is left of the price, percent of the price: 25 of 100 are 25 %, though a third of the cost."""
    assert PriceRule(Decimal(price)).prices(Decimal(cost)).margin == Decimal(margin)


def test_tax_comes_on_top() -> None:
    """19 % of 100.00 are 19.00, on a price that holds none."""
    assert PriceRule(Decimal(100), tax=Decimal(19)).tax_on(Decimal(100)) == Decimal("19.00")
