"""Costing against published worked examples, re-computed line by line."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Any

import pytest

from reports.ask.pricing import Pricing
from reports.money.cost.pricing import PriceRule, Rate
from reports.money.cost.sheet import Charge, cost_run
from reports.money.cost.sources import Expense, Work
from reports.money.price import Price, to_cents

if TYPE_CHECKING:
    from reports.money.cost.item import CostPart
    from reports.money.cost.sheet import CostSheet

ONE = {("white", "M"): 1}


def amounts(sheet: CostSheet) -> dict[str, Decimal]:
    """What each line comes to."""
    return {line.what: line.amount for line in sheet.lines}


def test_knit_cloth_by_the_kilo() -> None:
    """A kilo of knit cloth: 275 with the knitting, 295 dyed, 26.55 loss, 32.16 margin, 353.71 in all.

    Source: apparel-analysis.blogspot, 17 Apr 2013, cost sheet of a T-shirt, rupees; every line to the paisa.
    """
    sources = [Expense(what, Decimal(money), "cloth") for what, money in (("yarn", 250), ("knit", 25), ("dye", 20))]
    charges = [Charge("process loss", "waste", Decimal(9)), Charge("margin", "other", Decimal(10))]
    kilo = cost_run(sources, ONE, charges).run
    assert amounts(kilo)["process loss"] == Decimal("26.55")
    assert amounts(kilo)["margin"] == Decimal("32.16")
    assert kilo.total == Decimal("353.71")
    assert Price.parse(f"{kilo.total} / kg").of(210) == Decimal("74.28")


def test_cost_sheet_of_a_t_shirt() -> None:
    """Direct cost 113.78, overhead 13.65, margin 25.49, rejects 5.10, port charge 1.00: 159.02, at 49.00 a dollar 3.25.

    Source: apparel-analysis.blogspot, 17 Apr 2013, cost sheet of a T-shirt, rupees; every line to the paisa.
    """
    made: tuple[tuple[str, str, CostPart], ...] = (
        ("cloth", "74.28", "cloth"),
        ("stitch", "20", "sewing"),
        ("cut", "2.50", "cutting"),
        ("finish", "6", "finishing"),
        ("pack", "4.50", "finishing"),
        ("embellish", "2.50", "finishing"),
        ("trims", "4", "trims"),
    )
    direct: tuple[CostPart, ...] = ("cloth", "trims", "cutting", "sewing", "finishing")
    sources = [Expense(what, Decimal(money), part) for what, money, part in made]
    sources.append(Expense("port charge", Decimal("1.00"), "set-up"))
    charges = [
        Charge("overhead", "overhead", Decimal(12), direct),
        Charge("margin", "other", Decimal(20), (*direct, "overhead")),
        Charge("rejects", "waste", Decimal(4), (*direct, "overhead")),
    ]
    sheet = cost_run(sources, ONE, charges).run
    assert sum(sheet.by_part()[part] for part in direct) == Decimal("113.78")
    lines = amounts(sheet)
    assert [lines[name] for name in ("overhead", "margin", "rejects")] == [
        Decimal(x) for x in ("13.65", "25.49", "5.10")
    ]
    assert sheet.total == Decimal("159.02")
    assert to_cents(Fraction(sheet.total) / 49) == Decimal("3.25")


def test_waste_of_an_order_is_taken_as_published() -> None:
    """Waste is so many percent of the cost with overhead, as rejects are in the same sheet (4 % of 127.43 is 5.10)."""
    charges = Pricing(overhead=12.0, waste=4.0).charges()
    sheet = cost_run([Expense("direct", Decimal("113.78"), "sewing")], ONE, charges).run
    assert amounts(sheet)["overhead"] == Decimal("13.65")
    assert sheet.by_part()["waste"] == Decimal("5.10")


def test_cost_of_a_minute() -> None:
    """5000 a month of 26 days of 8 hours is 0.4006 a minute; 15 min of sewing and 2 of cutting cost 6.81.

    Source: scribd document 84735625. It rounds the minute to 0.40 first and so has 6.00 + 0.80 = 6.80.
    """
    month = Price(Decimal(5000), "", "time", 26 * 8 * 60.0, "month")
    assert float(month.exact(1)) == pytest.approx(0.4006, abs=0.00005)
    work = [Work("sew", "sewing", month, Fraction(15)), Work("cut", "cutting", month, Fraction(2))]
    assert cost_run(work, ONE, ()).run.total == Decimal("6.81")
    rounded = Price.parse("0.40 / min")
    work = [Work("sew", "sewing", rounded, Fraction(15)), Work("cut", "cutting", rounded, Fraction(2))]
    assert cost_run(work, ONE, ()).run.total == Decimal("6.80")


def test_cost_of_a_minute_at_an_efficiency() -> None:
    """80 for the same month is 0.00641 a minute; 15 min at 52 % cost 0.1849. Inputs: scribd document 84735625."""
    month = Price(Decimal(80), "", "time", 26 * 8 * 60.0, "month")
    work = Work("sew", "sewing", month, Fraction(15), efficiency=Fraction(52))
    assert float(month.exact(1)) == pytest.approx(0.00641, abs=0.000005)
    assert float(month.exact(work.paid(work.minutes))) == pytest.approx(0.1849, abs=0.00005)


def test_shares_of_a_selling_price() -> None:
    """Of 100: materials 40, trims 5, sewing 20, overheads 30, profit 5; cloth less 2.5 % and sewing less 10 %: 8.

    Source: scribd document 471593295.
    """
    keep = PriceRule(Rate(Decimal(5), "margin"))

    def total(materials: Any, sewing: Any) -> Decimal:
        parts: tuple[tuple[str, Any, CostPart], ...] = (
            ("materials", materials, "cloth"),
            ("trims", "5", "trims"),
            ("sewing", sewing, "sewing"),
        )
        sources = [Expense(what, Decimal(money), part) for what, money, part in parts]
        return cost_run([*sources, Expense("overheads", Decimal(30), "overhead")], ONE, ()).run.total

    assert keep.prices(total("40", "20")).wholesale == 100
    assert keep.prices(total("40", "20")).margin == 5
    assert 100 - total("39.00", "18.00") == 8


@pytest.mark.parametrize(("cost", "price"), [("10", "20"), ("37.50", "75.00")])
def test_keystone(cost: str, price: str) -> None:
    """Twice the cost is 100 % markup and 50 % margin. Sources: Monash marketing dictionary, "keystone"; quia.com."""
    for rate in (Rate(Decimal(100)), Rate(Decimal(50), "margin")):
        prices = PriceRule(rate).prices(Decimal(cost))
        assert prices.wholesale == Decimal(price)
        assert prices.margin == 50


def test_wholesale_then_retail() -> None:
    """A cost of 20 sells at 40 and then at 80, each twice what is under it (from memory)."""
    prices = PriceRule(Rate(Decimal(100)), Rate(Decimal(50), "margin")).prices(Decimal(20))
    assert (prices.wholesale, prices.retail) == (40, 80)
