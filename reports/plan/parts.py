"""Each garment's share of what is bought for several: by the area of its pieces, and exact to the last figure."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from nesting.problem.outline import polygon_area
from pieces.garments.together import labelled
from pieces.units import Units
from reports.money.shares import part_out
from reports.plan.answers import FabricPlan
from reports.plan.best import best_of
from reports.plan.piecing import ClothAcross
from reports.plan.problems import whole_from

if TYPE_CHECKING:
    from collections.abc import Iterator

    from reports.ask.members import Member
    from reports.plan.answers import RibAnswer
    from reports.plan.best import Best
    from reports.plan.plan import Plan

WHOLE = 1000
"""Shares are told in tenths of a percent."""

FEWEST, MOST = 3, 6
"""Decimals of a share of a length, in yards or metres: as few as the whole needs to come out."""

YARD, METRE = 914.4, 1000.0


@dataclass(frozen=True, eq=False)
class Part:
    """What one garment of several takes of a cloth or rib: tenths of a percent, a length in words and mm, and its cost.

    Rib that is sold by number has no length, and without a price there is no cost.
    """

    member: Member
    share: int
    text: str
    length: float | None
    cost: Decimal | None

    @property
    def percent(self) -> Decimal:
        """Its share, percent."""
        return Decimal(self.share).scaleb(-1)


@dataclass(frozen=True, eq=False)
class Parted:
    """Something to buy, with each garment's part of it; the parts add up to the whole."""

    best: Best
    whole: Part
    parts: tuple[Part, ...]


def parts_of(plan: Plan) -> tuple[Parted, ...]:
    """Each garment's part of the best cloths and rib; nothing where the job has one."""
    return tuple(_parted(plan, best) for best in best_of(plan)) if plan.job.together else ()


def _parted(plan: Plan, best: Best) -> Parted:
    answer = best.answer
    areas = _areas(plan, answer)
    bought = answer.purchase.buy if answer.purchase else None
    digits, steps = _steps(bought, plan.job.written_in)
    cents = None if answer.cost is None else int(answer.cost.scaleb(2))
    weights = list(areas.values())
    shares = part_out(WHOLE, weights)
    lengths = [None] * len(weights) if steps is None else part_out(steps, weights)
    costs = [None] * len(weights) if cents is None else part_out(cents, weights)

    def part(member: Member, share: int, length: int | None, cost: int | None) -> Part:
        text, mm = _written(length, digits, plan.job.written_in)
        return Part(member, share, text, mm, None if cost is None else Decimal(cost).scaleb(-2))

    parts = tuple(part(*one) for one in zip(areas, shares, lengths, costs, strict=True))
    return Parted(best, part(plan.members[0], WHOLE, steps, cents), parts)


def _areas(plan: Plan, answer: FabricPlan | RibAnswer) -> dict[Member, float]:
    """The area of the pieces of each garment that has any, as often as they are cut, mm²; of shapes as pieced."""
    whose = {labelled(member.label, piece.name): member for member in plan.members for piece in member.pieces}
    areas: dict[Member, float] = {}
    across, whole = None, plan.pieces.of("rib")
    if isinstance(answer, FabricPlan):
        across, whole = ClothAcross.of_offer(answer.offer), whole_from(answer.offer, plan.job, plan.pieces)
    for piece in whole:
        member, cut = whose[piece.name], across.pieced((piece,)) if across else (piece,)
        areas[member] = areas.get(member, 0.0) + sum(part.cut * polygon_area(part.unfolded) for part in cut)
    return areas


def _steps(mm: float | None, units: Units) -> tuple[int, int | None]:
    """Decimals in which a length comes out, and how many of the last one it has."""
    if mm is None:
        return 0, None
    whole = mm / (YARD if units is Units.INCHES else METRE)
    digits = next((n for n in range(FEWEST, MOST) if abs(whole * 10**n - round(whole * 10**n)) < 1e-6), MOST)
    return digits, round(whole * 10**digits)


def _written(steps: int | None, digits: int, units: Units) -> tuple[str, float | None]:
    """A number of steps as a length in words, and in mm."""
    if steps is None:
        return "", None
    unit, mm = ("yd", YARD) if units is Units.INCHES else ("m", METRE)
    return f"{Decimal(steps).scaleb(-digits)} {unit}", round(steps * mm / 10**digits, 6)


def cost_of_each(parted: tuple[Parted, ...]) -> Iterator[tuple[Member, Decimal]]:
    """What each garment's parts cost together; nothing where something has no price, or prices differ in currency."""
    prices = [one.best.answer.offer.price for one in parted]
    if any(one.whole.cost is None for one in parted) or len({price.currency for price in prices if price}) != 1:
        return
    costs: dict[Member, Decimal] = {}
    for one in parted:
        for part in one.parts:
            costs[part.member] = costs.get(part.member, Decimal(0)) + (part.cost or Decimal(0))
    yield from costs.items()
