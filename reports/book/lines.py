"""The lines of a cost sheet as formulas: what is bought, work, spreading and cutting, and what is paid once."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from reports.book.formula import cents
from reports.book.goods import GarmentNeed
from reports.money.cost.sheet import PARTS

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from decimal import Decimal

    from reports.book.buying import LivePaid
    from reports.book.making import LiveMaking
    from reports.money.cost.item import CostMeasure, CostPart
    from reports.sheets.living import LiveSheet

NO_PRICE = "no price"
"""Stands for the cost of what has no price: it is no part of the sum."""


@dataclass(frozen=True)
class LiveLine:
    """A line of the run's cost.

    Parameters
    ----------
    amount, quantity, rate
        Formulas; empty where there is no quantity or no price.
    each
        Of work: the money for a garment, not rounded.
    name
        The cell of its name, where it is worked out.
    grows
        Whether it grows with the number of garments; else it is paid once.
    paid
        What is bought, of which each size bears what its garments take; None: all garments bear the same.
    is_planned
        Whether it rests on the plan.
    may_lack
        Whether it may have no price, and is then no part of the cost.
    is_nothing
        Whether it takes nothing as it stands: the program has no line of it.
    """

    what: str
    part: CostPart
    amount: str
    measure: CostMeasure = ""
    quantity: str = ""
    unit: str = ""
    rate: str = ""
    per: str = ""
    rate_value: float | Decimal | str = ""
    name: str = ""
    each: str = ""
    grows: bool = True
    paid: LivePaid | None = None
    is_planned: bool = False
    may_lack: bool = False
    is_nothing: bool = False


def lines_of(making: LiveMaking, inputs: LiveSheet, buying: LiveSheet, paid: Iterable[LivePaid]) -> list[LiveLine]:
    """The lines in the order of a cost sheet."""
    found = [_bought_line(making, buying, one) for one in paid]
    if making.choices:  # of a job, what is paid once stands before work
        found += [*_once(making, inputs), *_work(making, inputs)]
    else:
        found += [*_work(making, inputs), *_once(making, inputs)]
    return sorted([*found, *_cutting(making, inputs)], key=lambda line: PARTS.index(line.part))


def _bought_line(making: LiveMaking, buying: LiveSheet, one: LivePaid) -> LiveLine:
    good = one.good
    if making.choices:  # all that is paid for it: which of several offers it is may change
        cost = f'IF(ISNUMBER({one.cost}),{one.cost},"{NO_PRICE}")'
        return LiveLine(one.what, one.part, cost, is_planned=True, may_lack=one.good.cost is None, name=one.name)
    measure: CostMeasure = "mm" if good.size != 1 else "piece"
    if not isinstance(good.need, GarmentNeed):
        measure = "mm" if good.size != 1 else ""
    need, held = (buying.of(f"{good.key}.{name}") for name in ("need", "held"))
    quantity = need if measure else ""
    return LiveLine(
        good.what, one.part, one.cost, measure, quantity, good.unit if quantity else "", held, good.per,
        "" if good.held is None else good.held, paid=one, is_planned=good.is_planned,
    )  # fmt: skip


def _work(making: LiveMaking, inputs: LiveSheet) -> Iterator[LiveLine]:
    efficiency, garments = inputs.of("pricing.efficiency"), inputs.of("cut.all")
    for number, operation in enumerate(making.operations):
        key, rate = f"operation.{number}", making.pricing.work(operation).rate
        pay = inputs.of(f"{key}.rate")
        paid = f"{inputs.of(f'{key}.minutes')}*100/{efficiency}"
        each = f"{paid}/{rate.size:g}*{pay}"
        yield LiveLine(
            operation.name, operation.part, cents(f"{each}*{garments}"), "min", f"{paid}*{garments}", "min",
            pay, f"/ {rate.unit}", rate.amount, each=each, is_nothing=not operation.minutes,
        )  # fmt: skip
        if operation.set_up:
            once = f"{inputs.of(f'{key}.set_up')}*100/{efficiency}"
            amount = cents(f"{once}/{rate.size:g}*{pay}")
            name = f"{operation.name}, making ready"
            yield LiveLine(name, "set-up", amount, rate=pay, per=f"/ {rate.unit}", rate_value=rate.amount, grows=False)


def _once(making: LiveMaking, inputs: LiveSheet) -> Iterator[LiveLine]:
    for name in making.pricing.set_up:
        yield LiveLine(name, "set-up", cents(inputs.of(f"pricing.set_up.{name}")), grows=False)


def _cutting(making: LiveMaking, inputs: LiveSheet) -> Iterator[LiveLine]:
    rate = making.pricing.rate
    if making.cutting is None or rate is None:
        return
    pay, efficiency = inputs.of("pricing.rate"), inputs.of("pricing.efficiency")

    def paid(keys: Iterable[str]) -> str:
        minutes = "+".join(f"{inputs.of(f'cutting.{key}')}*{inputs.of(f'plan.{key}')}" for key in keys)
        return cents(f"ROUND(({minutes})*100/{efficiency},3)/{rate.size:g}*{pay}")

    work = paid(("lay_minutes", "cut_minutes", "ply_minutes", "spread_minutes"))
    told = {"rate": pay, "per": f"/ {rate.unit}", "rate_value": rate.amount}
    yield LiveLine("spreading and cutting", "cutting", work, **told, is_planned=True)  # type: ignore[arg-type]
    markers = paid(("marker_minutes",))
    yield LiveLine("making markers", "set-up", markers, **told, grows=False, is_planned=True)  # type: ignore[arg-type]
