"""Cost and prices for machines: plain objects; money as text in decimals, lengths in mm."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reports.money.cost.quote import sold_to_cover
from reports.money.price import price_words

if TYPE_CHECKING:
    from reports.money.cost.after import SecondCurrency
    from reports.money.cost.curve import CostCurve, CostStep
    from reports.money.cost.pricing import PriceRule, Prices
    from reports.money.cost.quote import Quote
    from reports.money.cost.sheet import CostSheet, RunCost


def cost_to_plain(cost: RunCost, quote: Quote) -> dict[str, Any]:
    """The cost of a run, of each size and of the mean garment, with prices and the break-even quantity."""
    rule = quote.rule
    prices = rule.prices(cost.garment.total)
    return {
        "currency": rule.currency,
        "garments": cost.garments,
        "run": _sheet(cost.run),
        "garment": _sheet(cost.garment) | _prices(prices, rule),
        "sizes": {
            size: _sheet(sheet) | (_prices(rule.prices(sheet.total), rule) if rule.by_size else {})
            for size, sheet in cost.sizes.items()
        },
        "fixed": str(cost.fixed),
        "break_even": sold_to_cover(cost, quote),
        "billed": quote.garments,
        **({"second": _second(rule.second, cost, prices)} if rule.second else {}),
    }


def curve_to_plain(curve: CostCurve) -> dict[str, Any]:
    """Unit cost by quantity, and its steps."""
    return {
        "ordered": curve.ordered,
        "points": [
            {"garments": point.garments, "run": str(point.run), "unit": str(point.unit)} for point in curve.points
        ],
        "steps": [_step(step) for step in curve.steps],
        "small_rises": [_step(step) for step in curve.small_rises],
    }


def quote_to_plain(quote: Quote) -> dict[str, Any]:
    """A quote's lines and sums."""
    return {
        "title": quote.title,
        "currency": quote.rule.currency,
        "lines": [
            {
                "colour": line.colour,
                "size": line.size,
                "number": line.number,
                "each": str(line.each),
                "amount": str(line.amount),
            }
            for line in quote.lines
        ],
        "garments": quote.garments,
        "stock": [{"colour": c, "size": s, "number": int(number)} for (c, s), number in quote.over.items()],
        "short": [{"colour": c, "size": s, "number": int(number)} for (c, s), number in quote.short.items()],
        "confirmed": not quote.examples,
        "examples": list(quote.examples),
        "total": str(quote.total),
        "tax_percent": str(quote.rule.tax),
        "tax": str(quote.tax),
        **_beside(quote),
    }


def _second(second: SecondCurrency, cost: RunCost, prices: Prices) -> dict[str, Any]:
    """Totals in the second currency."""
    totals = {"run": cost.run.total, "garment": cost.garment.total, "wholesale": prices.wholesale}
    if prices.retail is not None:
        totals["retail"] = prices.retail
    return {**_rate(second), **{name: str(second.of(money)) for name, money in totals.items()}}


def _rate(second: SecondCurrency) -> dict[str, Any]:
    return {"currency": second.currency, "rate": str(second.rate), "date": second.day.isoformat()}


def _beside(quote: Quote) -> dict[str, Any]:
    """Charges after the margin, and totals in the second currency, as far as there are any."""
    found: dict[str, Any] = {}
    if quote.after:
        found["after"] = [{"name": name, "amount": str(money)} for name, money in quote.after]
        found["to_pay"] = str(quote.to_pay)
    if second := quote.rule.second:
        totals = {"total": quote.total, "to_pay": quote.to_pay, "with_tax": quote.to_pay + quote.tax}
        found["second"] = {**_rate(second), **{name: str(second.of(money)) for name, money in totals.items()}}
    return found


def _sheet(sheet: CostSheet) -> dict[str, Any]:
    lines = [
        {
            "what": line.what,
            "part": line.part,
            "quantity": None if line.quantity is None else round(float(line.quantity), 6),
            "measure": line.measure,
            "price": price_words(line.price),
            "unit": line.price.unit if line.price else "",
            "amount": str(line.amount),
            "basis": line.basis,
        }
        for line in sheet.lines
    ]
    return {"lines": lines, "total": str(sheet.total)}


def _prices(prices: Prices, rule: PriceRule) -> dict[str, Any]:
    retail = prices.retail
    return {
        "wholesale": str(prices.wholesale),
        "margin_percent": str(prices.margin),
        "retail": None if retail is None else str(retail),
        "tax_percent": str(rule.tax),
        "tax_on_wholesale": str(rule.tax_on(prices.wholesale)),
        "tax_on_retail": None if retail is None else str(rule.tax_on(retail)),
    }


def _step(step: CostStep) -> dict[str, Any]:
    causes = [
        {
            "what": cause.supply.title,
            "why": cause.why,
            "measure": cause.supply.measure,
            "bought": float(cause.bought.quantity),
            "needed": float(cause.bought.need),
            "price": str(cause.bought.price),
            "up_to_break": cause.bought.up_to_break,
        }
        for cause in step.causes
    ]
    return {"garments": step.garments, "change": str(step.change), "causes": causes}
