"""How the plans of a run are made: where markers are laid, how long is looked, what is kept, and what ends it early."""

from __future__ import annotations

from dataclasses import dataclass, field
from threading import Event
from typing import TYPE_CHECKING, Any, TypeVar

from nesting.errors import CheckError
from nesting.lays.plan import Lay, LayPlan, price_lays
from nesting.lays.rolls import RollCut, RollPlan
from nesting.rib.plan import RibCut, RibJoin, RibPlan, RibRow
from nesting.steps import Stop, never
from reports.keep.plans import KeptPlans, rows_of

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from nesting.lays.order import LayCosts, StyleOrder
    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem
    from nesting.rib.band import RibStock
    from reports.run.preferred import Prefer

    T = TypeVar("T")

    LayMarkers = Callable[[Sequence[Problem]], Sequence[Marker | None]]

STOPPED = "-stopped"
"""Behind the kind of a plan that was cut short."""

LITTLE = 0.1
"""Effort for each plan that is still to be made after an interrupt, in the units of `plan_lays`."""


@dataclass(frozen=True)
class Planning:
    """What the plans of a run are made with.

    Parameters
    ----------
    lay
        Lays markers for real; gives None for those that an interrupt came before.
    usual
        Effort for each lay plan, in the units of `plan_lays`.
    kept
        Plans of earlier runs.
    told
        Tells whether to end early.
    prefer
        What comes before cost.
    """

    lay: LayMarkers
    usual: float
    kept: KeptPlans = field(default_factory=KeptPlans)
    told: Stop = never
    prefer: Prefer = "cost"
    _ended: Event = field(default_factory=Event)

    def stop(self) -> bool:
        """Whether to end early."""
        return self._ended.is_set() or self.told()

    def end(self) -> None:
        """End early from now on."""
        self._ended.set()

    @property
    def effort(self) -> float:
        """Effort for the next plan."""
        return LITTLE if self.stop() else self.usual

    def get(self, kind: str, asked: Any, read: Callable[[Any], T | None]) -> T | None:
        """A plan that is kept: after an interrupt rather the one that was cut short then."""
        found = self.kept.get(kind + STOPPED, asked, read) if self.kept.stopped and self.stop() else None
        return found or self.kept.get(kind, asked, read)

    def keep(self, kind: str, asked: Any, plan: Any) -> None:
        """Keep a plan; one that may have been cut short apart from the others, if at all."""
        if not self.stop():
            self.kept.keep(kind, asked, plan)
        elif self.kept.stopped:
            self.kept.keep(kind + STOPPED, asked, plan)


def lays_to_plain(plan: LayPlan) -> dict[str, Any]:
    """A lay plan without its order."""
    lays = [[list(lay.mix), dict(lay.plies), lay.length] for lay in plan.lays]
    return {
        "lays": lays,
        "cost": plan.cost,
        "bound": plan.bound,
        "mixes": plan.mixes,
        "complete": plan.complete,
        "low": plan.low,
    }


def lays_from_plain(plain: Any, order: StyleOrder, costs: LayCosts) -> LayPlan:
    """A lay plan read back; CheckError if it costs anything else than is said."""
    lays = tuple(Lay(tuple(mix), dict(plies), float(length)) for mix, plies, length in plain["lays"])
    cost = price_lays(lays, costs, order)
    if cost != plain["cost"] or plain["bound"] > cost:
        raise CheckError(f"the lays cost {cost}, and {plain['cost']} is said, no less than {plain['bound']}")
    return LayPlan(order, lays, cost, float(plain["bound"]), int(plain["mixes"]), bool(plain["complete"]), plain["low"])


def rolls_to_plain(plan: RollPlan) -> dict[str, Any]:
    """A roll plan without its rolls."""
    told = {name: getattr(plan, name) for name in ("bound", "longest", "impossible", "flawed", "ends")}
    return {"cuts": rows_of(plan.cuts), "missing": list(plan.missing), **told}


def rolls_from_plain(plain: Any, rolls: Sequence[float]) -> RollPlan:
    """A roll plan read back, still to be checked."""
    cuts = tuple(RollCut(*row) for row in plain["cuts"])
    told = {name: plain[name] for name in ("bound", "longest", "impossible")}
    flawed, ends = tuple(plain["flawed"]), tuple((roll, at, left) for roll, at, left in plain["ends"])
    return RollPlan(tuple(rolls), cuts, missing=tuple(plain["missing"]), flawed=flawed, ends=ends, **told)


def rib_to_plain(plan: RibPlan) -> dict[str, Any]:
    """A rib plan without its stock."""
    names = ("length", "count", "joins", "optimal", "bound", "fewest_joins", "most_at_places")
    told = {name: getattr(plan, name) for name in names}
    return {"cuts": rows_of(plan.cuts), "rows": rows_of(plan.rows), "seams": rows_of(plan.seams), **told}


def rib_from_plain(plain: Any, stock: RibStock) -> RibPlan:
    """A rib plan read back, still to be checked."""
    return RibPlan(
        stock,
        tuple(RibCut(*row) for row in plain.pop("cuts")),
        tuple(RibRow(*row) for row in plain.pop("rows")),
        seams=tuple(RibJoin(*row) for row in plain.pop("seams")),
        **plain,
    )
