"""Plans as the solvers take them, in steps of plies by mix and colour, and those back to lays."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nesting.lays.lay import Lay
from nesting.lays.model import CellRange, MixChoice, PlyProgram

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nesting.lays.order import LayCosts, LayRules, Mix, StyleOrder


def program_of(order: StyleOrder, rules: LayRules, costs: LayCosts, mixes: Mapping[Mix, float]) -> PlyProgram:
    """What the solvers decide on: plies in steps, each mix with what it costs and the most that can be used of it."""
    step, choices = rules.ply_step, []
    wanted = [order.most_of(colour) for colour in order.colours]
    for mix, length in mixes.items():
        most = tuple(
            min(most // (number * step) for number, most in zip(mix, wants, strict=True) if number) for wants in wanted
        )
        if any(most):
            ply = tuple(
                step * costs.of_ply(colour, length) if number else 0.0
                for colour, number in zip(order.colours, most, strict=True)
            )
            choices.append(MixChoice(mix, length, ply, costs.of_lay(mix, length), most))
    cells = tuple(
        tuple(
            CellRange(
                *order.range_of(cell), order.asked_of(cell), costs.over.get(cell, 0.0), costs.under.get(cell, 0.0)
            )
            for cell in ((colour, size) for size in order.sizes)
        )
        for colour in order.colours
    )
    low = -(-rules.least_plies // step)
    return PlyProgram(tuple(choices), cells, step, rules.most_plies // step, costs.marker, low=low)


def steps_of(lays: Sequence[Lay], order: StyleOrder, rules: LayRules) -> dict[Mix, list[int]]:
    """Steps of plies by mix and colour."""
    steps: dict[Mix, list[int]] = {}
    for lay in lays:
        own = steps.setdefault(lay.mix, [0] * len(order.colours))
        for colour, number in lay.plies.items():
            own[order.colours.index(colour)] += number // rules.ply_step
    return steps


def spread(program: PlyProgram, steps: Mapping[Mix, Sequence[int]]) -> list[list[int]]:
    """Steps by choice and colour, from those by mix."""
    return [list(steps.get(choice.mix, [0] * len(choice.ply))) for choice in program.choices]


def is_tall(program: PlyProgram, steps: int) -> bool:
    """Whether so many steps of plies under one marker come in lays that are all high enough."""
    return program.low * math.ceil(steps / program.height) <= steps


def lays_of(program: PlyProgram, steps: Sequence[Sequence[int]], order: StyleOrder) -> tuple[Lay, ...]:
    """Plies of each mix, colour after colour, in lays as high as they may be."""
    lays = []
    for choice, numbers in zip(program.choices, steps, strict=True):
        left = dict(zip(order.colours, numbers, strict=True))
        low = program.low if is_tall(program, sum(numbers)) else 1
        for after in reversed(range(math.ceil(sum(numbers) / program.height))):
            room, plies = min(program.height, sum(left.values()) - low * after), {}
            for colour in order.colours:
                taken = min(room, left[colour])
                room, left[colour] = room - taken, left[colour] - taken
                if taken:
                    plies[colour] = taken * program.step
            lays.append(Lay(choice.mix, plies, choice.length))
    return tuple(sorted(lays, key=lambda lay: (-sum(lay.mix), -lay.height, [-n for n in lay.mix])))
