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
    are sold alike; else it is the first in the job. Of equals it is the first in the job. Cloths are not compared where
    an interrupt came before all were searched alike: then it is the first, too.

    Parameters
    ----------
    part
        What of the garment it is for; ``"rib"`` for the bands.
    number
        Its number in the job, from 1, among the cloths or the ribs.
    tied
        Others that cost as little, or of which as little is bought, with their numbers: none of them is better.
    against
        The next best that is not as good, where it is the best by cost or by quantity.
    """

    part: str
    number: int
    answer: Answer
    by: By
    tied: tuple[tuple[int, Answer], ...] = ()
    against: Answer | None = None

    @property
    def named(self) -> str:
        """Its name, and the names of those that are as good."""
        return " or ".join(answer.offer.name for answer in (self.answer, *(other for _, other in self.tied)))

    @property
    def kind(self) -> Literal["fabric", "rib"]:
        """Whether it is a cloth or a rib."""
        return "fabric" if isinstance(self.answer, FabricPlan) else "rib"

    @property
    def saved(self) -> Decimal | None:
        """Money that it saves against the next best; None where it is not the best by cost, or none costs more."""
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

    def rank(one: tuple[int, Answer]) -> Decimal | float:
        return one[1].cost or Decimal(0) if by == "cost" else round(_quantity(one[1])[1], 3)

    first, *others = sorted(offers, key=rank)
    tied = tuple(one for one in others if rank(one) == rank(first))
    worse = others[len(tied) :]
    return Best(part, *first, by, tied, worse[0][1] if worse else None)


def _by(answers: Sequence[Answer]) -> By:
    """What can be said of all alike."""
    if len(answers) == 1:
        return "only"
    if any(isinstance(one, FabricPlan) and one.is_interrupted for one in answers):
        return "order"
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
