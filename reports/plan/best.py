"""Which offer is the best for each part of the garment: decided here, for every face of an answer."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING, Literal

from pieces.errors import WrongTypeError
from pieces.require import told
from reports.plan.answers import FabricPlan

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reports.plan.answers import RibAnswer
    from reports.plan.plan import Plan

    Answer = FabricPlan | RibAnswer

By = Literal["only", "cost", "quantity", "order"]
"""Why it is the best: nothing else will do; it costs least; least is bought of it; or it is the first named."""


@dataclass(frozen=True)
class Best:
    """The best offer for a part of the garment.

    It costs least where all that will do have a price in one currency. Without that, least is bought of it, where all
    are sold alike; else it is the first in the job. Of equals it is the first in the job.

    Parameters
    ----------
    part
        What of the garment it is for; ``"rib"`` for the bands.
    number
        Its number in the job, from 1, among the cloths or the ribs.
    against
        The next best, where it is the best by cost or by quantity.
    """

    part: str
    number: int
    answer: Answer
    by: By
    against: Answer | None = None

    @property
    def kind(self) -> Literal["fabric", "rib"]:
        """Whether it is a cloth or a rib."""
        return "fabric" if isinstance(self.answer, FabricPlan) else "rib"

    @property
    def saved(self) -> Decimal | None:
        """Money that it saves against the next best; None where it is not the best by cost."""
        if self.by != "cost" or self.against is None:
            return None
        return (self.against.cost or Decimal(0)) - (self.answer.cost or Decimal(0))


def best_of(plan: Plan) -> list[Best]:
    """The best offer for each part that a plan has an answer for: cloths in the job's order, then rib."""
    if not hasattr(plan, "markers"):
        raise WrongTypeError(f"the plan of best_of must be a Plan, such as plan_job gives, not {told(plan)}")
    groups: dict[str, list[tuple[int, Answer]]] = {}
    for number, fabric in plan.markers:
        groups.setdefault(fabric.offer.part, []).append((number, fabric))
    if plan.rib_plans:
        groups["rib"] = list(plan.rib_plans)
    return [_best(part, offers) for part, offers in groups.items()]


def _best(part: str, offers: Sequence[tuple[int, Answer]]) -> Best:
    by = _by([answer for _, answer in offers])
    if by in ("only", "order"):
        return Best(part, *offers[0], by)
    ranked = sorted(offers, key=lambda one: one[1].cost or Decimal(0) if by == "cost" else _quantity(one[1])[1])
    return Best(part, *ranked[0], by, ranked[1][1])


def _by(answers: Sequence[Answer]) -> By:
    """What can be said of all alike."""
    if len(answers) == 1:
        return "only"
    prices = [answer.offer.price for answer in answers]
    if all(answer.cost is not None for answer in answers) and len({p.currency for p in prices if p}) == 1:
        return "cost"
    return "quantity" if len({_quantity(answer)[0] for answer in answers}) == 1 else "order"


def _quantity(answer: Answer) -> tuple[str, float]:
    """How it is sold, and how much of it is bought."""
    if answer.purchase is not None:
        return "length", answer.purchase.buy
    assert not isinstance(answer, FabricPlan)
    return str(answer.offer.step), answer.plan.count
