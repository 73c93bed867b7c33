"""What one garment costs in runs of different size, and what makes each step of it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING, Literal

from reports.money.cost.item import total, weigh
from reports.money.cost.sheet import CostLine, add_up
from reports.money.cost.sources import Supply
from reports.money.cost.tariff import Bought
from reports.money.price import to_cents

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from decimal import Decimal

    from reports.money.cost.item import CostPart, Quantities
    from reports.money.cost.sheet import Charge, CostSheet
    from reports.money.cost.sources import Expense, Work

MOST = 200
"""The curve goes to so many garments, or a quarter past the order's number."""
EVERY = 500
"""Of more garments than so many, not each number has a point: about so many have."""

LEAST_RISE = Fraction(1, 200)
"""A rise by a smaller share of the unit cost is not named one by one."""


@dataclass(frozen=True)
class Cause:
    """What makes a step: a lower price that begins to hold, or one more whole step that is bought."""

    supply: Supply
    why: Literal["break", "whole step"]
    bought: Bought


@dataclass(frozen=True)
class CostStep:
    """Where the curve jumps: the quantity, the change of the unit cost against the point before, and its causes.

    `before` is the number of garments of that point: one less, on curves of few numbers.
    """

    garments: int
    change: Decimal
    causes: tuple[Cause, ...]
    before: int


@dataclass(frozen=True)
class CostPoint:
    """A run of so many garments: its cost, that of one garment, and what is bought."""

    garments: int
    run: Decimal
    parts: Mapping[CostPart, Decimal]
    bought: tuple[Bought, ...]

    @property
    def unit(self) -> Decimal:
        """Cost of one garment, to the nearest cent, halves up."""
        return to_cents(self.exact)

    @property
    def exact(self) -> Fraction:
        """The same, not rounded."""
        return Fraction(self.run) / self.garments


@dataclass(frozen=True)
class CostCurve:
    """Unit cost over the number of garments.

    Parameters
    ----------
    steps
        Price breaks, and rises of 0.5 % or more.
    small_rises
        The smaller rises, by whole steps of what is bought.
    ordered
        The number of garments of the order itself.
    """

    points: tuple[CostPoint, ...]
    steps: tuple[CostStep, ...]
    small_rises: tuple[CostStep, ...]
    ordered: int

    def pays_from(self, price: Decimal) -> int | None:
        """From which quantity on every run on the curve brings in, at a price a garment, what it costs."""
        paying: int | None = None
        for point in reversed(self.points):
            if price * point.garments < point.run:
                break
            paying = point.garments
        return paying


def cost_curve(
    sources: Sequence[Supply | Work | Expense],
    quantities: Quantities,
    charges: Sequence[Charge],
    numbers: Iterable[int] | None = None,
    sheet: CostSheet | None = None,
) -> CostCurve:
    """Work out the unit cost for many numbers of garments, in the order's mix of colours and sizes.

    Parameters
    ----------
    sources
        Cloth and rib as a `Supply`, with what a garment takes in the run: a garment alone may take more.
    numbers
        Of garments, rising; by default those of `numbers_to`.
    sheet
        What the run of the order's number costs: the curve passes through it.
    """
    ordered = int(total(quantities))
    supplies = [source for source in sources if isinstance(source, Supply)]
    means = [_of_mean(source, quantities) for source in sources]
    points = [_point(means, number, charges) for number in (numbers_to(ordered) if numbers is None else numbers)]
    if sheet is not None:
        points = [
            replace(point, run=sheet.total, parts=sheet.by_part()) if point.garments == ordered else point
            for point in points
        ]
    steps: list[CostStep] = []
    small: list[CostStep] = []
    for before, after in pairwise(points):
        step = _step(supplies, before, after)
        lower = any(cause.why == "break" for cause in step.causes)
        if lower or (step.causes and after.exact - before.exact >= LEAST_RISE * before.exact):
            steps.append(step)
        elif step.causes and step.change > 0:
            small.append(step)
    return CostCurve(tuple(points), tuple(steps), tuple(small), ordered)


def numbers_to(ordered: int) -> list[int]:
    """Numbers of garments, rising: from 1 to past the order's number, which is one of them."""
    most = max(MOST, ordered + -(-ordered // 4))
    return sorted({*range(1, most + 1, -(-most // EVERY)), ordered, most})


MEAN = ("", "")
"""The one kind of garment on a curve: the mean of the order's, so that each point is worked out at once."""


def cost_of_number(
    sources: Iterable[Supply | Work | Expense], quantities: Quantities, number: int, charges: Sequence[Charge]
) -> CostSheet:
    """What a run of another number of garments costs, line by line, in the order's mix of colours and sizes."""
    means = (_of_mean(source, quantities) for source in sources)
    items = [item for source in means for item in source.items({MEAN: number})]
    return add_up("", (CostLine(item.what, item.part, item.run) for item in items), charges)


def _of_mean(source: Supply | Work | Expense, quantities: Quantities) -> Supply | Work | Expense:
    """The same for runs of the mean garment alone."""
    if not isinstance(source, Supply):
        return source
    return replace(source, each={MEAN: weigh(source.each, quantities) / total(quantities)})


def _point(sources: Iterable[Supply | Work | Expense], number: int, charges: Sequence[Charge]) -> CostPoint:
    quantities, bought, lines = {MEAN: number}, list[Bought](), list[CostLine]()
    for source in sources:
        if isinstance(source, Supply):
            bought.append(source.buy(quantities))
            lines.append(CostLine(source.name, source.part, bought[-1].cost))
        else:
            lines += (CostLine(item.what, item.part, item.run) for item in source.items(quantities))
    sheet = add_up("", lines, charges)
    return CostPoint(number, sheet.total, sheet.by_part(), tuple(bought))


def _step(supplies: Sequence[Supply], before: CostPoint, after: CostPoint) -> CostStep:
    causes = []
    for supply, old, new in zip(supplies, before.bought, after.bought, strict=True):
        if new.price != old.price and old.need:
            causes.append(Cause(supply, "break", new))
        elif supply.tariff.step and Fraction(new.cost) / after.garments > Fraction(old.cost) / before.garments:
            causes.append(Cause(supply, "whole step", new))
    breaks = tuple(cause for cause in causes if cause.why == "break")
    change = after.unit - before.unit
    told = breaks if breaks and change < 0 else tuple(causes)
    return CostStep(after.garments, change, told, before.garments)
