"""Some markers of a plan taken out, and all that they gave decided on anew, with as many markers or one fewer.

What HiGHS finds for hundreds of garments in many sizes has markers of a few plies left over. To free some markers at a
time makes small programs, in which CP-SAT decides on mixes and plies together (large neighbourhood search, Shaw, 1998,
from memory). It weighs them by a rule of what a lay and a ply cost; what comes of it is priced as it is.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, TypeAlias

import numpy as np

from nesting.lays.fewest import MarkerModel
from nesting.steps import Stop, never

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from numpy.typing import NDArray
    from ortools.sat.python import cp_model

    from nesting.lays.model import CellRange, MixChoice, PlyProgram
    from nesting.lays.order import Mix

FREED = (3, 4, 4, 5)
"""Markers that are taken out at a time, one of these numbers."""
LOW_FIRST = 2.0
"""How much rather markers of few plies are taken out: by this power of their plies. Those cost most for what they give.
On three orders of 300 garments in 8 sizes an effort of 12 ended 5.0, 6.5 and 3.4 % over the bound, for 6.4, 6.7 and
3.5 % with all alike."""
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
    rng, known, spent = random.Random(1), {choice.mix for choice in program.choices}, 0.0
    best = now = {mix: list(steps) for mix, steps in start.items()}
    least = price(best)
    margin = WORSE * (program.marker + min(choice.lay for choice in program.choices))
    while spent < effort and len(now) > 1 and not stop():
        freed = _taken_out(rng, now)
        kept = {mix: steps for mix, steps in now.items() if mix not in freed}
        spent, rest = spent + OVERHEAD, _left(program, kept)
        if not rest.choices:
            continue
        model = MarkerModel(rest, len(freed) - rng.randrange(2))
        _weigh(model, rest)
        found, _ = model.solve(EACH)
        spent += model.spent
        if not found or not found.keys() <= known:
            continue
        plan = _together(kept, found)
        cost = price(plan)
        if cost <= least + margin:
            now = plan
        if cost < least:
            best, least = plan, cost
    return best


def _taken_out(rng: random.Random, plan: PlySteps) -> list[Mix]:
    """Some markers at random, rather those of few plies."""
    times = {mix: rng.expovariate((1 + sum(plan[mix])) ** -LOW_FIRST) for mix in sorted(plan)}
    return sorted(times, key=times.__getitem__)[: rng.choice(FREED)]


def _together(one: PlySteps, other: PlySteps) -> dict[Mix, list[int]]:
    plan = {mix: list(steps) for mix, steps in one.items()}
    for mix, steps in other.items():
        plan[mix] = [here + more for here, more in zip(plan.get(mix, [0] * len(steps)), steps, strict=True)]
    return plan


def _left(program: PlyProgram, kept: PlySteps) -> PlyProgram:
    """What is still to be cut beside the markers that are kept, and the mixes that some of it fits."""
    cells = tuple(
        tuple(
            _less(cell, program.step * sum(mix[size] * steps[colour] for mix, steps in kept.items()))
            for size, cell in enumerate(own)
        )
        for colour, own in enumerate(program.cells)
    )
    left = (replace(choice, most=_most(choice, cells, program.step)) for choice in program.choices)
    return replace(program, choices=tuple(choice for choice in left if any(choice.most)), cells=cells)


def _less(cell: CellRange, cut: int) -> CellRange:
    """What is wanted of a colour and size once some are cut."""
    return cell._replace(least=max(0, cell.least - cut), most=cell.most - cut, asked=cell.asked - cut)


def _most(choice: MixChoice, cells: Sequence[Sequence[CellRange]], step: int) -> tuple[int, ...]:
    return tuple(
        min(cell.most // (number * step) for number, cell in zip(choice.mix, own, strict=True) if number)
        for own in cells
    )


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


def _weigh(model: MarkerModel, program: PlyProgram) -> None:
    """Ask for the plan that costs least by rules of lays and plies."""
    plies = [
        _Rule.through(program.choices, [choice.ply[colour] for choice in program.choices])
        for colour in range(len(program.cells))
    ]
    lay = _Rule.through(program.choices, [choice.lay for choice in program.choices])
    dearest = max(program.marker, *(choice.lay + max(choice.ply) for choice in program.choices))
    terms: list[tuple[float, cp_model.IntVar]] = []
    for mix, steps, height in zip(model.mixes, model.steps, model.heights, strict=True):
        made, lays = model.add_lays(height)
        terms += [(program.marker, made), (lay.itself, lays)]
        terms += zip(lay.garments.tolist(), mix, strict=True)
        terms += [(rule.itself, number) for rule, number in zip(plies, steps, strict=True)]
    for size, cut in enumerate(model.cut):
        for colour, given in enumerate(cut):
            terms += [(float(plies[colour].garments[size]), number) for number in given]
            terms += model.add_beyond(given, program.cells[colour][size])
    model.model.minimize(sum(round(cost * PARTS / dearest) * number for cost, number in terms))
