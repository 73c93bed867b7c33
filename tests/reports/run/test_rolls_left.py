"""What is left of rolls: listed with its value, and read again as rolls of the next order."""

from __future__ import annotations

import csv
from decimal import Decimal

import pytest

from reports.run.rolls_left import rolls_left, rolls_left_csv
from tests.make.orders import ordered, planned

YARD = 914.4
ROLLS = (
    r"^# rolls = .*$",
    'rolls = [{ length = "5 yd", shade_lot = "A", flaws = [{ at = "2 yd", length = "4 in" }] },'
    ' { length = "7 yd", shade_lot = "B" }, { length = "3 yd", shade_lot = "B", width = "59.5 in" }]',
)


def test_what_is_left_may_be_the_rolls_of_the_next_order() -> None:
    """All cloth is cut, cut out, left, or shorter than what is usable; each line of the CSV reads as a roll again."""
    run = planned(ROLLS)
    plan = run.lots[0]
    rolls, left = plan.rolls["rust"], rolls_left(run)
    cut, flawed = sum(one.length for one in rolls.cuts), 4 * 25.4
    short = sum(length for roll, _, length in rolls.ends if length < 500 and roll in rolls.remnants)
    unopened = 0 if 0 in rolls.remnants else flawed  # its flaw is still on it
    assert sum(one.length for one in left) + cut + flawed - unopened + short == pytest.approx(15 * YARD)
    each = Decimal("16.50") / Decimal("914.4")
    assert all(one.value is not None and abs(one.value - each * Decimal(one.length)) < Decimal("0.02") for one in left)
    lines = list(csv.DictReader(rolls_left_csv(run).splitlines()))
    assert [line["shade lot"] for line in lines] == [one.shade_lot for one in left]
    again = ordered((r"^# rolls = .*$", f"rolls = [{', '.join(line['as a roll'] for line in lines)}]"))
    for roll, one in zip(again.fabric[0].rolls, left, strict=True):
        assert 0 <= one.length - roll.length < 1 and roll.shade_lot == one.shade_lot


def test_each_lay_is_of_one_lot() -> None:
    """The plies of every lay come from rolls of one shade lot."""
    run = planned(ROLLS)
    plan = run.lots[0]
    lays = [at for at, one in enumerate(plan.plan.lays) for _ in range(one.plies.get("rust", 0))]
    lots: dict[int, set[str]] = {}
    for cut in plan.rolls["rust"].cuts:
        lots.setdefault(lays[cut.ply], set()).add(plan.lot.cloths["rust"].rolls[cut.roll].shade_lot)
    assert all(len(own) == 1 for own in lots.values())
