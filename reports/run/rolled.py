"""Plies and rolls: lays parted where rolls are of several shade lots, and which ply is cut from which roll."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from nesting.errors import LayPlanError
from nesting.lays.plan import price_lays
from nesting.lays.roll_stock import PlyGroup, assign_stock, check_stock, parts_of
from nesting.lays.rolls import EFFORT as ROLL_EFFORT
from nesting.lays.rolls import check_rolls
from reports.money.yardage import whole_repeats
from reports.run.on_pattern import PatternPlies, check_on_pattern, lost_at_start, rolls_on_pattern, shortened
from reports.run.planning import rolls_from_plain, rolls_to_plain
from reports.run.use import ply_length

if TYPE_CHECKING:
    from collections.abc import Callable

    from nesting.lays.plan import Lay
    from nesting.lays.rolls import RollPlan
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
    on_pattern = PatternPlies(plies, cloth.repeat_along, lots, needs, cloth.splice)
    asked = plies, stock, lots, needs, cloth.splice, matched and cloth.repeat_along

    def check(held: RollPlan) -> None:
        if matched:
            check_on_pattern(held, on_pattern, stock)
        else:
            check_rolls(held, plies, splice=splice)
            check_stock(held, stock, lots, needs)

    def read(plain: Any) -> RollPlan:
        held = rolls_from_plain(plain, cloth.lengths)
        check(held)
        return held

    if found := planning.get("rolls", asked, read):
        return found

    def dealt(effort: float) -> RollPlan:
        if matched:
            return rolls_on_pattern(on_pattern, stock, effort=effort, stop=planning.stop)
        return assign_stock(plies, stock, lots=lots, needs=needs, splice=splice, effort=effort, stop=planning.stop)

    try:
        found = _as_far_as_it_is(dealt, planning)
    except LayPlanError as error:
        raise LayPlanError(f"'{cloth.name}': {error}") from error
    check(found)
    planning.keep("rolls", asked, rolls_to_plain(found))
    return found


def _as_far_as_it_is(dealt: Callable[[float], RollPlan], planning: Planning) -> RollPlan:
    """Plies dealt out to rolls; after an interrupt by plain rules, and what else was found by then."""
    try:
        return dealt(ROLL_EFFORT if not planning.stop() else planning.effort)
    except KeyboardInterrupt:
        planning.end()
        return dealt(planning.effort)


def by_lots(plan: LotPlan, least: int) -> LotPlan:
    """The plan with lays parted, where rolls are of several shade lots, so that each is cut from one of each cloth."""
    stocks = {key: cloth.stock for key, cloth in plan.lot.cloths.items() if cloth.is_sorted}
    if not any(len({roll.lot for roll in stock}) > 1 for stock in stocks.values()):
        return plan
    ends, old = plan.lot.cloth.end_allowance, plan.plan.lays
    repeat = plan.lot.cloth.repeat_along if plan.on_pattern else 0.0
    parts: dict[tuple[int, str], list[tuple[str, int]]] = {}
    for key, stock in stocks.items():
        at = [number for number, lay in enumerate(old) if lay.plies.get(key)]
        lengths = [ply_length(old[n], ends) for n in at]
        if repeat and lengths:
            stock = tuple(shortened(stock, lost_at_start(lengths, repeat)))
            lengths = [whole_repeats(length, repeat) for length in lengths]
        groups = [
            PlyGroup(old[n].plies[key], length, plan.need(old[n], key)) for n, length in zip(at, lengths, strict=True)
        ]
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
