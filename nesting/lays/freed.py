"""Some markers of a plan taken out, and decided on anew with the plies of all, with as many markers or fewer.

What HiGHS finds for hundreds of garments in many sizes has markers of a few plies left over. The mixes of the others
are kept, so that few products of mixes and plies are left to CP-SAT (large neighbourhood search, Shaw, 1998, from
memory). It weighs new mixes by a rule of what a lay and a ply cost; what comes of it is priced as it is.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

import numpy as np

from nesting.lays.fewest import MarkerModel
from nesting.steps import Stop, never

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from numpy.typing import NDArray
    from ortools.sat.python import cp_model

    from nesting.lays.model import MixChoice, PlyProgram
    from nesting.lays.order import Mix

FREED = (2, 3, 4)
"""Markers that are taken out at a time, one of these numbers, to do with one fewer. With the mixes of all others kept
three orders of 300 garments in 8 sizes ended 3.6, 2.6 and 2.7 % over the bound with an effort of 12, for 5.0, 6.5 and
3.4 % where their plies were kept as well."""
FRUITLESS = 6
"""After so many tries in a row that brought nothing, one more is taken out, and as many may come of them."""
LOW_FIRST = 2.0
"""How much rather markers of few plies are taken out: by this power of their plies. Those cost most for what they give.
"""
EACH = 1.0
"""Effort for each of these programs: 0.5 to 1 second."""
OVERHEAD = 0.1
"""Effort that making each of them counts as."""
WORSE = 0.3
"""What a plan may cost more than the best to go on from it, in markers made and set up."""
PARTS = 1e5
"""Parts of the dearest item in which costs are weighed."""

PlySteps: TypeAlias = "Mapping[Mix, Sequence[int]]"
"""Steps of plies by mix and colour."""


def free_markers(
    program: PlyProgram, start: PlySteps, price: Callable[[PlySteps], float], effort: float, stop: Stop = never
) -> PlySteps:
    """The cheapest plan found from a start, as steps of plies by mix and colour.

    Parameters
    ----------
    program
        What is to be cut, of which mixes.
    start
        A plan that gives it.
    price
        What a plan costs.
    effort
        How long to look, in units of 0.5 to 1 second on a common machine.
    stop
        Asked before each try whether to end early.
    """
    rng, known, spent = random.Random(1), {choice.mix: choice for choice in program.choices}, 0.0
    best = now = {mix: list(steps) for mix, steps in start.items()}
    least = price(best)
    margin = WORSE * (program.marker + min(choice.lay for choice in program.choices))
    rules, fruitless = CostRules.of(program), 0
    while spent < effort and len(now) > 1 and not stop():
        wide = fruitless >= FRUITLESS
        freed = _taken_out(rng, now, wide)
        kept = [known[mix] for mix in now if mix not in freed]
        model = MarkerModel(program, len(freed) - (rng.randrange(2) if wide else 1), kept)
        weigh(model, rules)
        found, _ = model.solve(EACH * (1 + wide))
        spent, fruitless = spent + OVERHEAD + model.spent, fruitless + 1
        if not found or not found.keys() <= known.keys():
            continue
        cost = price(found)
        if cost <= least + margin:
            now = found
        if cost < least:
            best, least, fruitless = found, cost, 0
    return best


def _taken_out(rng: random.Random, plan: PlySteps, more: bool) -> list[Mix]:
    """Some markers at random, rather those of few plies."""
    times = {mix: rng.expovariate((1 + sum(plan[mix])) ** -LOW_FIRST) for mix in sorted(plan)}
    return sorted(times, key=times.__getitem__)[: rng.choice(FREED) + more]


@dataclass(frozen=True)
class _Rule:
    """What something costs for a mix: so much for itself, and so much for each garment by size."""

    itself: float
    garments: NDArray[np.float64]

    @classmethod
    def through(cls, choices: Sequence[MixChoice], costs: Sequence[float]) -> _Rule:
        """Least squares, in which mixes of more garments count for more."""
        counts = np.array([[1, *choice.mix] for choice in choices], dtype=float)
        weights = counts[:, 1:].sum(axis=1)
        fitted, *_ = np.linalg.lstsq(counts * weights[:, None], np.array(costs) * weights, rcond=None)
        return cls(float(fitted[0]), fitted[1:])


@dataclass(frozen=True)
class CostRules:
    """What lays and steps of plies cost, by colour, and the dearest item."""

    lay: _Rule
    plies: tuple[_Rule, ...]
    dearest: float

    @classmethod
    def of(cls, program: PlyProgram) -> CostRules:
        """The rules of all mixes that may be used."""
        choices = program.choices
        plies = zip(*(choice.ply for choice in choices), strict=True)
        return cls(
            _Rule.through(choices, [choice.lay for choice in choices]),
            tuple(_Rule.through(choices, costs) for costs in plies),
            max(program.marker, *(choice.lay + max(choice.ply) for choice in choices)),
        )


def weigh(model: MarkerModel, rules: CostRules) -> None:
    """Ask for the plan that costs least by rules of lays and plies; markers that are kept cost what they do."""
    program, lay = model.program, rules.lay
    terms: list[tuple[float, cp_model.LinearExprT]] = []
    first = len(model.given)
    for choice, steps, height in zip(model.given, model.steps, model.heights, strict=False):
        made, lays = model.add_lays(height)
        terms += [(program.marker, made), (choice.lay, lays), *zip(choice.ply, steps, strict=True)]
    for mix, steps, height in zip(model.mixes, model.steps[first:], model.heights[first:], strict=True):
        made, lays = model.add_lays(height)
        terms += [(program.marker, made), (lay.itself, lays)]
        terms += zip(lay.garments.tolist(), mix, strict=True)
        terms += [(rule.itself, number) for rule, number in zip(rules.plies, steps, strict=True)]
    for size, cut in enumerate(model.cut):
        for colour, given in enumerate(cut):
            terms += [(float(rules.plies[colour].garments[size]), number) for number in given[first:]]
            terms += model.add_beyond(given, program.cells[colour][size])
    model.model.minimize(sum(round(cost * PARTS / rules.dearest) * number for cost, number in terms))
