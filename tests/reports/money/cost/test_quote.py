"""The quote, and what people and machines read of the cost."""

from __future__ import annotations

import io
import json
from decimal import Decimal
from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING, Any

import pytest
from rich.console import Console

from pieces.units import Units
from reports.draw.quote import quote_page
from reports.money.cost.curve import cost_curve
from reports.money.cost.plain import cost_to_plain, curve_to_plain, quote_to_plain
from reports.money.cost.pricing import PriceRule, Rate
from reports.money.cost.quote import TO_FILL_IN, Quote, QuoteLine, make_quote
from reports.money.cost.sheet import cost_run
from reports.money.cost.sources import Expense
from reports.money.cost.words import (
    billed_lines,
    break_even_line,
    price_lines,
    sheet_lines,
    sheet_table,
    sizes_tables,
    write_quantity,
)
from reports.money.price import Price
from reports.run.draw.cost import parts_page, unit_cost_page
from tests.make.drawn import overlapping, texts
from tests.make.studio import QUANTITIES, SIZES, curve_sources, entries, run_sources

if TYPE_CHECKING:
    from rich.table import Table

    from reports.money.cost.sheet import RunCost

REEL = Price(Decimal("8.50"), "$", "length", 5_000_000.0, "5000 m", "m")
ASKED = entries()
RULE = ASKED.pricing.rule("$")


@pytest.fixture(scope="module")
def cost() -> RunCost:
    """The studio's run."""
    return cost_run(run_sources(), QUANTITIES, ASKED.pricing.charges())


def shown(*tables: Table) -> str:
    """Tables as a person sees it."""
    stream = io.StringIO()
    Console(file=stream, width=140).print(*tables)
    return stream.getvalue()


def test_quote_adds_up(cost: RunCost) -> None:
    """Forty jackets at the wholesale price, line by line; tax is worked out once on their total."""
    quote = make_quote("Forty jackets", cost, RULE)
    each = RULE.prices(cost.garment.total).wholesale
    assert {(line.colour, line.size): line.number for line in quote.lines} == QUANTITIES
    assert (quote.garments, quote.total) == (40, 40 * each)
    assert quote.tax == (quote.total * Decimal("0.08")).quantize(Decimal("0.01"))


def test_tax_is_rounded_once() -> None:
    """Three lines of 0.20 at 8 % are 1.6 cents each, six if rounded one by one; on their 0.60 it is 4.8, so five."""
    lines = tuple(QuoteLine("rust", size, 1, Decimal("0.20")) for size in SIZES[:3])
    quote = Quote("q", lines, PriceRule(Decimal("0.20"), tax=Decimal(8)))
    assert quote.tax == Decimal("0.05")


def test_prices_by_size(cost: RunCost) -> None:
    """With a price for each size larger jackets cost more, and each covers its own cost with the margin asked for."""
    pricing = ASKED.pricing.model_copy(update={"price_by_size": True})
    quote = make_quote("Forty jackets", cost, pricing.rule("$"))
    each = {line.size: line.each for line in quote.lines}
    assert [each[size] for size in SIZES] == sorted(each.values())
    assert len(set(each.values())) > 1
    assert all((each[size] - cost.sizes[size].total) / each[size] >= Decimal("0.45") for size in SIZES)
    assert "retail" in shown(*sizes_tables(cost, pricing.rule("$")))


def test_words(cost: RunCost) -> None:
    """Tables have every line and the total; the lines say price, tax apart, rounding, and what pays for the run."""
    table = shown(sheet_table(cost.run, Units.INCHES))
    assert all(line.what in table and f"{line.amount:.2f}" in table for line in cost.run.lines)
    assert f"{cost.run.total:.2f}" in table
    assert all(size in shown(*sizes_tables(cost, RULE)) for size in SIZES)
    said = "\n".join(price_lines(cost, make_quote("", cost, RULE)))
    for words in (
        f"${cost.run.total}",
        "45 % margin",
        "rounded up to whole steps of $1.00",
        "These prices include no tax",
        "are paid for once",
    ):
        assert words in said
    assert "22 min of work at 80 %." in "\n".join(sheet_lines(cost.run))


def test_it_never_pays(cost: RunCost) -> None:
    """Below its cost all garments do not pay for a run, and the loss on each is said; above it, so many do."""
    below = PriceRule(Decimal("60.00"), currency="$")
    assert cost.run.total > 60 * cost.garments
    assert break_even_line(cost, make_quote("", cost, below)).startswith(
        f"The run never pays for itself: all {cost.garments} garments bring in ${60 * cost.garments}.00, but it costs"
    )
    sold = ceil(cost.run.total / 100)
    assert 100 * (sold - 1) < cost.run.total <= 100 * sold
    lost = cost.garment.total - 60
    assert f"Wholesale $60.00 (as given): ${lost} a garment is lost." in list(
        price_lines(cost, make_quote("", cost, below))
    )
    assert f"once {sold} of its {cost.garments} garments are sold at $100.00" in break_even_line(
        cost, make_quote("", cost, PriceRule(Decimal(100), currency="$"))
    )


def test_stock_is_not_sold(cost: RunCost) -> None:
    """Of 40 made 30 are ordered: at 90.00 these bring in 2700.00, less than the run costs, though 40 would pay for it.

    At 110.00 the run is paid for out of the 30 billed; in words and as data the ten kept as stock count for nothing.
    """
    assert 30 * 90 < cost.run.total < 40 * 90
    ordered = {kind: number - (1 if number > 1 else 0) for kind, number in QUANTITIES.items()}
    assert sum(ordered.values()) == 30
    for price, number in ((90, None), (110, ceil(cost.run.total / 110))):
        quote = make_quote("", cost, PriceRule(Decimal(price), currency="$"), ordered)
        plain = cost_to_plain(cost, quote)
        assert (plain["break_even"], plain["billed"], plain["garments"]) == (number, 30, 40)
        said = break_even_line(cost, quote)
        assert ("all 30 garments billed bring in $2700.00" if number is None else f"once {number} of its 30") in said
        assert said.endswith("Garments kept as stock, 10 of 40 made, do not count as sold.")


def test_machine(cost: RunCost) -> None:
    """The JSON holds the same money as text, line by line."""
    curve = cost_curve(curve_sources(), QUANTITIES, ASKED.pricing.charges(), range(1, 60))
    quote = make_quote("Forty jackets", cost, RULE)
    plain = json.loads(json.dumps([cost_to_plain(cost, quote), curve_to_plain(curve), quote_to_plain(quote)]))
    assert sum(Decimal(line["amount"]) for line in plain[0]["run"]["lines"]) == Decimal(plain[0]["run"]["total"])
    assert set(plain[0]["sizes"]) == set(SIZES)
    assert [point["garments"] for point in plain[1]["points"]] == list(range(1, 60))
    assert {step["garments"] for step in plain[1]["steps"]} == {step.garments for step in curve.steps}
    assert sum(Decimal(line["amount"]) for line in plain[2]["lines"]) == Decimal(plain[2]["total"])


def test_quote_page(cost: RunCost) -> None:
    """The page has every line, totals, blanks to fill in, and no word that is for its maker; nothing overlaps."""
    quote = make_quote("Forty zipped rib jackets", cost, RULE)
    figure = quote_page(quote)
    words = texts(figure)
    assert not overlapping(figure)
    assert f"${quote.total}" in words
    assert f"${quote.total + quote.tax}" in words
    assert words.count("rust") == 5
    assert set(TO_FILL_IN) <= set(words)
    assert not any(word in " ".join(words).casefold() for word in ("law", "maker", "check", "if it is due"))
    assert any("your local law decides" in line for line in price_lines(cost, quote))  # the maker reads it there


def test_quote_without_tax(cost: RunCost) -> None:
    """Where no rate of tax is given, the quote says that tax is not included, and adds none."""
    untaxed = make_quote("Forty", cost, PriceRule(Rate(Decimal(50))))
    assert untaxed.tax == 0
    assert "tax is not included" in texts(quote_page(untaxed))


def test_ordered_is_billed(cost: RunCost) -> None:
    """300 ordered and 310 cut bill 300; of 300 ordered and 295 cut, 295 are billed and 5 are short. By hand."""
    made = {("rust", "S"): 110, ("rust", "M"): 200}
    many = cost_run([Expense("sewing", Decimal(3100), "sewing")], made, ())
    over = make_quote("Over", many, RULE, {("rust", "S"): 100, ("rust", "M"): 200})
    assert (over.garments, over.over, over.short) == (300, {("rust", "S"): 10}, {})
    assert over.total == 300 * RULE.prices(many.garment.total).wholesale
    short = make_quote("Short", many, RULE, {("rust", "S"): 115, ("rust", "M"): 200})
    assert (short.garments, short.over, short.short) == (310, {}, {("rust", "S"): 5})
    assert [line for line in billed_lines(over) if line.startswith("Over, not billed, kept as stock: 10 garments")]
    assert [line for line in billed_lines(short) if line.startswith("Short of the order, not billed: 5 garments")]


def test_a_quote_of_many_lines(cost: RunCost) -> None:
    """A quote of fifty lines is set in blocks, with every line on it and no word on another."""
    sizes = [str(number) for number in range(25)]
    made = {(colour, size): 2 for colour in ("rust", "navy") for size in sizes}
    quote = make_quote("Many", cost_run([Expense("sewing", Decimal(900), "sewing")], made, ()), RULE)
    figure = quote_page(quote)
    assert not overlapping(figure)
    assert texts(figure).count("navy") == 25


def test_cost_pages(cost: RunCost) -> None:
    """The pictures of the cost name parts, sizes, price, order and steps; nothing stands on another word."""
    curve = cost_curve(curve_sources(), QUANTITIES, ASKED.pricing.charges())
    price = RULE.prices(cost.garment.total).wholesale
    parts = parts_page(cost, make_quote("", cost, RULE), "Zipped rib jacket")
    over = unit_cost_page(curve, RULE, price, Units.INCHES, "Zipped rib jacket")
    assert not overlapping(parts)
    assert not overlapping(over)
    assert {*cost.garment.by_part(), *SIZES} <= set(texts(parts))
    said = " ".join(texts(over))
    assert "this order: 40" in said
    assert f"wholesale price {price}" in said
    assert f"Step {len(curve.steps)}:" in said


@pytest.mark.parametrize(
    ("quantity", "measure", "price", "units", "written"),
    [
        (Fraction("914.4"), "mm", Price.parse("$11.80 / yd"), Units.METRIC, "1.00 yd"),
        (Fraction("914.4"), "mm", Price.parse("11.80 / YARD"), Units.METRIC, "1.00 YARD"),
        (Fraction(1500), "mm", REEL, Units.INCHES, "1.50 m"),
        (Fraction(2286), "mm", Price.parse("$20.00 / kg"), Units.INCHES, "2.50 yd"),
        (Fraction(2286), "mm", None, Units.METRIC, "2.29 m"),
        (Fraction(1), "piece", None, Units.INCHES, "1 piece"),
        (Fraction(27, 40), "piece", None, Units.INCHES, "0.68 pieces"),
        (Fraction(1100), "min", None, Units.INCHES, "1,100 min"),
        (None, "", None, Units.INCHES, ""),
    ],
)
def test_quantities(quantity: Any, measure: Any, price: Any, units: Any, written: Any) -> None:
    """A length is written in the unit of its price, else in the order's own; one yard is 914.4 mm by definition."""
    assert write_quantity(quantity, measure, units, price) == written
