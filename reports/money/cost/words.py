"""Cost and prices for people: tables and plain lines."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.table import Table
from rich.text import Text

from pieces.units import Units, unit_size
from reports.money.cost.quote import sold_to_cover
from reports.money.price import price_words, write_money
from reports.printed import fitted_tables

if TYPE_CHECKING:
    from collections.abc import Iterator
    from fractions import Fraction

    from reports.money.cost.curve import Cause, CostCurve, CostStep
    from reports.money.cost.item import CostMeasure
    from reports.money.cost.pricing import PriceRule
    from reports.money.cost.quote import Counts, Quote
    from reports.money.cost.sheet import CostSheet, RunCost
    from reports.money.price import Price

ROUNDING = (
    "Each line is rounded to the cent, halves up, and a total is the sum of its lines. The mean garment costs what the"
    " run costs, divided by its garments: a separate line makes up for cents lost in its other lines. A garment's lines"
    " times the number of garments may differ from the run by cents: the run's cost is what is paid."
)


def write_quantity(quantity: Fraction | None, measure: CostMeasure, units: Units, price: Price | None = None) -> str:
    """How much of something; nothing where there is no quantity."""
    if quantity is None:
        return ""
    number, unit = in_unit(quantity, measure, units, price)
    written = f"{number:,.2f}"
    return f"{written if measure == 'mm' else written.rstrip('0').rstrip('.')} {unit}".rstrip()


def in_unit(quantity: Fraction, measure: CostMeasure, units: Units, price: Price | None = None) -> tuple[float, str]:
    """How much of something, as a bare number, and of what.

    A length is in the unit of its price, so that the line can be checked by hand; else in the order's units.
    """
    if measure == "mm":
        unit = price.counted if price and price.counted else "yd" if units is Units.INCHES else "m"
        return float(quantity) / unit_size(unit), unit
    return float(quantity), f"piece{'' if quantity == 1 else 's'}" if measure == "piece" else measure


def sheet_table(sheet: CostSheet, units: Units, rule: PriceRule | None = None) -> Table:
    """A cost sheet, line by line; its total in a second currency, too, where `rule` has one."""
    table = _table(sheet.title, "what", "for", "quantity", "price", "amount")
    for line in sheet.lines:
        quantity = write_quantity(line.quantity, line.measure, units, line.price)
        table.add_row(Text(line.what), line.part, quantity, Text(price_words(line.price)), f"{line.amount:.2f}")
    table.add_row("total", "", "", "", f"{sheet.total:.2f}", style="bold")
    if rule and rule.second:
        table.add_row(f"total in {rule.second.currency}", "", "", "", f"{rule.second.of(sheet.total):.2f}")
    return table


def sheet_lines(sheet: CostSheet) -> Iterator[str]:
    """How the lines that do not explain themselves come about."""
    yield from (f"{line.what}: {line.basis}." for line in sheet.lines if line.basis)


def sizes_tables(cost: RunCost, rule: PriceRule, size: str = "size") -> Iterator[Table]:
    """One garment of each size and the mean of all, part by part, down to the prices.

    Parameters
    ----------
    size
        What sizes are called.
    """
    sheets = [*cost.sizes.values(), cost.garment]
    rows = [("part", *cost.sizes, "mean")]
    rows += [(part, *(f"{amount:.2f}" for amount in each)) for part, each in cost.parts.items()]
    rows.append(("cost", *(f"{sheet.total:.2f}" for sheet in sheets)))
    if second := rule.second:
        rows.append((f"cost in {second.currency}", *(f"{second.of(sheet.total):.2f}" for sheet in sheets)))
    prices = [rule.prices(sheet.total) for sheet in sheets] if rule.by_size else [rule.prices(cost.garment.total)]
    blank = [""] * (len(sheets) - len(prices))
    rows.append(("wholesale", *blank, *(f"{price.wholesale:.2f}" for price in prices)))
    if rule.retail is not None:
        rows.append(("retail", *blank, *(f"{price.retail:.2f}" for price in prices)))
    yield from fitted_tables("Cost of one garment", rows, turned=size, bold=("cost",))


def price_lines(cost: RunCost, quote: Quote) -> Iterator[str]:
    """What the run and a garment cost, what to charge, and how many must be sold to pay for it."""
    rule = quote.rule

    money = rule.written
    prices = rule.prices(cost.garment.total)
    yield (
        f"The run of {cost.garments} garments costs {money(cost.run.total)}: {money(cost.garment.total)} a garment,"
        " the mean of all."
    )
    lost = prices.cost - prices.wholesale
    left = f"{money(lost)} a garment is lost" if lost > 0 else f"{prices.margin:.1f} % of the price is left"
    yield f"Wholesale {money(prices.wholesale)} ({rule.how(rule.wholesale)}): {left}."
    if prices.retail is not None and rule.retail is not None:
        yield f"Retail {money(prices.retail)} ({rule.how(rule.retail)}; on the wholesale price)."
    if rule.tax:
        shown = prices.wholesale if prices.retail is None else prices.retail
        what = "wholesale" if prices.retail is None else "retail"
        rate = f"{rule.tax.normalize():f} %"
        taxed = f"{rate} on {what} is {money(rule.tax_on(shown))}, if it is due: your local law decides"
        yield f"These prices include no tax: {taxed}."
    yield break_even_line(cost, quote)
    yield ROUNDING
    if rule.second:
        yield f"Totals are also in {rule.second.said(rule.currency)}"


def break_even_line(cost: RunCost, quote: Quote) -> str:
    """How many of the garments billed must be sold for the run to be paid for; stock is not counted as sold."""
    rule, billed = quote.rule, f"{quote.garments} garments{' billed' if quote.over else ''}"
    number, all_of_it = sold_to_cover(cost, quote), rule.written(cost.run.total)
    stock = sum(quote.over.values())
    apart = f" Garments kept as stock, {stock} of {cost.garments} made, do not count as sold." if stock else ""
    if number is None:
        brings = rule.written(quote.total)
        return f"The run never pays for itself: all {billed} bring in {brings}, but it costs {all_of_it}.{apart}"
    which = ", in any mix of sizes" if rule.by_size else f" at {_each(cost, rule)}"
    return f"The run's {all_of_it} are paid for once {number} of its {billed} are sold{which}.{apart}"


def _each(cost: RunCost, rule: PriceRule) -> str:
    return write_money(rule.prices(cost.garment.total).wholesale, rule.currency)


def curve_lines(curve: CostCurve, currency: str, units: Units) -> Iterator[str]:
    """The curve of unit cost in plain words: its ends, the order, and what makes each step."""
    wanted = {curve.points[0].garments, curve.ordered, curve.points[-1].garments}
    said = [
        f"{point.garments}: {write_money(point.unit, currency)}" for point in curve.points if point.garments in wanted
    ]
    yield f"Cost of one garment by the number made: {', '.join(said)}."
    rises = ", but for small rises" if curve.small_rises else ""
    yield f"Between the steps it falls{rises}, as the set-up is spread over more garments."
    for number, step in enumerate(curve.steps, 1):
        yield step_line(number, step, currency, units)
    rising: dict[str, list[str]] = {}
    for step in curve.small_rises:
        for cause in step.causes:
            rising.setdefault(cause.supply.title, []).append(str(step.garments))
    if rising:
        places = "; ".join(f"{name} at {_some(numbers)}" for name, numbers in rising.items())
        yield f"It rises by less than 0.5 % where one more whole step is bought: {places}."
    yield "Cloth and rib for each garment are as in the run; a few garments alone need more each."


def step_line(number: int, step: CostStep, currency: str, units: Units) -> str:
    """One step in words."""
    way = "falls" if step.change < 0 else "rises"
    by = write_money(abs(step.change), currency)
    change = f"{way} by {by}" if step.change else "stays"
    causes = "; ".join(cause_words(cause, units) for cause in step.causes)
    garments = f"{step.garments} garment{'' if step.garments == 1 else 's'}"
    if step.garments - step.before > 1:
        return f"Step {number}: from {step.before} to {garments} it {change}: {causes}."
    return f"Step {number}: at {garments} it {change}: {causes}."


def cause_words(cause: Cause, units: Units) -> str:
    """What makes a step."""
    bought, measure = cause.bought, cause.supply.measure
    quantity = write_quantity(bought.quantity, measure, units, bought.price)
    if cause.why == "whole step":
        return f"{cause.supply.title}: {quantity} in whole steps"
    if bought.up_to_break:
        need = write_quantity(bought.least, measure, units, bought.price)
        return f"{cause.supply.title}: {quantity} at {bought.price} cost less than the {need} that would do"
    return f"{cause.supply.title}: {quantity} at {bought.price}, the price from here on"


def billed_lines(quote: Quote) -> Iterator[str]:
    """What is billed, what is made beyond the order and kept as stock, and what is not made."""
    written = quote.rule.written
    yield f"Billed: {quote.garments} garments, {written(quote.total)} without tax."
    if quote.after:
        each = ", ".join(f"{name}: {written(money)}" for name, money in quote.after)
        yield f"Charged besides, in neither cost nor price: {each}. To pay without tax: {written(quote.to_pay)}."
    if quote.over:
        yield f"Over, not billed, kept as stock: {_counted(quote.over)}."
    if quote.short:
        yield f"Short of the order, not billed: {_counted(quote.short)}."


def _counted(kinds: Counts) -> str:
    each = ", ".join(f"{number} × {colour} {size}" for (colour, size), number in kinds.items())
    return f"{sum(kinds.values())} garments ({each})"


def _some(numbers: list[str], most: int = 8) -> str:
    """Numbers in a row, cut short."""
    more = len(numbers) - most
    return ", ".join(numbers[:most]) + (f" and {more} more" if more > 0 else "")


def _table(title: str, first: str, *others: str | Text) -> Table:
    table = Table(title=title, title_justify="left", title_style="bold", box=None, pad_edge=False, padding=(0, 2, 0, 0))
    table.add_column(first, header_style="dim")
    for name in others:
        table.add_column(name, justify="left" if name == "for" else "right", header_style="dim")
    return table
