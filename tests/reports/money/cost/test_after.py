"""Charges after the margin and a second currency, worked out by hand."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from reports.errors import CostError, JobError
from reports.money.cost.after import AfterCharge, SecondCurrency, shared_out
from reports.money.cost.plain import quote_to_plain
from reports.printed import printed
from reports.run.plain import run_to_plain
from reports.run.words import run_parts
from tests.make.orders import ordered, planned

STEP = 'price_step = "0.50"'


def test_charges_are_put_on_what_is_billed() -> None:
    """12 % of 33.33 are 4.00; an amount is what it is; one of the two is needed."""
    assert AfterCharge("duty", Decimal(12)).on(Decimal("33.33")) == Decimal("4.00")
    assert AfterCharge("freight", amount=Decimal(120)).on(Decimal("33.33")) == Decimal("120.00")
    with pytest.raises(CostError, match="either a percent or an amount"):
        AfterCharge("freight")


def test_an_amount_is_shared_out_to_the_cent() -> None:
    """100.00 on three bills of the same money: 33.33, 33.34, 33.33; a percentage stays."""
    charges = (AfterCharge("freight", amount=Decimal(100)), AfterCharge("duty", Decimal(5)))
    found = shared_out(charges, [Decimal(10)] * 3)
    assert [own[0].amount for own in found] == [Decimal("33.33"), Decimal("33.34"), Decimal("33.33")]
    assert all(own[1] is charges[1] for own in found)


def test_a_second_currency_is_rounded_half_up() -> None:
    """0.125 of a currency for each of another: 1.00 is 0.13."""
    second = SecondCurrency("EUR", Decimal("0.125"), date(2026, 11, 20))
    assert second.written(Decimal(1)) == "0.13 EUR"
    assert second.said("").startswith("EUR, at 0.125 EUR for each 1.00, the rate stated for 2026-11-20.")


def test_an_order_with_charges_and_a_second_currency() -> None:
    """Cloth and zips bear 3 %; freight and duty stand on the quote; every total is there in EUR, at 0.92."""
    more = (
        'line_charges = [{ name = "handling", percent = 3, on = ["cloth", "zip"] }]\n'
        'after = [{ name = "freight", amount = "120.00" }, { name = "duty", percent = 12 }]\n'
        'second = { currency = "EUR", rate = 0.92, date = 2026-11-20 }\n'
    )
    run = planned((f"^{STEP}", more + STEP))
    plain = run_to_plain(run)
    lines = plain["cost"]["run"]["lines"]
    bears = [one for one in lines if one["part"] == "cloth" or one["what"] == "zip"]
    base = sum((Decimal(one["amount"]) for one in bears), Decimal(0))
    (own,) = (one for one in lines if one["what"] == "handling")
    assert abs(Decimal(own["amount"]) - base * 3 / 100) <= Decimal("0.005")
    quote, goods = plain["quote"], Decimal(plain["quote"]["total"])
    duty = (goods * 12 / 100).quantize(Decimal("0.01"))
    assert [Decimal(one["amount"]) for one in quote["after"]] == [Decimal(120), duty]
    assert Decimal(quote["to_pay"]) == goods + sum(Decimal(one["amount"]) for one in quote["after"])
    assert abs(Decimal(quote["tax"]) - Decimal(quote["to_pay"]) / 5) <= Decimal("0.005")
    cost = plain["cost"]["second"]
    for name, money in (("run", plain["cost"]["run"]["total"]), ("garment", plain["cost"]["garment"]["total"])):
        assert abs(Decimal(cost[name]) - Decimal(money) * Decimal("0.92")) <= Decimal("0.005")
    text = printed(*run_parts(run))
    assert f"To pay without tax: {quote['to_pay']} ({quote['second']['to_pay']} EUR)." in text
    assert "second" not in quote_to_plain(planned().costing.quote)


def test_what_makes_no_sense_is_refused() -> None:
    """A line that there is not; both or neither of percent and amount."""
    with pytest.raises(CostError, match="there is no 'zipper' to take it of"):
        planned((f"^{STEP}", f'line_charges = [{{ name = "x", percent = 3, on = ["zipper"] }}]\n{STEP}'))
    with pytest.raises(JobError, match="either a percent or an amount"):
        ordered((f"^{STEP}", f'after = [{{ name = "freight" }}]\n{STEP}'))
