"""A production run as a living workbook."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

from pieces.units import unit_size, whole_steps
from reports.book.book import live_book
from reports.book.goods import GarmentNeed, LiveBreak, LiveGood
from reports.book.making import LiveCutting, LiveMaking
from reports.book.offered import cloth_good, rate_in, rib_good
from reports.money.cost.quote import TAX_NOTICE
from reports.money.examples import example_line
from reports.run.costing import PARTS, rib_each

if TYPE_CHECKING:
    from collections.abc import Iterator

    from reports.ask.order.entries import Trim
    from reports.money.price import Price
    from reports.run.plan import RunPlan
    from reports.sheets.living import LiveBook

SCALES = (1, 2, 4, 8, 16, 32)
"""Quarters of the order's number that the sheet of quantities begins with."""

LINES = (
    "Prices, percentages, minutes, steps and trims: buying list, cost sheet, quote, break-even and quantities follow"
    " to the cent.",
    "Lengths of cloth and rib, and lays, are those of the plan: to find them takes a search. If other numbers are to"
    " be cut, trims and work follow; what rests on cloth, rib or lays says 'plan again'.",
    "Other prices or minutes may make other lays cheaper, and another width or end allowance changes them: plan again"
    " to know.",
    "Garments ordered may change while those cut stay: what is ordered and cut is billed; what is over goes to stock.",
    "The sheets of lays and of cut tickets are the plan, and so is what is still to buy: they do not follow.",
)

OF_CLIENTS = "This sheet has the prices of all clients: send each the quote of their own."


def living_run(run: RunPlan) -> LiveBook:
    """Its living sheets."""
    return live_book(making_of(run))


def making_of(run: RunPlan) -> LiveMaking:
    """What is made in a run."""
    order, costing = run.order, run.costing
    examples = (example_line(costing.quote.examples),) if costing.quote.examples else ()
    numbers = dict.fromkeys(max(1, costing.cost.garments * scale // 4) for scale in SCALES)
    return LiveMaking(
        title=order.title,
        currency=costing.rule.currency,
        sizes=tuple(size.name for size in run.garments.sizes),
        colours=run.garments.colours,
        cut=run.cut,
        ordered=_ordered(run),
        goods=tuple(_goods(run)),
        pricing=order.pricing,
        operations=order.operation,
        cutting=_cutting(run),
        cost=costing.cost,
        quote=costing.quote,
        others={number: costing.of_number(number) for number in numbers},
        lines=(*examples, *LINES),
        quote_lines=(*((OF_CLIENTS,) if order.clients is not None else ()), TAX_NOTICE),
    )


def _ordered(run: RunPlan) -> dict[tuple[str, str], int]:
    """Garments ordered, by colour and size; a client orders one colour alone."""
    sizes, colours = run.garments.sizes, run.garments.colours
    return {(colour, one.name): one.ordered[colour] for colour in colours for one in sizes if colour in one.ordered}


def _goods(run: RunPlan) -> Iterator[LiveGood]:
    """All goods; with what is still to buy, where some are there already."""
    goods = list(_taken(run))
    if run.on_hand is None and not any(plan.rolls for plan in run.lots):
        yield from goods
        return
    for good, rest in zip(goods, run.rest, strict=True):
        yield replace(good, rest=("nothing", Decimal("0.00")) if rest is None else (rest.quantity, rest.cost))


def _taken(run: RunPlan) -> Iterator[LiveGood]:
    """Cloth, rib and trims in the order of the buying list."""
    order, bought = run.order, iter(run.bought)
    for plan in run.lots:
        for key, cloth in plan.lot.cloths.items():
            one = next(bought)
            assert one.purchase is not None
            taken = {size: mm for (own, size), mm in plan.taken().items() if own == key}
            yield cloth_good(
                f"fabric.{order.fabric.index(cloth)}", cloth, one.purchase, order.written_in, PARTS[cloth.material],
                part=cloth.part, supplier=cloth.supplier, taken=taken, colours=plan.lot.stands_for[key],
            )  # fmt: skip
    for of in run.ribs:
        one, rib = next(bought), of.rib
        yield rib_good(
            f"rib.{order.rib.index(rib)}", rib, one.purchase, of.plan.count, order.written_in,
            supplier=rib.supplier, taken=rib_each(of, one, run.cut), colours=of.colours,
        )  # fmt: skip
    for number, trim in enumerate(order.trim):
        yield _trim(run, number, trim)


def _trim(run: RunPlan, number: int, trim: Trim) -> LiveGood:
    key, tariff = f"trim.{number}", trim.tariff()
    supply = trim.supply(run.cut)
    found = supply.buy(run.cut)
    by_step = trim.amount.by_length and trim.price.kind == "piece"
    unit = tariff.price.counted if trim.amount.by_length else "piece"
    size = unit_size(unit) if trim.amount.by_length else 1.0

    def rate(price: Price) -> float | Decimal:
        return price.amount if by_step else rate_in(price, size)

    breaks = []
    for at, (least, price) in sorted(enumerate(tariff.breaks), key=lambda item: item[1][0]):
        buy = whole_steps(least, tariff.step) * tariff.step if tariff.step else least
        cost = tariff.price_for(buy).of(buy) if least > found.least else None
        breaks.append(LiveBreak(f"{key}.breaks.{at}", float(least) / size, rate(price), float(buy) / size, cost))
    amounts = {
        one.name: float(trim.by_size.get(one.name, trim.amount).number) / size
        if not trim.sizes or one.name in trim.sizes
        else 0.0
        for one in run.garments.sizes
    }
    return LiveGood(
        key=key,
        what=trim.name,
        part="trims",
        cost_part="trims",
        supplier=trim.supplier,
        unit=unit,
        size=size,
        per=f"/ {tariff.price.unit}",
        rate=rate(tariff.price),
        need=GarmentNeed(amounts),
        needed=float(found.need) / size,
        enough=float(found.least) / size,
        buy=float(found.quantity) / size,
        held=rate(found.price),
        cost=found.cost,
        step=float(tariff.step) / size if tariff.step else None,
        minimum=float(tariff.minimum) / size,
        by_step=by_step,
        breaks=tuple(breaks),
        colours=trim.colours,
    )


def _cutting(run: RunPlan) -> LiveCutting:
    """How often the plan has each thing that takes minutes."""
    lays = [lay for plan in run.lots for lay in plan.plan.lays]
    return LiveCutting(
        run.order.cutting,
        len(lays),
        sum(lay.length for lay in lays) / 1000,
        sum(lay.height for lay in lays),
        sum(lay.height * lay.length for lay in lays) / 1000,
        sum(len(plan.plan.markers) for plan in run.lots),
    )
