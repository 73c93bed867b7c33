"""What is left of the rolls after a run: ends long enough to use, their value, and each as a roll of an order."""

from __future__ import annotations

import csv
import io
from collections import defaultdict
from dataclasses import dataclass
from fractions import Fraction
from math import floor
from typing import TYPE_CHECKING

from reports.money.price import to_cents

if TYPE_CHECKING:
    from collections.abc import Iterator
    from decimal import Decimal

    from nesting.lays.rolls import RollPlan
    from reports.ask.order.order import RunFabric
    from reports.run.lot_plan import LotPlan
    from reports.run.plan import RunPlan

HEADS = ("cloth", "colour", "roll", "opened", "shade lot", "width mm", "from mm", "length mm", "value", "as a roll")


@dataclass(frozen=True)
class RollLeft:
    """A roll that was not opened, or an end of one that was.

    Parameters
    ----------
    cloth, colour, roll
        What it is of; the colour is empty for cloth of all colours, the roll counts from 1.
    opened
        Whether the roll was cut.
    at, length
        Where it begins on the roll, and how long it is, mm.
    value
        At the price that the run pays for this cloth; None without a price.
    entry
        It as a roll of an order.
    """

    cloth: str
    colour: str
    roll: int
    opened: bool
    shade_lot: str
    width: float
    at: float
    length: float
    value: Decimal | None
    entry: str


def rolls_left(run: RunPlan) -> tuple[RollLeft, ...]:
    """What is left and long enough to use, cloth by cloth."""
    return tuple(left for plan in run.lots for key in plan.rolls for left in _of_cloth(plan, key))


def _of_cloth(plan: LotPlan, key: str) -> Iterator[RollLeft]:
    cloth, rolls = plan.lot.cloths[key], plan.rolls[key]
    spread = sum(plan.plies(key))
    cost = cloth.cost(spread)
    each = None if cost is None else Fraction(cost) / Fraction(spread)
    opened, ends = {cut.roll for cut in rolls.cuts}, _ends(cloth, rolls)
    for roll, own in enumerate(cloth.rolls):
        for at, length in ends[roll]:
            if length >= cloth.usable_end - 1e-6:
                value = None if each is None else to_cents(each * Fraction(length))
                entry = _entry(cloth, roll, length, whole=roll not in opened)
                width = own.width or cloth.width
                which = cloth.name, cloth.colour or "", roll + 1, roll in opened, own.shade_lot
                yield RollLeft(*which, width, at, length, value, entry)


def _ends(cloth: RunFabric, rolls: RollPlan) -> dict[int, list[tuple[float, float]]]:
    """What is left of each roll: where it begins, and its length; a roll not opened is left in one piece."""
    found: dict[int, list[tuple[float, float]]] = defaultdict(list)
    opened = rolls.remnants
    for roll, own in enumerate(cloth.rolls):
        if roll not in opened:
            found[roll].append((0.0, own.length))
        elif not rolls.ends:
            found[roll].append((own.length - opened[roll], opened[roll]))
    for roll, at, length in rolls.ends:
        if roll in opened:
            found[roll].append((at, length))
    return found


def _entry(cloth: RunFabric, roll: int, length: float, *, whole: bool) -> str:
    """A roll as TOML; its length is rounded down to the millimetre."""
    own = cloth.rolls[roll]
    said = [f'length = "{floor(length + 1e-6)} mm"']
    if own.shade_lot:
        said.append(f'shade_lot = "{own.shade_lot}"')
    if own.width:
        said.append(f'width = "{own.width:.6g} mm"')
    if whole and own.flaws:
        flaws = ", ".join(f'{{ at = "{flaw.at:.6g} mm", length = "{flaw.length:.6g} mm" }}' for flaw in own.flaws)
        said.append(f"flaws = [{flaws}]")
    return f"{{ {', '.join(said)} }}"


def rolls_left_csv(run: RunPlan) -> str:
    """The list as CSV; what stands last in a line may be pasted among the rolls of the next order."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(HEADS)
    for one in rolls_left(run):
        opened, value = "yes" if one.opened else "no", "" if one.value is None else one.value
        numbers = (f"{number:.1f}" for number in (one.width, one.at, one.length))
        writer.writerow((one.cloth, one.colour, one.roll, opened, one.shade_lot, *numbers, value, one.entry))
    return text.getvalue()
