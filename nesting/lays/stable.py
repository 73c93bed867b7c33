"""Plan, lay the markers for real, plan again with their true lengths, until nothing changes."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace

from nesting.lays.mixes import singles
from nesting.lays.order import LayCosts, LayRules, Mix, StyleOrder
from nesting.lays.plan import EFFORT, LayPlan, plan_lays, price_lays
from nesting.steps import Stop, never

Estimate = Callable[[Mapping[Mix, float]], Callable[[Mix], float | None]]
"""Gives, from the lengths that are known, a rule for those that are not."""
Laying = Callable[[list[Mix]], Mapping[Mix, float | None]]
"""Lays markers and gives their lengths, mm; None where one cannot be laid."""


@dataclass(frozen=True)
class StablePlan:
    """A plan whose markers have all been laid.

    Parameters
    ----------
    plan
        The plan, with true lengths. Its bound takes the mixes that were never laid at their estimated lengths.
    lengths
        Every mix that was laid, with its length, mm.
    rounds
        How often was planned.
    stable
        Whether planning again would change nothing; otherwise it is the best plan of the markers laid.
    """

    plan: LayPlan
    lengths: Mapping[Mix, float]
    rounds: int
    stable: bool


def plan_until_stable(
    order: StyleOrder,
    rules: LayRules,
    costs: LayCosts,
    estimate: Estimate,
    lay: Laying,
    *,
    effort: float = EFFORT,
    rounds: int = 8,
    known: Mapping[Mix, float] | None = None,
    stop: Stop = never,
) -> StablePlan:
    """A plan of markers that have truly been laid.

    First one garment of each size is laid, then the mixes of each plan that are new. A plan that has none is
    stable: its lengths are true. Each round lays a mix more, so that no plan comes twice; after so many rounds the best
    plan of all that was laid is taken.

    Parameters
    ----------
    estimate, lay
        What guesses lengths, and what lays markers.
    effort
        For each round.
    rounds
        How often is planned with estimated lengths, at the most.
    known
        Mixes that have been laid before.
    stop
        Asked now and then whether to end early: then the best plan of the markers laid by then is the answer.

    Raises
    ------
    KeyboardInterrupt
        If it was to end before each size had a marker.
    """
    laid: dict[Mix, float | None] = dict(known or {})
    _lay_new(singles(order), laid, lay)
    if stop() and any(laid[mix] is None for mix in singles(order)):
        raise KeyboardInterrupt
    found, best = None, None
    for number in range(1, rounds + 1):
        found = plan_lays(order, rules, costs, _lengths(laid, estimate), effort=effort, start=found, stop=stop)
        if not _lay_new(found.markers, laid, lay):
            return StablePlan(found, _true(laid), number, stable=not stop())
        best = _cheaper(best, _with_true_lengths(found, laid, rules, costs))
        if stop():
            break
    plan = plan_lays(order, rules, costs, _true(laid), effort=effort, start=best, stop=stop)
    return StablePlan(plan, _true(laid), number, stable=False)


def _lay_new(mixes: Iterable[Mix], laid: dict[Mix, float | None], lay: Laying) -> bool:
    """Lay what has not been laid; tells whether there was anything."""
    new = sorted(set(mixes) - laid.keys())
    if new:
        lengths = lay(new)
        laid.update({mix: lengths[mix] for mix in new})
    return bool(new)


def _true(laid: Mapping[Mix, float | None]) -> dict[Mix, float]:
    return {mix: length for mix, length in laid.items() if length is not None}


def _lengths(laid: Mapping[Mix, float | None], estimate: Estimate) -> Callable[[Mix], float | None]:
    guess = estimate(_true(laid))
    return lambda mix: laid[mix] if mix in laid else guess(mix)


def _with_true_lengths(
    plan: LayPlan, laid: Mapping[Mix, float | None], rules: LayRules, costs: LayCosts
) -> LayPlan | None:
    """The same lays at their true lengths; None where one is too long for the table."""
    lays = []
    for each in plan.lays:
        length = laid[each.mix]
        if length is None or length + costs.end_loss > rules.longest:
            return None
        lays.append(replace(each, length=length))
    cost = price_lays(lays, costs, plan.order)
    return replace(plan, lays=tuple(lays), cost=cost, bound=min(plan.bound, cost))


def _cheaper(one: LayPlan | None, other: LayPlan | None) -> LayPlan | None:
    found = [plan for plan in (one, other) if plan is not None]
    return min(found, key=lambda plan: plan.cost, default=None)
