"""What a run costs: materials as they are laid and bought, labour as it is planned, and all that the order adds."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cached_property
from typing import TYPE_CHECKING

from reports.ask.order.entries import cost_sources, currency_of, offer_supply
from reports.ask.order.examples import examples_of
from reports.money.cost.curve import CostCurve, cost_curve, cost_of_number
from reports.money.cost.quote import Quote, make_quote
from reports.money.cost.sheet import RunCost, cost_run
from reports.money.cost.sources import Expense, MaterialUse
from reports.money.cost.tariff import exact

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reports.ask.order.order import Order
    from reports.money.cost.item import CostPart
    from reports.money.cost.pricing import PriceRule
    from reports.money.cost.sheet import Charge, CostSheet
    from reports.money.cost.sources import Supply, Work
    from reports.run.buying import ToBuy
    from reports.run.garments import Kinds
    from reports.run.lot_plan import LotPlan
    from reports.run.ribs import RibOf

PARTS: dict[str, CostPart] = {"shell": "cloth", "lining": "lining", "interfacing": "interfacing"}


@dataclass(frozen=True)
class Costing:
    """What the run costs and is charged for; minutes of cutting in all.

    `sources` are what other quantities would cost, with cloth and rib as they are taken in the run.
    """

    cost: RunCost
    rule: PriceRule
    quote: Quote
    cutting_minutes: float
    sources: tuple[Supply | Work | Expense, ...]
    charges: tuple[Charge, ...]

    @cached_property
    def curve(self) -> CostCurve:
        """The curve of unit cost over quantity."""
        return cost_curve(self.sources, self.cost.quantities, self.charges, sheet=self.cost.run)

    def of_number(self, garments: int) -> CostSheet:
        """What a run of another number of garments costs, line by line."""
        return cost_of_number(self.sources, self.cost.quantities, garments, self.charges)


def cost_of(
    order: Order,
    cut: Kinds,
    ordered: Kinds,
    cloth: Sequence[tuple[LotPlan, str, ToBuy]],
    ribs: Sequence[tuple[RibOf, ToBuy]],
) -> Costing:
    """Work out the cost of a run.

    Parameters
    ----------
    cut
        Garments cut, by colour and size.
    ordered
        Garments ordered, which are billed.
    cloth
        Each cloth of each lot, with what is bought of it.
    ribs
        Each rib, with what is bought of it.

    Raises
    ------
    CostError, PriceError
        If something has no price, or prices are in several currencies.
    """
    currency = currency_of((*order.fabric, *order.rib), order.trim, order.operation, order.pricing)
    labour, minutes = _cutting(order, [plan for plan, _, _ in cloth], sum(cut.values()))
    others = (*cost_sources(order.trim, order.operation, order.pricing, cut), *labour)
    uses = [_cloth_use(*one) for one in cloth] + [_rib_use(of, bought, cut) for of, bought in ribs]
    charges, rule = order.pricing.charges(), order.pricing.rule(currency)
    cost = cost_run((*uses, *others), cut, charges)
    supplies = [_cloth_supply(*one) for one in cloth] + [_rib_supply(of, bought, cut) for of, bought in ribs]
    sources = (*supplies, *others)
    filled = {"delivery": f"{order.delivery.day} {order.delivery:%B %Y}"} if order.delivery else {}
    quote = replace(make_quote(order.title, cost, rule, ordered), examples=examples_of(order), filled=filled)
    return Costing(cost, rule, quote, minutes, sources, charges)


def _cloth_use(plan: LotPlan, key: str, bought: ToBuy) -> MaterialUse:
    """What a garment of each size takes of a cloth, all additions but the rounding up included."""
    lengths = _lengths(plan, key, bought)
    price = _each(bought)
    per_size = {size: _money(mm * price) for size, mm in lengths.items()}
    colours = plan.lot.stands_for[key]
    part = PARTS[plan.lot.cloth.material]
    return MaterialUse(bought.what, part, per_size, bought.cost or Decimal(0), lengths, colours, bought.price)


def _cloth_supply(plan: LotPlan, key: str, bought: ToBuy) -> Supply:
    lengths, colours = _lengths(plan, key, bought), plan.lot.stands_for[key]
    each = {(colour, size): exact(mm) for colour in colours for size, mm in lengths.items()}
    part = PARTS[plan.lot.cloth.material]
    return offer_supply(plan.lot.cloths[key], each, part=part, colours=colours)


def _lengths(plan: LotPlan, key: str, bought: ToBuy) -> dict[str, float]:
    """Length of a cloth that a garment of each size takes, mm, shrinkage and margin included."""
    taken = {size: mm for (cloth, size), mm in plan.taken().items() if cloth == key}
    used = sum(plan.plies(key))
    assert bought.purchase is not None
    return {size: mm * bought.purchase.needed / used for size, mm in taken.items()}


def _rib_use(of: RibOf, bought: ToBuy, cut: Kinds) -> MaterialUse:
    """What a garment of each size takes of a rib: its share by the area of its bands."""
    each, price = rib_each(of, bought, cut), _each(bought)
    lengths = {} if bought.purchase is None else each
    per_size = {size: _money(amount * price) for size, amount in each.items()}
    return MaterialUse(bought.what, "rib", per_size, bought.cost or Decimal(0), lengths, of.colours, bought.price)


def _rib_supply(of: RibOf, bought: ToBuy, cut: Kinds) -> Supply:
    each = {(c, size): exact(amount) for size, amount in rib_each(of, bought, cut).items() for c in of.colours}
    return offer_supply(of.rib, each, part="rib", colours=of.colours)


def rib_each(of: RibOf, bought: ToBuy, cut: Kinds) -> dict[str, float]:
    """How much rib a garment of each size takes: mm, or strips."""
    areas = of.shares()
    area = sum(areas[size] * number for (colour, size), number in cut.items() if colour in of.colours)
    needed = float(of.plan.count) if bought.purchase is None else bought.purchase.needed
    return {size: needed * own / area for size, own in areas.items()}


def _each(bought: ToBuy) -> float:
    """Money for a mm, or for a strip."""
    amount = bought.purchase.buy if bought.purchase else bought.number
    return float(bought.cost or 0) / amount


def _cutting(order: Order, plans: Sequence[LotPlan], garments: int) -> tuple[tuple[Expense, ...], float]:
    """Spreading and cutting as they are planned, and the making of markers; minutes of both in all."""
    cutting, rate = order.cutting, order.pricing.rate
    each = list({id(plan): plan.plan for plan in plans}.values())
    lays = [lay for plan in each for lay in plan.lays]
    markers = sum(len(plan.markers) for plan in each) * cutting.marker_minutes
    work = sum(
        cutting.lay_minutes
        + cutting.cut_minutes * lay.length / 1000
        + lay.height * (cutting.ply_minutes + cutting.spread_minutes * lay.length / 1000)
        for lay in lays
    )
    if rate is None:
        return (), markers + work
    paid = [rate.of(exact(round(minutes * 100 / order.pricing.efficiency, 3))) for minutes in (work, markers)]
    told = f"at {rate}" + ("" if order.pricing.efficiency == 100 else f", at {order.pricing.efficiency:g} %")
    return (
        Expense("spreading and cutting", paid[0], "cutting", garments, f"{work:.0f} min of {len(lays)} lays, {told}"),
        Expense("making markers", paid[1], basis=f"{markers:.0f} min, {told}"),
    ), markers + work


def _money(amount: float) -> Decimal:
    return Decimal(repr(round(amount, 6)))
