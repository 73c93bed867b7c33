"""Plies and rolls of a run: every lay of one shade lot, on patterned cloth as well."""

from __future__ import annotations

from tests.make.orders import planned

STRIPES = (r"^navy = .*$", ""), (r'^supplier = "mill agent"', 'supplier = "mill agent"\nrepeat_along = "6 in"')


def test_a_striped_order_has_sorted_rolls() -> None:
    """Shade lots, a width of its own and a flaw with a stripe along the cloth: each lay is of one lot."""
    rolls = '[{ length = "9 yd", shade_lot = "A", flaws = [{ at = "4 yd", length = "4 in" }] }, '
    rolls += '{ length = "9 yd", shade_lot = "B", width = "59.8 in" }]'
    run = planned(*STRIPES, (r"^# rolls = .*$", f"rolls = {rolls}"))
    plan = run.lots[0]
    lays = [at for at, one in enumerate(plan.plan.lays) for _ in range(one.plies.get("rust", 0))]
    lots: dict[int, set[str]] = {}
    for cut in plan.rolls["rust"].cuts:
        lots.setdefault(lays[cut.ply], set()).add(plan.lot.cloths["rust"].rolls[cut.roll].shade_lot)
    assert plan.on_pattern and lots and all(len(own) == 1 for own in lots.values())
