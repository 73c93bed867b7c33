"""What to buy for one job, and what its garments cost, as a living workbook."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.units import unit_size
from reports.book.book import live_book
from reports.book.goods import LiveGood
from reports.book.making import LiveChoice, LiveMaking
from reports.book.offered import cloth_good, length_unit, rate_in, rib_good
from reports.errors import PriceError
from reports.money.cost.quote import TAX_NOTICE
from reports.money.price import one_currency
from reports.plan.answers import FabricPlan
from reports.plan.best import best_of
from reports.plan.costing import MADE, OTHER_CLOTH, costing_of
from reports.plan.shopping import shopping_of

if TYPE_CHECKING:
    from reports.money.cost.item import CostPart
    from reports.plan.answers import RibAnswer
    from reports.plan.best import Best
    from reports.plan.plan import Plan
    from reports.plan.shopping import ShoppingLine
    from reports.sheets.living import LiveBook

LINES = (
    "Prices, percentages, minutes and steps: all that is worked out from them follows to the cent. Of several offers"
    " for one part the cheapest is chosen, once all of them have a price in one currency.",
    "The lengths of markers and of rib are those of the plan: to find them takes a search. For another number of"
    " garments, work follows; what rests on cloth, rib or trims says 'plan again'.",
    "Another width, nap, spread or end allowance changes the marker: plan again.",
    "The sheet 'As planned' and those after it are the plan: they do not follow.",
)


def living_plan(plan: Plan) -> LiveBook:
    """The living sheets of a job."""
    return live_book(making_of_plan(plan))


def making_of_plan(plan: Plan) -> LiveMaking:
    """What is made in a job."""
    job, costing = plan.job, costing_of(plan)
    lines = shopping_of(plan)
    colour = lines[0].name
    goods, choices = _offers(plan)
    trims = [_trim(plan, line, number) for number, line in enumerate(filter(_is_trim, lines))]
    return LiveMaking(
        title=job.title,
        currency=costing.quote.rule.currency if costing else _currency(plan),
        sizes=(MADE,),
        colours=(colour,),
        cut={(colour, MADE): plan.made},
        goods=(*goods, *trims),
        pricing=job.priced,
        operations=job.operation,
        choices=tuple(choices),
        cost=costing.cost if costing else None,
        quote=costing.quote if costing else None,
        lines=LINES,
        quote_lines=(TAX_NOTICE,),
    )


def _is_trim(line: ShoppingLine) -> bool:
    """Whether it is a trim whose number or length is known."""
    return line.kind == "trim" and (line.count is not None or line.sold is not None)


def _currency(plan: Plan) -> str:
    """The currency of all offers; none where there are several: each good then has its own."""
    prices = [*(one.price for one in plan.job.fabric), *(one.price for one in plan.job.rib)]
    try:
        return one_currency(price for price in prices if price)
    except PriceError:
        return ""


def _offers(plan: Plan) -> tuple[list[LiveGood], list[LiveChoice]]:
    """All offers, those for one part behind one another, and which of them is chosen."""
    goods: list[LiveGood] = []
    choices = []
    for best in best_of(plan):
        every = _of_part(plan, best)
        numbers = [number for number, _ in every]
        first = len(goods)
        goods += [_good(plan, best, number, answer) for number, answer in every]
        currencies = {good.currency for good in goods[first:] if good.currency is not None}
        cut_short = any(isinstance(answer, FabricPlan) and answer.is_interrupted for _, answer in every)
        offers, chosen = tuple(range(first, len(goods))), first + numbers.index(best.number)
        choices.append(LiveChoice(best.part, offers, chosen, len(currencies) <= 1 and not cut_short))
    return goods, choices


def _of_part(plan: Plan, best: Best) -> list[tuple[int, FabricPlan | RibAnswer]]:
    if best.kind == "rib":
        return list(plan.rib_plans)
    return [(number, fabric) for number, fabric in plan.markers if fabric.offer.part == best.part]


def _good(plan: Plan, best: Best, number: int, answer: FabricPlan | RibAnswer) -> LiveGood:
    units = plan.job.written_in
    if isinstance(answer, FabricPlan):
        part: CostPart = next((one for one in OTHER_CLOTH if answer.offer.material == one), "cloth")
        key = f"fabric.{number - 1}"
        return cloth_good(key, answer.offer, answer.purchase, units, part, part=best.part)
    return rib_good(f"rib.{number - 1}", answer.offer, answer.purchase, answer.plan.count, units)


def _trim(plan: Plan, line: ShoppingLine, number: int) -> LiveGood:
    """A trim of the shopping list: so many, or so much of a length, as the plan says."""
    by_length = line.count is None or (line.price is not None and line.price.kind == "length")
    unit = length_unit(line.price, plan.job.written_in) if by_length else "piece"
    size = unit_size(unit) if by_length else 1.0
    bought = float(line.count or 1) * (line.sold or 0.0) / size if by_length else float(line.count or 0)
    rate = rate_in(line.price, size) if line.price else None
    return LiveGood(
        key=f"trim.{number}",
        what=line.name,
        part="trims",
        cost_part="trims",
        supplier="",
        unit=unit,
        size=size,
        per=f"/ {line.price.unit}" if line.price else f"/ {unit}",
        rate=rate,
        need=bought,
        needed=bought,
        enough=bought,
        buy=bought,
        held=rate,
        cost=line.cost,
        currency=line.price.currency if line.price else None,
    )
