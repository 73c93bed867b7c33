"""What several garments take of a cloth one at a time: each searched by itself, on the same cloth and as hard."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from reports.ask.members import Member
    from reports.plan.answers import FabricPlan


@dataclass(frozen=True, eq=False)
class AloneGarment:
    """One garment by itself on a cloth: its answer, or why it will not do so."""

    member: Member
    plan: FabricPlan | None
    reason: str = ""


@dataclass(frozen=True, eq=False)
class Alone:
    """What garments take of one cloth of a plan, each bought for and laid by itself.

    Parameters
    ----------
    number
        The cloth in the job, from 1.
    together
        The answer for all of them.
    """

    number: int
    together: FabricPlan
    each: tuple[AloneGarment, ...]

    @property
    def is_whole(self) -> bool:
        """Whether every garment was searched to the end."""
        return all(one.plan is not None and not one.plan.is_interrupted for one in self.each)

    @property
    def buy(self) -> float | None:
        """What is bought one at a time, mm; None where a garment has no answer."""
        if not self.is_whole:
            return None
        return sum(one.member.quantity * one.plan.purchase.buy for one in self.each if one.plan)

    @property
    def cost(self) -> Decimal | None:
        """What that costs; None without a price."""
        costs = [one.member.quantity * one.plan.cost for one in self.each if one.plan and one.plan.cost is not None]
        return sum(costs, Decimal(0)) if self.is_whole and len(costs) == len(self.each) else None

    @property
    def saved(self) -> float | None:
        """How much less is bought together, mm; below 0 where it is more."""
        return None if self.buy is None else self.buy - self.together.purchase.buy

    @property
    def saved_cost(self) -> Decimal | None:
        """How much less that costs."""
        if self.cost is None or self.together.cost is None:
            return None
        return self.cost - self.together.cost
