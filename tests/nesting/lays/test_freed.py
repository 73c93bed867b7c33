"""Markers taken out of a plan and decided on anew: never dearer, and as good as where all is decided at once."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nesting.lays import plan as planning
from nesting.lays.count import check_plan
from nesting.lays.fewest import MarkerModel
from nesting.lays.freed import CostRules, free_markers, weigh
from nesting.lays.lay import price_lays
from nesting.lays.mixes import list_mixes
from nesting.lays.order import LayCosts, LayRules, Mix, StyleOrder
from nesting.lays.ply_steps import lays_of, program_of, spread, steps_of

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    import pytest

NUMBERS = {"rust": (2, 5, 9, 8, 4, 1), "navy": (3, 6, 7, 9, 3, 2)}
RULES = LayRules(longest=6_000, most_plies=10, most_garments=4)
COSTS = LayCosts(dict.fromkeys(NUMBERS, 0.01), marker=15, lay=10, ply=0.5, garment=4, end_loss=40)


def length(mix: Mix) -> float:
    """Marker length of a mix, mm: made up."""
    return sum(number * (1_100 + 40 * size) for size, number in enumerate(mix)) * (1 + 0.16 / sum(mix))


def order() -> StyleOrder:
    """Two colours in six sizes, just as many as ordered."""
    least = {(colour, str(size)): n for colour, own in NUMBERS.items() for size, n in enumerate(own)}
    return StyleOrder(tuple(map(str, range(6))), tuple(NUMBERS), least, least)


def test_one_garment_a_marker_to_few_markers(monkeypatch: pytest.MonkeyPatch) -> None:
    """From a marker for each size: what is found is checked, costs less, and is near what HiGHS proves."""
    asked = order()
    mixes, _ = list_mixes(asked, RULES, length, COSTS.end_loss)
    program = program_of(asked, RULES, COSTS, mixes)
    seen = list[float]()

    def price(steps: Mapping[Mix, Sequence[int]]) -> float:
        seen.append(price_lays(lays_of(program, spread(program, steps), asked), COSTS, asked))
        return seen[-1]

    alone = {tuple(int(at == size) for at in range(6)): [own[size] for own in NUMBERS.values()] for size in range(6)}
    best = free_markers(program, alone, price, 3.0)
    lays = lays_of(program, spread(program, best), asked)
    cost = price_lays(lays, COSTS, asked)
    monkeypatch.setattr(planning, "FREED_SHARE", 0.0)
    plain = planning.plan_lays(asked, RULES, COSTS, length, effort=3.0)
    check_plan(planning.LayPlan(asked, lays, cost, 0.0, 0), RULES, end_loss=COSTS.end_loss)
    assert cost == min(seen) < 0.9 * seen[0] and cost >= plain.bound
    assert cost <= 1.02 * plain.cost
    assert steps_of(lays, asked, RULES) == {mix: list(steps) for mix, steps in best.items() if any(steps)}
    assert free_markers(program, alone, price, 3.0, stop=lambda: True) == alone


def test_mixes_that_are_kept() -> None:
    """Plies alone are decided on of mixes that are kept: they give what is ordered, the cheaper ones first."""
    six = dict.fromkeys((("rust", "S"), ("rust", "M")), 6)
    asked = StyleOrder(("S", "M"), ("rust",), six, six)
    mixes, _ = list_mixes(asked, RULES, length, COSTS.end_loss)
    program = program_of(asked, RULES, COSTS, mixes)
    known = {choice.mix: choice for choice in program.choices}
    assert MarkerModel(program, 0, [known[1, 1]]).solve(1.0)[0] == {(1, 1): [6]}
    model = MarkerModel(program, 0, [known[1, 1], known[2, 2], known[1, 0]])
    weigh(model, CostRules.of(program))
    assert model.solve(1.0)[0] == {(2, 2): [3]}
    assert MarkerModel(program, 0, [known[1, 0]]).solve(1.0) == (None, True)
