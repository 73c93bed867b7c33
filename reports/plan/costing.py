"""What a job's garments cost: what is on the shopping list at its prices, labour, and what is added; and a quote.

A list without all its prices gives no whole cost: what is left out is named on every face.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from reports.money.cost.plain import cost_to_plain, quote_to_plain
from reports.money.cost.quote import Quote, make_quote
from reports.money.cost.sheet import RunCost, cost_run
from reports.money.cost.sources import Expense
from reports.money.price import one_currency, write_money
from reports.plan.shopping import shopping_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from reports.ask.job import Job
    from reports.money.cost.item import CostPart, Source
    from reports.money.price import Price
    from reports.plan.plan import Plan
    from reports.plan.shopping import ShoppingLine

MADE = "made to measure"
"""Size of the garments of a job, on a quote."""

PARTS: dict[str, CostPart] = {"cloth": "cloth", "rib": "rib", "trim": "trims"}
OTHER_CLOTH: tuple[CostPart, ...] = ("lining", "interfacing")


@dataclass(frozen=True)
class JobCosting:
    """The cost of a job's garments, and what they are offered at.

    Parameters
    ----------
    left_out
        Things on the shopping list that have no price, and are not in the cost.
    """

    cost: RunCost
    quote: Quote
    left_out: tuple[str, ...]


def is_costed(job: Job) -> bool:
    """Whether a job asks for a cost: it says what labour takes, or how prices follow."""
    return bool(job.operation) or job.pricing is not None


def costing_of(plan: Plan) -> JobCosting | None:
    """What the garments of a job cost; None where it does not ask.

    Raises
    ------
    PriceError
        If prices are in several currencies, or an operation has no pay.
    """
    job = plan.job
    if not is_costed(job):
        return None
    lines = shopping_of(plan)
    sources: list[Source] = [*_materials(lines, plan.made), *job.priced.expenses()]
    sources += [job.priced.work(operation) for operation in job.operation]
    cost = cost_run(sources, {(lines[0].name, MADE): plan.made}, job.priced.charges())
    rule = job.priced.rule(one_currency(list(_prices(lines, job))))
    left_out = tuple(line.name for line in lines if line.cost is None)
    return JobCosting(cost, replace(make_quote(_title(job, left_out), cost, rule), lines_by="cloth"), left_out)


def _title(job: Job, left_out: tuple[str, ...]) -> str:
    """What is made; and what the price does not hold, so that no client takes it for granted."""
    return job.title + (f"; not included: {', '.join(left_out)}" if left_out else "")


def _materials(lines: tuple[ShoppingLine, ...], garments: int) -> Iterator[Expense]:
    """What is bought, each line as all that is paid for it."""
    for line in lines:
        if line.cost is not None:
            part = next((one for one in OTHER_CLOTH if _is_of(line, one)), PARTS[line.kind])
            yield Expense(line.name, line.cost, part, garments, f"{line.buy}, {line.price}")


def _is_of(line: ShoppingLine, material: CostPart) -> bool:
    """Whether it is cloth of a material, be it for some pieces only, such as ``"lining (back)"``."""
    return line.kind == "cloth" and any(place.split(" ")[0] == material for place in line.where)


def _prices(lines: tuple[ShoppingLine, ...], job: Job) -> Iterator[Price]:
    yield from (line.price for line in lines if line.price is not None)
    yield from (operation.rate for operation in job.operation if operation.rate)
    yield from job.priced.money()


def price_words(costing: JobCosting) -> Iterator[str]:
    """What the garments cost, what they are offered at, and the tax beside it."""
    cost, quote, rule = costing.cost, costing.quote, costing.quote.rule
    (line,) = quote.lines
    whole = write_money(cost.run.total, rule.currency)
    garments = "The garment costs" if line.number == 1 else f"{line.number} garments cost"
    each = write_money(line.each, rule.currency) + (" each" if line.number > 1 else "")
    yield f"{garments} {whole}. Price: {each} ({rule.how(rule.wholesale)})."
    prices = rule.prices(cost.garment.total)
    if prices.retail is not None and rule.retail is not None:
        yield f"Retail {write_money(prices.retail, rule.currency)} ({rule.how(rule.retail)}; on that price)."
    lost = cost.run.total - quote.total
    if lost > 0:
        yield f"At that price {write_money(lost, rule.currency)} is lost."
    for row in quote.sums():
        yield f"  {row[0]}{f': {row[-1]}' if row[-1] else ''}"


def left_out_words(costing: JobCosting) -> str:
    """What the cost does not hold; empty if it is whole."""
    if not costing.left_out:
        return ""
    return f"Not in this cost, as they have no price: {', '.join(costing.left_out)}."


def costing_to_plain(plan: Plan) -> dict[str, Any] | None:
    """The cost and the quote for machines; None where the job does not ask for them."""
    costing = costing_of(plan)
    if costing is None:
        return None
    return {
        "cost": cost_to_plain(costing.cost, costing.quote),
        "quote": quote_to_plain(costing.quote),
        "left_out": list(costing.left_out),
    }
