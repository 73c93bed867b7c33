"""Plies and rolls: lays parted where rolls are of several shade lots, and which ply is cut from which roll."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from nesting.errors import LayPlanError
from nesting.lays.plan import price_lays
from nesting.lays.roll_stock import PlyGroup, assign_stock, check_stock, parts_of
from nesting.lays.rolls import EFFORT as ROLL_EFFORT
from nesting.lays.rolls import FINEST, assign_rolls, check_rolls, fewest_by_length
from reports.money.yardage import whole_repeats
from reports.run.planning import rolls_from_plain, rolls_to_plain
from reports.run.use import ply_length

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nesting.lays.plan import Lay
    from nesting.lays.rolls import RollPlan
    from reports.ask.order.order import RunFabric
    from reports.run.lot_plan import LotPlan
    from reports.run.planning import Planning


def roll_plan(plan: LotPlan, key: str, planning: Planning) -> RollPlan:
    """Which ply of a cloth is cut from which roll; plies are spliced where the cloth has an allowance for that."""
    cloth, plies, splice = plan.lot.cloths[key], plan.plies(key), plan.lot.cloths[key].splice or None
    matched, stock = plan.on_pattern and bool(cloth.repeat_along), cloth.stock
    needs = [need for lay in plan.plan.lays for need in [plan.need(lay, key)] * lay.plies.get(key, 0)]
    lots = [
        plan.from_shade.get((at, key), stock[0].lot)
        for at, lay in enumerate(plan.plan.lays)
        for _ in range(lay.plies.get(key, 0))
    ]
    asked = plies, stock, lots, needs, cloth.splice, matched and cloth.repeat_along

    def read(plain: Any) -> RollPlan | None:
        held = None if matched else rolls_from_plain(plain, cloth.lengths, plies, splice)
        if held is not None:
            check_stock(held, stock, lots, needs)
        return held

    if found := planning.kept.get("rolls", asked, read):
        return found
    effort = ROLL_EFFORT if not planning.stop() else planning.effort
    try:
        if matched:
            return matched_rolls(plies, cloth, effort)
        found = assign_stock(plies, stock, lots=lots, needs=needs, splice=splice, effort=effort)
    except LayPlanError as error:
        raise LayPlanError(f"'{cloth.name}': {error}") from error
    check_rolls(found, plies, splice=splice)
    check_stock(found, stock, lots, needs)
    planning.keep("rolls", asked, rolls_to_plain(found))
    return found


def by_lots(plan: LotPlan, least: int) -> LotPlan:
    """The plan with lays parted, where rolls are of several shade lots, so that each is cut from one of each cloth."""
    stocks = {key: cloth.stock for key, cloth in plan.lot.cloths.items() if cloth.is_sorted}
    if not any(len({roll.lot for roll in stock}) > 1 for stock in stocks.values()):
        return plan
    ends, old = plan.lot.cloth.end_allowance, plan.plan.lays
    parts: dict[tuple[int, str], list[tuple[str, int]]] = {}
    for key, stock in stocks.items():
        at = [number for number, lay in enumerate(old) if lay.plies.get(key)]
        groups = [PlyGroup(old[n].plies[key], ply_length(old[n], ends), plan.need(old[n], key)) for n in at]
        parts |= {(number, key): given for number, given in zip(at, parts_of(groups, stock), strict=True)}
    lays: list[Lay] = []
    from_shade: dict[tuple[int, str], str] = {}
    for number, lay in enumerate(old):
        own = {key: parts.get((number, key), [("", plies)]) for key, plies in lay.plies.items()}
        for part in range(max(map(len, own.values()))):
            there = {key: given[part] for key, given in own.items() if part < len(given)}
            from_shade |= {(len(lays), key): lot for key, (lot, _) in there.items() if key in stocks}
            lays.append(replace(lay, plies={key: plies for key, (_, plies) in there.items()}))
    cost = price_lays(lays, plan.costs, plan.order)
    return replace(plan, plan=replace(plan.plan, lays=tuple(lays), cost=cost), from_shade=from_shade)


def matched_rolls(plies: Sequence[float], cloth: RunFabric, effort: float = ROLL_EFFORT) -> RollPlan:
    """Rolls of patterned cloth: up to a repeat is lost before the first ply, and plies begin whole repeats apart.

    What its last ply leaves no roll needs to hold: the least of that is given back to each. What is lost at its start
    counts as cut with its first ply, and a splice takes a repeat more.
    """
    repeat = cloth.repeat_along
    laid = [whole_repeats(ply, repeat) for ply in plies]
    lost = repeat - min(whole - ply for whole, ply in zip(laid, plies, strict=True))
    splice = cloth.splice + repeat if cloth.splice else None
    held = [max(FINEST, roll - lost) for roll in cloth.lengths]
    found = assign_rolls(laid, held, splice=splice, effort=effort)
    firsts = {cut.roll: at for at, cut in reversed(list(enumerate(found.cuts)))}
    cuts = (replace(c, length=c.length + lost) if firsts[c.roll] == at else c for at, c in enumerate(found.cuts))
    bound = min(found.bound, fewest_by_length(plies, cloth.lengths))
    proved = found.impossible and sum(plies) > sum(cloth.lengths)
    return replace(found, rolls=cloth.lengths, cuts=tuple(cuts), bound=bound, longest=False, impossible=proved)
