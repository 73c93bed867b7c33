"""A lot planned: which lays, laid for real, and which roll each ply is cut from."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from nesting.errors import LayPlanError
from nesting.laycount import check_plan, count_cut
from nesting.layestimate import estimate_lengths
from nesting.layorder import LayCosts, LayRules
from nesting.layorder import Order as CutOrder
from nesting.layplan import plan_one_size, plan_singly, price_lays
from nesting.laystable import plan_until_stable
from nesting.rolls import assign_rolls
from reports.errors import JobError
from reports.run.use import consumption, ply_length

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from nesting.layorder import Mix
    from nesting.layplan import LayPlan
    from nesting.marker import Marker
    from nesting.problem import Problem
    from nesting.rolls import RollPlan
    from reports.order import Order, RunFabric
    from reports.run.garments import Garments, Kind, Kinds
    from reports.run.lots import Lot

    LayMarkers = Callable[[Sequence[Problem]], Sequence[Marker | None]]


USUAL_DENSITY = 0.8
"""Share of the cloth that becomes pieces before anything is laid: good to very good (facts of the textbook by
Vilumsone-Nemes, Industrial Cutting of Textile Materials, p. 19: 70 to 85 %)."""


@dataclass(frozen=True, eq=False)
class LotPlan:
    """The lays of a lot.

    Parameters
    ----------
    order, costs
        What was asked of the lay plan, and what each step of it costs.
    plan
        The lays chosen, all their markers laid for real.
    one_by_one, one_size
        What a garment at a time, and markers of one size alone, would come to, where that can be done.
    markers
        By mix.
    rounds, stable
        How often was planned, and whether to plan again would change nothing.
    rolls
        By cloth: which ply is cut from which roll, where rolls are given.
    """

    lot: Lot
    order: CutOrder
    costs: LayCosts
    plan: LayPlan
    one_by_one: LayPlan
    one_size: LayPlan
    markers: Mapping[Mix, Marker]
    rounds: int
    stable: bool
    rolls: Mapping[str, RollPlan] = field(default_factory=dict)

    def cut(self) -> dict[Kind, int]:
        """Garments cut, by cloth and size."""
        return count_cut(self.plan)

    def taken(self) -> dict[Kind, float]:
        """Length of cloth that a garment takes, mm, by cloth and size."""
        areas = {size: self.lot.area(size) for size in self.lot.pieces}
        return consumption(self.plan.lays, list(self.lot.pieces), areas, self.lot.cloth.end_allowance)

    def plies(self, key: str) -> list[float]:
        """Length of every ply of one cloth, mm, ends included."""
        ends = self.lot.cloth.end_allowance
        return [ply_length(lay, ends) for lay in self.plan.lays for _ in range(lay.plies.get(key, 0))]


def wanted_of(order: Order, garments: Garments, lot: Lot, cut: Kinds) -> CutOrder:
    """How many of each size are cut of each cloth: as ordered, or as many as another part is cut for already."""
    begun = {colour for colour, _ in cut}
    sizes = tuple(lot.pieces)
    least: dict[Kind, int] = Counter()
    most: dict[Kind, int] = Counter()
    for key, colours in lot.stands_for.items():
        for colour in colours:
            for size in sizes:
                ordered = garments.ordered[colour, size]
                made = cut.get((colour, size), 0) if colour in begun else None
                least[key, size] += order.tolerance.least(ordered) if made is None else made
                most[key, size] += order.tolerance.most(ordered) if made is None else made
    return CutOrder(sizes, tuple(lot.cloths), least, most)


def rules_of(order: Order, lot: Lot) -> LayRules:
    """What table and tool allow."""
    most = min(cloth.most_plies(order.cutting) for cloth in lot.cloths.values())
    if most < 1:
        raise LayPlanError(
            f"the {order.cutting.tool} cuts no ply of '{lot.cloth.name}' at once: it has {lot.cloth.layers} layers, or"
            " is higher than what the tool cuts: raise most_layers or height, or spread it another way"
        )
    return LayRules(order.cutting.table, most, order.cutting.most_garments)


def costs_of(order: Order, lot: Lot, quantities: Mapping[str, float]) -> LayCosts:
    """What each step of a lay plan costs: cloth at the price for the length expected, and minutes of labour."""
    cutting, minute = order.cutting, _minute(order)
    return LayCosts(
        {key: _price_of(cloth, quantities[key]) for key, cloth in lot.cloths.items()},
        marker=cutting.marker_minutes * minute,
        lay=cutting.lay_minutes * minute,
        ply=cutting.ply_minutes * minute,
        ply_mm=cutting.spread_minutes * minute / 1000,
        cut_mm=cutting.cut_minutes * minute / 1000,
        end_loss=2 * lot.cloth.end_allowance,
    )


def _minute(order: Order) -> float:
    """What a minute of work costs; nothing where no pay is given."""
    rate = order.pricing.rate
    return 0.0 if rate is None else float(rate.amount) / rate.size * 100 / order.pricing.efficiency


def _price_of(cloth: RunFabric, length: float) -> float:
    cost = cloth.cost(length)
    if cost is None:
        raise JobError(f"[[fabric]] '{cloth.name}' has no price: add a line such as price = \"16.50 / yd\"")
    return float(cost) / length


def plan_lot(order: Order, garments: Garments, lot: Lot, cut: Kinds, lay: LayMarkers, effort: float) -> LotPlan:
    """Plan a lot: lengths of markers estimated, the lays chosen, their markers laid for real, and again until stable.

    Parameters
    ----------
    cut
        Garments that another part is cut for already, by colour and size.
    lay
        Lays markers; gives None for those that an interrupt came before.
    effort
        For each lay plan, in the units of `plan_lays`.

    Raises
    ------
    LayPlanError
        If no plan gives the order.
    KeyboardInterrupt
        If it was cut short.
    """
    wanted, rules = wanted_of(order, garments, lot, cut), rules_of(order, lot)
    areas = [lot.area(size) for size in lot.pieces]
    width = lot.problem(tuple(int(i == 0) for i in range(len(areas)))).cloth_width
    costs = costs_of(order, lot, _expected(wanted, areas, width))
    markers: dict[Mix, Marker] = {}

    def lay_for_real(mixes: Sequence[Mix]) -> dict[Mix, float]:
        todo = [mix for mix in mixes if mix not in markers]
        for mix, marker in zip(todo, lay([lot.problem(mix) for mix in todo]), strict=True):
            if marker is None:
                raise KeyboardInterrupt
            lot.verify(marker, mix)
            markers[mix] = marker
        return {mix: markers[mix].length for mix in mixes}

    def estimate(known: Mapping[Mix, float]) -> Callable[[Mix], float]:
        return estimate_lengths(known, areas=areas, width=width)

    def known() -> dict[Mix, float]:
        return {mix: marker.length for mix, marker in markers.items()}

    steady = plan_until_stable(wanted, rules, costs, estimate, lay_for_real, effort=effort)
    alone = _as_laid(plan_singly(wanted, costs, estimate(known())), costs, lay_for_real)
    one_size = plan_one_size(wanted, rules, costs, estimate(known()), effort=effort)
    one_size, rounds = _as_laid(one_size, costs, lay_for_real), steady.rounds
    if one_size.cost < steady.plan.cost:  # its markers came out shorter than they were estimated
        steady = plan_until_stable(wanted, rules, costs, estimate, lay_for_real, effort=effort, known=known())
        rounds += steady.rounds
    check_plan(steady.plan, rules, end_loss=costs.end_loss)
    found = LotPlan(lot, wanted, costs, steady.plan, alone, one_size, markers, rounds, steady.stable)
    return replace(found, rolls={key: _rolls(found, key) for key, cloth in lot.cloths.items() if cloth.rolls})


def _rolls(plan: LotPlan, key: str) -> RollPlan:
    """Which ply of a cloth is cut from which roll; plies are spliced where the cloth has an allowance for that."""
    cloth = plan.lot.cloths[key]
    try:
        return assign_rolls(plan.plies(key), cloth.rolls, splice=cloth.splice or None)
    except LayPlanError as error:
        raise LayPlanError(f"'{cloth.name}': {error}") from error


def _as_laid(plan: LayPlan, costs: LayCosts, lay: Callable[[Sequence[Mix]], Mapping[Mix, float]]) -> LayPlan:
    """A plan to compare with, its markers laid for real."""
    lengths = lay(list(plan.markers))
    lays = tuple(replace(one, length=lengths[one.mix]) for one in plan.lays)
    return replace(plan, lays=lays, cost=price_lays(lays, costs))


def _expected(wanted: CutOrder, areas: Sequence[float], width: float) -> dict[str, float]:
    """Length of each cloth that an order may take, mm."""
    return {
        key: max(1.0, sum(wanted.least[key, size] * area for size, area in zip(wanted.sizes, areas, strict=True)))
        / (width * USUAL_DENSITY)
        for key in wanted.colours
    }
