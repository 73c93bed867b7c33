"""A lot planned: which lays, laid for real, and which roll each ply is cut from."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from nesting.errors import LayPlanError
from nesting.lays.count import check_plan
from nesting.lays.estimate import estimate_lengths
from nesting.lays.order import LayCosts, LayRules
from nesting.lays.order import StyleOrder as CutOrder
from nesting.lays.plan import plan_one_size, plan_singly, price_lays
from nesting.lays.stable import plan_until_stable
from pieces.units import spoken
from reports.errors import JobError
from reports.run.lot_plan import LotPlan
from reports.run.planning import lays_from_plain, lays_to_plain
from reports.run.preferred import preferred, preferred_from_plain, preferred_to_plain
from reports.run.rolled import by_lots, roll_plan

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Mapping, Sequence

    from nesting.lays.order import ColourSize, Mix
    from nesting.lays.plan import LayPlan
    from nesting.lays.stable import Laying, StablePlan
    from nesting.marker.marker import Marker
    from reports.ask.order.order import Order, RunFabric
    from reports.run.beyond import Beyond
    from reports.run.garments import Garments, Kinds
    from reports.run.lots import Lot
    from reports.run.planning import Planning


def wanted_of(order: Order, garments: Garments, lot: Lot, cut: Kinds) -> CutOrder:
    """How many of each size are cut of each cloth: as ordered, or as many as another part is cut for already."""
    begun = {colour for colour, _ in cut}
    sizes = tuple(lot.pieces)
    least: dict[ColourSize, int] = Counter()
    most: dict[ColourSize, int] = Counter()
    asked: dict[ColourSize, int] = Counter()
    for key, colours in lot.stands_for.items():
        for colour in colours:
            for size in sizes:
                ordered = garments.ordered[colour, size]
                made = cut.get((colour, size), 0) if colour in begun else None
                least[key, size] += order.tolerance.least(ordered) if made is None else made
                most[key, size] += order.tolerance.most(ordered) if made is None else made
                asked[key, size] += ordered if made is None else made
    return CutOrder(sizes, tuple(lot.cloths), least, most, asked)


def rules_of(order: Order, lot: Lot) -> LayRules:
    """What table and tool allow."""
    most = min(cloth.most_plies(order.cutting) for cloth in lot.cloths.values())
    if most < 1:
        raise LayPlanError(
            f"the {order.cutting.tool} cuts no ply of '{lot.cloth.name}' at once: it has {lot.cloth.layers} layers, or"
            " is higher than what the tool cuts: raise most_layers or height, or spread it another way"
        )
    least = order.cutting.least_plies
    if least > most:
        raise LayPlanError(
            f"[cutting] least_plies is {least}, and {most} plies of '{lot.cloth.name}' are cut at once at the most:"
            " make it smaller, or raise most_layers or height"
        )
    return LayRules(order.cutting.tables[-1], most, order.cutting.most_garments, least_plies=least)


def costs_of(order: Order, lot: Lot, quantities: Mapping[str, float], beyond: Beyond) -> LayCosts:
    """What each step of a lay plan costs: cloth at the price for the length expected, and minutes of labour.

    Parameters
    ----------
    beyond
        What garments over and under the order cost, by cloth of the lot.
    """
    cutting, minute = order.cutting, _minute(order)
    return LayCosts(
        {key: _price_of(cloth, quantities[key]) for key, cloth in lot.cloths.items()},
        marker=cutting.marker_minutes * minute,
        lay=cutting.lay_minutes * minute,
        ply=cutting.ply_minutes * minute,
        ply_mm=cutting.spread_minutes * minute / 1000,
        cut_mm=cutting.cut_minutes * minute / 1000,
        end_loss=2 * lot.cloth.end_allowance,
        over=beyond.over,
        under=beyond.under,
    )


def _minute(order: Order) -> float:
    """What a minute of work costs; nothing where no pay is given."""
    rate = order.pricing.rate
    return 0.0 if rate is None else float(rate.amount) / rate.size * 100 / order.pricing.efficiency


def _price_of(cloth: RunFabric, length: float) -> float:
    cost = cloth.cost(length)
    if cost is None:
        price = f'price = "16.50 / {spoken("yd", "m")}"'
        raise JobError(f"[[fabric]] '{cloth.name}' has no price", hint=f"add a line such as {price}")
    return float(cost) / length


def plan_lot(order: Order, garments: Garments, lot: Lot, cut: Kinds, beyond: Beyond, planning: Planning) -> LotPlan:
    """Plan a lot: lengths of markers estimated, the lays chosen, their markers laid for real, and again until stable.

    Where rolls are short, nothing is cut beyond the order.

    Parameters
    ----------
    cut
        Garments that another part is cut for already, by colour and size.
    beyond
        What a garment over or under the order costs, by colour and size of garment.
    planning
        What it is planned with.

    Raises
    ------
    LayPlanError
        If no plan gives the order.
    KeyboardInterrupt
        If it was cut short before each size had a marker.
    """
    wanted, rules = wanted_of(order, garments, lot, cut), rules_of(order, lot)
    costs = costs_of(order, lot, _expected(wanted, lot), beyond.of(lot))
    found = _planned(lot, wanted, rules, costs, planning, {})
    short = [key for key, rolls in found.rolls.items() if rolls.missing]
    exact = _without_over(wanted, rules, short)
    if any(found.cut().get(cell, 0) > most for cell, most in exact.most.items()):
        found = _planned(lot, exact, rules, costs, planning, found.lengths)
    return found


def _without_over(wanted: CutOrder, rules: LayRules, keys: Collection[str]) -> CutOrder:
    """The same order, with no more of some cloths than was asked for, or than plies laid by steps must give."""
    step = rules.ply_step
    exact = {
        cell: min(most, max(wanted.asked_of(cell), -(-wanted.range_of(cell)[0] // step) * step))
        if cell[0] in keys
        else most
        for cell, most in wanted.most.items()
    }
    return replace(wanted, most=exact)


def _planned(
    lot: Lot, wanted: CutOrder, rules: LayRules, costs: LayCosts, planning: Planning, known: Mapping[Mix, float]
) -> LotPlan:
    """The plan of a lot, as it is kept or made anew, and its rolls; `known` are mixes laid before, with lengths."""
    asked = _followed_from(lot, wanted, rules, costs, planning.usual, known), planning.prefer

    def read(plain: Any) -> LotPlan | None:
        return _again(lot, wanted, rules, costs, planning, plain)

    found = planning.get("lays", asked, read)
    if found is None:
        found = _anew(lot, wanted, rules, costs, planning, known)
        plans = {name: lays_to_plain(getattr(found, name)) for name in ("plan", "one_by_one", "one_size")}
        lengths = [[list(mix), length] for mix, length in found.lengths.items()]
        told = {"rounds": found.rounds, "stable": found.stable, "preferred": preferred_to_plain(found.preferred)}
        planning.keep("lays", asked, plans | {"lengths": lengths} | told)
    found = by_lots(found, rules.least_plies)
    rolls = {key: roll_plan(found, key, planning) for key, cloth in lot.cloths.items() if cloth.rolls}
    return replace(found, rolls=rolls)


def _followed_from(
    lot: Lot, wanted: CutOrder, rules: LayRules, costs: LayCosts, effort: float, known: Mapping[Mix, float]
) -> Any:
    """All that a lay plan follows from; what a garment beyond the order costs matters only where there may be one."""
    over = {cell: cost for cell, cost in costs.over.items() if wanted.range_of(cell)[1] > wanted.asked_of(cell)}
    under = {cell: cost for cell, cost in costs.under.items() if wanted.range_of(cell)[0] < wanted.asked_of(cell)}
    sizes = range(len(lot.pieces))
    alone = [lot.problem(tuple(int(at == size) for at in sizes)) for size in sizes]
    areas = [lot.area(size) for size in lot.pieces]
    asked = [(cell, wanted.range_of(cell), wanted.asked_of(cell)) for cell in wanted.cells]
    return alone, areas, asked, rules, replace(costs, over=over, under=under), effort, sorted(known.items())


def _again(
    lot: Lot, wanted: CutOrder, rules: LayRules, costs: LayCosts, planning: Planning, plain: Any
) -> LotPlan | None:
    """A plan that was kept, counted and priced once more; None if its markers are not as they were."""
    plan, alone, one_size = (lays_from_plain(plain[name], wanted, costs) for name in ("plan", "one_by_one", "one_size"))
    check_plan(plan, rules, end_loss=costs.end_loss)
    markers: dict[Mix, Marker] = {}
    lengths = {tuple(mix): length for mix, length in plain["lengths"]}
    _lay_for_real(lot, list(plan.markers), planning, markers)
    if any(mix not in markers or markers[mix].length != length for mix, length in plan.markers.items()):
        return None
    rounds, stable = int(plain["rounds"]), bool(plain["stable"])
    told = preferred_from_plain(plain["preferred"])
    return LotPlan(lot, wanted, costs, plan, alone, one_size, markers, lengths, rounds, stable, preferred=told)


def _lay_for_real(lot: Lot, mixes: Sequence[Mix], planning: Planning, markers: dict[Mix, Marker]) -> None:
    """Lay what is not laid yet; those that an interrupt came before are left out.

    Raises
    ------
    KeyboardInterrupt
        If markers are missing, and nobody asked to end early.
    """
    todo = [mix for mix in mixes if mix not in markers]
    for mix, marker in zip(todo, planning.lay([lot.problem(mix) for mix in todo]), strict=True):
        if marker is not None:
            lot.verify(marker, mix)
            markers[mix] = marker
        elif not planning.stop():
            raise KeyboardInterrupt


def _anew(
    lot: Lot, wanted: CutOrder, rules: LayRules, costs: LayCosts, planning: Planning, known: Mapping[Mix, float]
) -> LotPlan:
    """The plan of a lot, its markers laid."""
    areas, stop = [lot.area(size) for size in lot.pieces], planning.stop
    markers: dict[Mix, Marker] = {}
    _lay_for_real(lot, list(known), planning, markers)

    def lay_for_real(mixes: Sequence[Mix]) -> dict[Mix, float | None]:
        _lay_for_real(lot, mixes, planning, markers)
        return {mix: markers[mix].length if mix in markers else None for mix in mixes}

    def estimate(known: Mapping[Mix, float]) -> Callable[[Mix], float]:
        return estimate_lengths(known, areas=areas, width=lot.width)

    def lengths() -> dict[Mix, float]:
        return {mix: marker.length for mix, marker in markers.items()}

    def plan_steadily(order: CutOrder, rules: LayRules, costs: LayCosts) -> StablePlan:
        return plan_until_stable(
            order, rules, costs, estimate, lay_for_real, effort=planning.effort, known=lengths(), stop=stop
        )

    steady, told = plan_steadily(wanted, rules, costs), None
    alone = _as_laid(plan_singly(wanted, costs, estimate(lengths())), costs, lay_for_real)
    free = replace(rules, least_plies=1)  # what is compared with need not keep to it
    one_size = plan_one_size(wanted, free, costs, estimate(lengths()), effort=planning.effort, stop=stop)
    if stop():  # of the markers that are there
        one_size = plan_one_size(wanted, free, costs, lengths(), effort=planning.effort, stop=stop)
    one_size, rounds = _as_laid(one_size, costs, lay_for_real), steady.rounds
    may_replan = rules.least_plies == 1 and not stop()
    if may_replan and one_size.cost < steady.plan.cost:  # its markers came out shorter than they were estimated
        steady = plan_steadily(wanted, rules, costs)
        rounds += steady.rounds
    if planning.prefer != "cost" and not stop():
        steady, told = preferred(steady, planning.prefer, rules, costs, plan_steadily)
    check_plan(steady.plan, rules, end_loss=costs.end_loss)
    plans = steady.plan, alone, one_size
    return LotPlan(lot, wanted, costs, *plans, markers, lengths(), rounds, steady.stable, preferred=told)


def _as_laid(plan: LayPlan, costs: LayCosts, lay: Laying) -> LayPlan:
    """A plan to compare with, its markers laid for real."""
    lengths = lay(list(plan.markers))
    lays = tuple(replace(one, length=lengths[one.mix] or one.length) for one in plan.lays)
    cost = price_lays(lays, costs, plan.order)
    return replace(plan, lays=lays, cost=cost, bound=min(plan.bound, cost))


def _expected(wanted: CutOrder, lot: Lot) -> dict[str, float]:
    """Length of each cloth that an order may take, mm."""
    return {
        key: max(1.0, sum(wanted.asked_of((key, size)) * lot.expected(size) for size in wanted.sizes))
        for key in wanted.colours
    }
