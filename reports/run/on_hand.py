"""What there is of the cloths, ribs and trims of a run by the ledger: each lay of one colour from one shade lot."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from reports.ledger.standing import stock_in
from reports.money.cost.tariff import exact
from reports.run.buying import ToBuy, as_bought, buy_cloth
from reports.run.use import ply_length
from reports.stock.cover import NeedGroup, StockNeed, cover_all
from reports.stock.on_hand import OnHand

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

    from nesting.lays.plan import Lay
    from reports.ask.order.entries import Trim
    from reports.ledger.journal import Journal
    from reports.money.cost.sources import Supply
    from reports.run.lot_plan import LotPlan
    from reports.run.plan import RunPlan
    from reports.stock.cover import Cover

WIDER_WILL_DO = ("face-up", "face-to-face", "folded")
"""Spreads in which a marker lies on wider cloth as it is."""


def run_on_hand(run: RunPlan, journal: Journal) -> RunPlan:
    """A run with what there is of each thing that it takes.

    A cloth whose rolls are in the order is left aside: these rolls are what is on hand.
    """
    items, asked = stock_in(journal), [*_cloths(run), *_ribs(run), *_trims(run)]
    covers = cover_all([one.need for one in asked], items)
    rest = {id(one.bought): one.left(found) for found, one in zip(covers, asked, strict=True)}
    return replace(
        run,
        rest=tuple(rest.get(id(one), own) for one, own in zip(run.bought, run.rest, strict=True)),
        on_hand=tuple(_said(found, one) for found, one in zip(covers, asked, strict=True)),
    )


class RunNeed(NamedTuple):
    """What is needed of a thing, what is bought of it where nothing is on hand, and what where some is."""

    need: StockNeed
    bought: ToBuy
    rest: Callable[[Cover], ToBuy] | None = None

    def left(self, found: Cover) -> ToBuy | None:
        """What is still to buy."""
        if found.is_whole:
            return None
        return self.rest(found) if self.rest and found.takes else self.bought


def _cloths(run: RunPlan) -> Iterator[RunNeed]:
    bought = iter(run.bought)
    for plan in run.lots:
        tickets = [ticket.number for ticket in run.tickets if ticket.part == plan.lot.part]
        lays = {f"ticket {ticket}": lay for ticket, lay in zip(tickets, plan.plan.lays, strict=True)}
        for key, cloth in plan.lot.cloths.items():
            own = next(bought)
            if cloth.rolls or own.purchase is None:
                continue
            # Shrinkage, margin and the like are shared by all plies, so that no ply is cut short.
            scale = own.purchase.needed / sum(plan.plies(key))
            groups = tuple(
                NeedGroup(name, (ply_length(lay, cloth.end_allowance) * scale,) * lay.plies[key])
                for name, lay in lays.items()
                if lay.plies.get(key)
            )
            is_plain = not (cloth.repeat_along or cloth.repeat_across or cloth.border)
            wider = is_plain and cloth.spread in WIDER_WILL_DO
            need = StockNeed(cloth.name, "cloth", groups, cloth.colour or "", cloth.width, wider)
            yield RunNeed(need, own, partial(_lays_left, plan, key, lays))


def _lays_left(plan: LotPlan, key: str, lays: Mapping[str, Lay], found: Cover) -> ToBuy:
    """The purchase of the lays that nothing on hand was found for."""
    rest = [lays[group.name] for group in found.missing]
    return buy_cloth(plan.lot.cloths[key], key, rest, on_pattern=plan.on_pattern)


def _ribs(run: RunPlan) -> Iterator[RunNeed]:
    first = sum(len(plan.lot.cloths) for plan in run.lots)
    for of, bought in zip(run.ribs, run.bought[first:], strict=False):
        rib, colour = of.rib, of.rib.colour or ""
        if bought.purchase is None:
            group = NeedGroup("", (bought.number,))
            yield RunNeed(StockNeed(rib.name, "rib", (group,), colour, by_length=False), bought)
        else:
            group = NeedGroup("", (bought.purchase.needed,))
            yield RunNeed(StockNeed(rib.name, "rib", (group,), colour, rib.width), bought)


def _trims(run: RunPlan) -> Iterator[RunNeed]:
    """Trims for all garments; one used by length is needed in one piece: where it may be cut is not known."""
    first = len(run.bought) - len(run.order.trim)
    for trim, bought in zip(run.order.trim, run.bought[first:], strict=True):
        supply, by_length = trim.supply(run.cut), trim.amount.by_length
        if needed := float(supply.buy(run.cut).need):
            need = StockNeed(trim.name, "trim", (NeedGroup("", (needed,)),), by_length=by_length, mixes=not by_length)
            yield RunNeed(need, bought, partial(_number_left, run, trim, supply))


def _number_left(run: RunPlan, trim: Trim, supply: Supply, found: Cover) -> ToBuy:
    """The purchase of the pieces that are missing."""
    bought = supply.tariff.buy(exact(found.missing[0].amounts[0]))
    return as_bought(trim, bought, supply, run.order.written_in)


def _said(found: Cover, one: RunNeed) -> OnHand:
    """What is said of it, with what is still to buy."""
    bought = one.left(found)
    if bought is None:
        return OnHand(found)
    return OnHand(found, bought.quantity, bought.purchase.buy if bought.purchase else None, bought.cost)
