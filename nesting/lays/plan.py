"""Lay plans: which garments share a marker, and how many plies of each colour lie under it, at the least cost.

Cloth, labour and markers are weighed against one another: two people with shears get few lays that waste little, a
cutting room with a straight knife gets many plies under long markers. The plan is the best of all mixes that
table and blade allow, or the best found, with what no plan undercuts.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

import numpy as np

from nesting.errors import LayPlanError
from nesting.lays.fewest import fewest_markers
from nesting.lays.freed import free_markers
from nesting.lays.lay import Lay, price_lays
from nesting.lays.mixes import list_mixes, singles
from nesting.lays.model import MixChoice, PliesFound, PlyProgram, decide, relax
from nesting.lays.order import LayCosts, LayRules, Lengths, Mix, StyleOrder
from nesting.lays.ply_steps import is_tall, lays_of, program_of, spread, steps_of
from nesting.steps import Stop, never

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = [
    "Lay",
    "LayCosts",
    "LayPlan",
    "LayRules",
    "StyleOrder",
    "plan_lays",
    "plan_one_size",
    "plan_singly",
    "price_lays",
]

EFFORT = 10.0
"""How long to look for a plan, in units of 1 to 4 seconds on a common machine."""
MOST_CHOICES = 600
"""Mixes that are weighed against one another at the most: of more, those that cost least beside the bound."""
FEWEST_SHARE = 0.15
"""Share of the effort that goes into the fewest markers, for each number of them."""
ALONE_SHARE = 0.1
"""Share of the effort that goes into markers of one size each, to begin from."""
DECIDE_SHARE, FREED_SHARE = 0.6, 3.0
"""Shares of the effort that go into all markers at once, and into some taken out of the plan and decided on anew."""
FINE = 10.0
"""What a lay of too few plies costs where there must be some, in markers, lays and plies set up for themselves."""
PROVED = 1e-6
"""Share of the cost by which a bound may be lower and still prove it."""


@dataclass(frozen=True)
class LayPlan:
    """Lays that together give an order.

    Parameters
    ----------
    order
        What was asked for.
    lays
        Those of the largest markers first.
    cost, bound
        What the plan costs, and what no plan of the mixes looked at undercuts; nor does cutting nothing, where that
        is allowed.
    mixes
        How many mixes were looked at.
    complete
        Whether those are all that table and blade allow, or that lengths were given for.
    low
        Why some lays have fewer plies than asked for: it is "proved" that some must, or no plan was "found" without.
        Empty where none has.
    """

    order: StyleOrder
    lays: tuple[Lay, ...]
    cost: float
    bound: float
    mixes: int
    complete: bool = True
    low: Literal["", "proved", "found"] = ""

    @property
    def optimal(self) -> bool:
        """Whether no plan of the mixes looked at costs less."""
        return self.cost - self.bound <= PROVED * self.cost

    @property
    def gap(self) -> float:
        """By how much a plan might be cheaper at the most, as a share of this one's cost."""
        return 0.0 if self.optimal else (self.cost - self.bound) / self.cost

    @property
    def markers(self) -> dict[Mix, float]:
        """The different mixes, with their lengths."""
        return {lay.mix: lay.length for lay in self.lays}

    def cloth(self, colour: str, end_loss: float) -> float:
        """Cloth of a colour that is spread, mm."""
        return sum(lay.plies.get(colour, 0) * (lay.length + end_loss) for lay in self.lays)

    def __repr__(self) -> str:
        told = "optimal" if self.optimal else f"at most {self.gap:.1%} over the best cost"
        return f"<LayPlan: {len(self.lays)} lays, {len(self.markers)} markers, {self.cost:.2f}, {told}>"


def plan_lays(
    order: StyleOrder,
    rules: LayRules,
    costs: LayCosts,
    lengths: Lengths,
    *,
    effort: float = EFFORT,
    start: LayPlan | None = None,
    stop: Stop = never,
) -> LayPlan:
    """The lays that give an order at the least cost.

    Parameters
    ----------
    order, rules, costs
        What is wanted, what can be done, what it costs.
    lengths
        Marker lengths by mix, mm.
    effort
        How long to look, in units of 1 to 4 seconds.
    start
        A plan to begin from, where there is one.
    stop
        Asked now and then whether to end early: the best plan found by then is the answer.

    Raises
    ------
    LayPlanError
        If nothing gives the order.
    """
    mixes, complete = list_mixes(order, rules, lengths, costs.end_loss)
    program = program_of(order, rules, costs, mixes)
    _require_steps(order, rules)
    if not program.choices:
        if any(order.least.values()):
            raise LayPlanError(_why_nothing(rules))
        nothing = price_lays((), costs, order)
        return LayPlan(order, (), nothing, nothing, 0, complete)
    fewest, begun = fewest_markers(program, effort * FEWEST_SHARE, stop)
    program = replace(program, fewest=fewest)
    relaxed = relax(program)
    if relaxed is None:
        raise LayPlanError(_why_nothing(rules))
    starts = [
        begun or {},
        _alone(program, effort * ALONE_SHARE),
        {} if start is None else steps_of(start.lays, start.order, rules),
    ]
    first = _cheapest(program, starts, order, costs)
    bound, kept = relaxed[0], program
    if len(program.choices) > MOST_CHOICES:
        kept = replace(program, choices=_nearest(program, relaxed[1], first))
    found = _decided(kept, first, effort, stop)
    low: Literal["", "proved", "found"] = ""
    if found.steps is None and program.low > 1:
        low = "proved" if found.infeasible and kept is program and complete else "found"
        kept = replace(kept, fine=FINE * (costs.marker + costs.lay + max(max(choice.ply) for choice in kept.choices)))
        found = replace(_decided(kept, _cheapest(kept, starts, order, costs), effort, stop), bound=bound)
    if found.steps is None:
        raise LayPlanError(_why_nothing(rules, None if found.infeasible and kept is program else effort))
    if kept is program and not low:
        bound = max(bound, found.bound)
    lays = lays_of(kept, found.steps, order)
    if price_lays(lays, costs, order) > (1 + PROVED) * bound and not low:
        lays = _freed(program, lays, order, rules, costs, effort * FREED_SHARE, stop)
    cost = price_lays(lays, costs, order)
    if not any(order.least.values()):  # then to cut nothing is a plan as well
        bound, low = min(bound, price_lays((), costs, order)), "found" if low else ""
    low = low if any(lay.height < rules.least_plies for lay in lays) else ""
    return LayPlan(order, lays, cost, min(bound, cost), len(program.choices), complete, low)


def plan_one_size(
    order: StyleOrder,
    rules: LayRules,
    costs: LayCosts,
    lengths: Lengths,
    *,
    effort: float = EFFORT,
    stop: Stop = never,
) -> LayPlan:
    """The best plan of markers that hold one size each, to compare with."""
    if isinstance(lengths, Mapping):
        known = {m: lengths[m] for m in lengths if _is_one_size(m)}
        return plan_lays(order, rules, costs, known, effort=effort, stop=stop)
    most = min(rules.most_garments, max(order.most.values()))
    known = {
        mix: length
        for single in singles(order)
        for times in range(1, most + 1)
        for mix in [tuple(times * n for n in single)]
        if (length := lengths(mix)) is not None
    }
    return plan_lays(order, rules, costs, known, effort=effort, stop=stop)


def plan_singly(order: StyleOrder, costs: LayCosts, lengths: Lengths) -> LayPlan:
    """Each garment laid, spread and cut for itself, in a single ply, to compare with."""
    lays = []
    for single in singles(order):
        size = order.sizes[single.index(1)]
        length = lengths.get(single) if isinstance(lengths, Mapping) else lengths(single)
        if length is None:
            raise LayPlanError(f"the length of a marker with one '{size}' alone is not known: lay it")
        for colour in order.colours:
            lays += [Lay(single, {colour: 1}, length)] * order.asked_of((colour, size))
    cost = price_lays(lays, costs, order)
    return LayPlan(order, tuple(lays), cost, 0.0, len(singles(order)))


def _decided(program: PlyProgram, first: Mapping[Mix, list[int]] | None, effort: float, stop: Stop) -> PliesFound:
    """Plies found from a plan to begin from, if there is one: or that one, where it was cut short before it saw it."""
    begun = None if first is None else spread(program, first)
    found = decide(program, effort * DECIDE_SHARE, begun, stop)
    return found if found.steps is not None or begun is None else replace(found, steps=tuple(map(tuple, begun)))


def _is_one_size(mix: Mix) -> bool:
    return sum(map(bool, mix)) == 1


def _require_steps(order: StyleOrder, rules: LayRules) -> None:
    """Make sure that plies laid by steps can give each number."""
    step = rules.ply_step
    for cell in order.cells:
        least, most = order.range_of(cell)
        if -(-least // step) * step > most:
            raise LayPlanError(
                f"'{cell[1]}' in '{cell[0]}' is to be cut {least} to {most} times, but plies laid {step} at a time "
                f"give multiples of {step}: allow one more or one fewer, or lay the plies all face up"
            )


def _why_nothing(rules: LayRules, effort: float | None = None) -> str:
    if effort is not None:
        return f"no plan was found with an effort of {effort:g}: allow more effort, or more garments over the order"
    return (
        "with these markers, no lays give every size and colour between its least and most,"
        f" in plies {rules.ply_step} at a time: allow more over the order, or lay more mixes"
    )


def _nearest(program: PlyProgram, beside: np.ndarray, first: Mapping[Mix, list[int]] | None) -> tuple[MixChoice, ...]:
    """Mixes that cost least beside the bound, those to begin from, and those of one size, which give any order."""
    ranked = set(np.argsort(beside, kind="stable")[:MOST_CHOICES].tolist())
    return tuple(
        choice
        for index, choice in enumerate(program.choices)
        if index in ranked or _is_one_size(choice.mix) or (first and choice.mix in first)
    )


def _alone(program: PlyProgram, effort: float) -> dict[Mix, list[int]]:
    """Steps of plies by mix and colour, of a plan of markers that hold one size each; empty where there is none."""
    alone = tuple(choice for choice in program.choices if _is_one_size(choice.mix))
    steps = decide(replace(program, choices=alone, fewest=1), effort).steps if alone else None
    return {choice.mix: list(own) for choice, own in zip(alone, steps or (), strict=False) if any(own)}


def _cheapest(
    program: PlyProgram, starts: Sequence[Mapping[Mix, list[int]]], order: StyleOrder, costs: LayCosts
) -> Mapping[Mix, list[int]] | None:
    """The cheapest of some plans to begin from, of those whose mixes may all be used."""
    mixes = {choice.mix for choice in program.choices}
    priced = [
        (price_lays(lays_of(program, spread(program, steps), order), costs, order), number)
        for number, steps in enumerate(starts)
        if steps and steps.keys() <= mixes and (program.fine or all(is_tall(program, sum(n)) for n in steps.values()))
    ]
    return starts[min(priced)[1]] if priced else None


def _freed(
    program: PlyProgram,
    lays: tuple[Lay, ...],
    order: StyleOrder,
    rules: LayRules,
    costs: LayCosts,
    effort: float,
    stop: Stop,
) -> tuple[Lay, ...]:
    """The lays, or cheaper ones found by taking some markers out at a time."""

    def written(steps: Mapping[Mix, Sequence[int]]) -> tuple[Lay, ...]:
        return lays_of(program, spread(program, steps), order)

    start = steps_of(lays, order, rules)
    best = free_markers(program, start, lambda steps: price_lays(written(steps), costs, order), effort, stop)
    return written(best)
