"""What an order prefers beside cost: fewest lays, or low ones; a plan of those, and what it costs more."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

from nesting.errors import LayPlanError
from nesting.lays.count import count_cut
from nesting.lays.plan import price_lays

if TYPE_CHECKING:
    from collections.abc import Callable

    from nesting.lays.order import LayCosts, LayRules, StyleOrder
    from nesting.lays.plan import LayPlan
    from nesting.lays.stable import StablePlan

    Steadily = Callable[[StyleOrder, LayRules, LayCosts], StablePlan]
    """Plans an order by some rules and costs until nothing changes."""

Prefer = Literal["cost", "fewest lays", "low lays"]

BIG = 10.0
"""What a lay counts besides, in costs of the whole cheapest plan, where fewest lays are wanted: more than any saves."""


class LayFigures(NamedTuple):
    """How many lays a plan has, plies in the highest, and its cost."""

    lays: int
    height: int
    cost: float

    @classmethod
    def of(cls, plan: LayPlan) -> LayFigures:
        """Those of a plan."""
        return cls(len(plan.lays), max((lay.height for lay in plan.lays), default=0), plan.cost)


@dataclass(frozen=True)
class Preferred:
    """The plan that is preferred beside the cheapest one.

    Parameters
    ----------
    proved
        Whether no plan of the mixes looked at has fewer lays.
    """

    prefer: Prefer
    chosen: LayFigures
    cheapest: LayFigures
    proved: bool = False


def preferred(
    cheapest: StablePlan, prefer: Prefer, rules: LayRules, costs: LayCosts, steadily: Steadily
) -> tuple[StablePlan, Preferred]:
    """The plan that is preferred; its bound is one of cost, and holds for any plan.

    Fewest lays: fewer lays come before cost. Low lays: with no more lays than the cheapest plan has, the highest is as
    low as was found, and cost comes after that. No garment is left out for either.

    Parameters
    ----------
    cheapest
        The plan of least cost.
    """
    by_lays = replace(costs, lay=costs.lay + BIG * max(cheapest.plan.cost, 1.0))
    order = _no_fewer(cheapest.plan)

    def planned(rules: LayRules) -> tuple[StablePlan, bool]:
        """Plan by lays; at its true cost, and whether none has fewer lays for sure."""
        found = steadily(order, rules, by_lays)
        cost = price_lays(found.plan.lays, costs, cheapest.plan.order)
        plan = replace(found.plan, order=cheapest.plan.order, cost=cost, bound=min(cheapest.plan.bound, cost))
        return replace(found, plan=plan), found.plan.optimal and found.stable

    if prefer == "fewest lays":
        found, proved = planned(rules)
        found = min(cheapest, found, key=lambda one: (len(one.plan.lays), one.plan.cost))
    else:
        found, proved = _lowest(cheapest, rules, planned), False
    return found, Preferred(prefer, LayFigures.of(found.plan), LayFigures.of(cheapest.plan), proved)


def _no_fewer(plan: LayPlan) -> StyleOrder:
    """The order of a plan, with no fewer garments than it cuts, as far as they are asked for."""
    cut = count_cut(plan)
    least = {cell: min(plan.order.asked_of(cell), cut.get(cell, 0)) for cell in plan.order.cells}
    return replace(plan.order, least=least)


def _lowest(
    cheapest: StablePlan, rules: LayRules, planned: Callable[[LayRules], tuple[StablePlan, bool]]
) -> StablePlan:
    """As low as was found with as many lays: heights are tried half way between what will do and what will not."""
    best, most = cheapest, len(cheapest.plan.lays)
    low, high = max(rules.ply_step, rules.least_plies) - 1, LayFigures.of(cheapest.plan).height
    while high - low > 1:
        middle = (low + high) // 2
        try:
            found, _ = planned(replace(rules, most_plies=middle))
        except LayPlanError:  # no lays so low give the order
            low = middle
            continue
        if len(found.plan.lays) <= most:
            best, high = found, LayFigures.of(found.plan).height
        else:
            low = middle
    return best


def preferred_to_plain(one: Preferred | None) -> dict[str, Any] | None:
    """How a plan compares with the cheapest, as plain data."""
    if one is None:
        return None
    figures = {"chosen": one.chosen._asdict(), "cheapest": one.cheapest._asdict()}
    return {"prefer": one.prefer, **figures, "proved": one.proved}


def preferred_from_plain(plain: Any) -> Preferred | None:
    """The same read back."""
    if plain is None:
        return None
    figures = LayFigures(**plain["chosen"]), LayFigures(**plain["cheapest"])
    return Preferred(plain["prefer"], *figures, plain["proved"])
