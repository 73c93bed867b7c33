"""The run thought through: from an order to lays, what to buy, and what it costs."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from nesting.errors import LayPlanError
from nesting.steps import Stop, never
from reports.ask.offer import unsaid
from reports.ask.order.entries import currency_of
from reports.keep.plans import KeptPlans
from reports.run.beyond import beyond_order
from reports.run.buying import buy_cloth, buy_rib, buy_trim, rest_of
from reports.run.costing import cost_of
from reports.run.each import cut_garments
from reports.run.garments import draft_all
from reports.run.laid import plan_lot
from reports.run.lay_marker import lays_of
from reports.run.lots import lots_of
from reports.run.planning import Planning
from reports.run.ribs import plan_ribs
from reports.run.tickets import count_tickets, tickets_of
from reports.run.trims import trims_of_run
from reports.sheets.shown import Shown

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nesting.lays.order import ColourSize
    from reports.ask.order.order import Order
    from reports.run.buying import ToBuy
    from reports.run.costing import Costing
    from reports.run.each import CutGarment
    from reports.run.garments import Garments, Kinds
    from reports.run.lay_marker import LayMarker
    from reports.run.lot_plan import LotPlan
    from reports.run.planning import LayMarkers
    from reports.run.ribs import RibOf
    from reports.run.tickets import Ticket
    from reports.run.trims import TrimOfRun
    from reports.stock.on_hand import OnHand

EFFORT = 4.0
"""For each lay plan, in the units of `plan_lays`."""


@dataclass(frozen=True, eq=False)
class RunPlan(Shown):
    """An order with all its answers.

    Parameters
    ----------
    lots
        The shell's first.
    cut
        Garments cut, by colour and size.
    bought, rest
        All that the run takes, as it is bought where nothing is there; and what is still to buy of each, None if
        nothing is.
    cut_short
        Whether an interrupt ended the planning early.
    on_hand
        What there is of each cloth, rib and trim, where the ledger was asked.
    by_hand
        Lays that were laid by hand, by their tickets; the plan does not count them.
    """

    order: Order
    garments: Garments
    lots: tuple[LotPlan, ...]
    cut: Kinds
    ribs: tuple[RibOf, ...]
    bought: tuple[ToBuy, ...]
    rest: tuple[ToBuy | None, ...]
    tickets: tuple[Ticket, ...]
    costing: Costing
    seed: int
    cut_short: bool = False
    on_hand: tuple[OnHand, ...] | None = None
    by_hand: Mapping[int, LayMarker] = field(default_factory=dict)

    def __repr__(self) -> str:
        return f"<RunPlan: {self.order.name}, {sum(self.cut.values())} garments, {len(self.tickets)} lays>"

    @property
    def to_buy(self) -> tuple[ToBuy, ...]:
        """What is still to buy."""
        return tuple(one for one in self.rest if one)

    @cached_property
    def trims(self) -> tuple[TrimOfRun, ...]:
        """What the drafts of all garments need besides cloth and rib."""
        return trims_of_run(self.order, self.garments, self.cut)

    @cached_property
    def lays(self) -> tuple[LayMarker, ...]:
        """Every lay with its marker, in the order of the tickets."""
        return tuple(lays_of(self.lots))

    @cached_property
    def each(self) -> tuple[CutGarment, ...]:
        """Every garment with the ticket and the ply that it is cut by."""
        return tuple(cut_garments(self.lays, self.cut))

    @property
    def notes(self) -> tuple[str, ...]:
        """What to know of the garments and their cloth."""
        return (*self.garments.notes, *unsaid((*self.order.fabric, *self.order.rib), self.order.written_in))


def plan_run(
    order: Order,
    lay: LayMarkers,
    effort: float = EFFORT,
    *,
    seed: int = 0,
    kept: KeptPlans | None = None,
    stop: Stop = never,
) -> RunPlan:
    """Plan a run.

    Parameters
    ----------
    lay
        Lays markers for real; gives None for those that an interrupt came before.
    seed
        The random seed that it lays them from.
    kept
        Plans of earlier runs, which are used again where all is the same.
    stop
        Tells whether to end early: then the plan is as far as it is, and is not kept.

    Raises
    ------
    JobError, PieceError, NestingError, CostError
        If the order cannot be made: what is missing, or does not go together.
    KeyboardInterrupt
        If it was cut short before each size had a marker.
    """
    planning = Planning(lay, effort, kept or KeptPlans(), stop, order.cutting.prefer)
    # Before any long work: prices must be in one currency.
    currency = currency_of((*order.fabric, *order.rib), order.trim, order.operation, order.pricing)
    garments = draft_all(order)
    plans: list[LotPlan] = []
    cut: dict[ColourSize, int] = {}
    lots = list(lots_of(order, garments))
    for lot in lots:
        beyond = beyond_order(order, garments, lots, lot, currency)
        plans.append(plan_lot(order, garments, lot, cut, beyond, planning))
        cut = _as_ordered(order, plans[-1], garments) | cut
    cut = {kind: number for kind, number in cut.items() if number}
    cloth = [
        (plan, key, buy_cloth(one, key, plan.plan.lays, on_pattern=plan.on_pattern))
        for plan in plans
        for key, one in plan.lot.cloths.items()
    ]
    ribs = [(of, buy_rib(of.rib, of.plan)) for of in plan_ribs(order, garments, cut, planning)]
    trims = [buy_trim(trim, trim.supply(cut), cut, order.written_in) for trim in order.trim]
    others = *(one for _, one in ribs), *trims
    bought = *(one for _, _, one in cloth), *others
    rest = *(rest_of(*one) for one in cloth), *others
    tickets = tuple(tickets_of(order, plans))
    _check_tickets(order, plans, tickets)
    costing = cost_of(order, cut, garments.ordered, cloth, ribs)
    planned = tuple(of for of, _ in ribs)
    return RunPlan(order, garments, tuple(plans), cut, planned, bought, rest, tickets, costing, seed, planning.stop())


def _as_ordered(order: Order, plan: LotPlan, garments: Garments) -> dict[ColourSize, int]:
    """Garments that a part is cut for, by their colour.

    Of one cloth for all colours each gets the least it may, then up to what is ordered, and the first what is over.
    """
    found: dict[ColourSize, int] = Counter()
    for (key, size), number in plan.cut().items():
        colours = plan.lot.stands_for[key]
        for goal in (order.tolerance.least, int):
            for colour in colours:
                more = min(number, goal(garments.ordered[colour, size]) - found[colour, size])
                found[colour, size] += more
                number -= more
        found[colours[0], size] += number
    return found


def _check_tickets(order: Order, plans: list[LotPlan], tickets: tuple[Ticket, ...]) -> None:
    """Count what the tickets cut, and hold it against what was to be cut."""
    for plan in plans:
        counted = count_tickets(tickets, plan.lot.part)
        for kind in plan.order.cells:
            least, most = plan.order.range_of(kind)
            if not least <= counted[kind] <= most:
                raise LayPlanError(
                    f"the tickets cut {counted[kind]} of {kind[0]}, size {kind[1]}, and {least} to {most} are wanted"
                )
