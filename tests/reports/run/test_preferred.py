"""Fewest lays, or low ones, before cost: small orders whose best plans are found by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nesting.lays.count import check_plan, count_cut
from nesting.lays.order import LayCosts, LayRules, StyleOrder
from nesting.lays.stable import StablePlan, plan_until_stable
from reports.run.plain import run_to_plain
from reports.run.preferred import Preferred, preferred
from reports.run.words import lot_lines, preferred_words
from tests.make.orders import planned

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nesting.lays.order import Mix
    from reports.run.preferred import Prefer


def long(mix: Mix) -> float:
    """A metre a garment, and 50 mm for each that lies beside another: alone they take least."""
    return 1000.0 * sum(mix) + 50.0 * (sum(mix) - 1)


def by(prefer: Prefer, asked: dict[str, int], most_plies: int) -> tuple[StablePlan, Preferred]:
    """The plan of some garments of one colour; a metre of cloth costs 1, two garments go on a marker."""
    cells = {("rust", size): number for size, number in asked.items()}
    order = StyleOrder(tuple(asked), ("rust",), cells, cells, cells)
    rules, costs = LayRules(10_000.0, most_plies, 2), LayCosts({"rust": 0.001}, lay=0.01)

    def steadily(order: StyleOrder, rules: LayRules, costs: LayCosts) -> StablePlan:
        def lay(mixes: Sequence[Mix]) -> dict[Mix, float]:
            return {mix: long(mix) for mix in mixes}

        return plan_until_stable(order, rules, costs, lambda known: long, lay, effort=1.0)

    found, told = preferred(steadily(order, rules, costs), prefer, rules, costs, steadily)
    check_plan(found.plan, rules, end_loss=0.0)
    assert count_cut(found.plan) == cells
    assert found.plan.bound <= told.cheapest.cost <= found.plan.cost
    return found, told


def test_fewest_lays() -> None:
    """Three of S and two of L, two plies at most: by cost three lays of one garment; by lays two, S with L and S alone.

    Two plies with a garment beside another take 2 × 50 mm more; a lay less saves 0.01.
    """
    found, told = by("fewest lays", {"S": 3, "L": 2}, 2)
    assert (told.cheapest.lays, told.chosen.lays) == (3, 2) and told.proved
    assert {lay.mix: lay.height for lay in found.plan.lays} == {(1, 1): 2, (1, 0): 1}
    assert told.chosen.cost - told.cheapest.cost == pytest.approx(2 * 0.05 - 0.01)
    words = preferred_words(told, "$")
    told_so = "Preferred: fewest lays. 1 lay fewer, $0.09 dearer than the plan by cost; "
    assert words == f"{told_so}with these mixes fewer cannot do: proved."


def test_low_lays() -> None:
    """Four of S: by cost four plies of one garment; in one lay as well, two plies of two garments are half as high."""
    found, told = by("low lays", {"S": 4}, 4)
    assert (told.cheapest.lays, told.cheapest.height, told.chosen.lays) == (1, 4, 1)
    assert [(lay.mix, lay.height) for lay in found.plan.lays] == [((2,), 2)]
    assert preferred_words(told, "$").startswith("Preferred: low lays. 2 plies fewer in the highest lay, $0.10 dearer")


def test_an_order_says_what_it_prefers() -> None:
    """The run of an order that prefers fewest lays has no more of them, and says what that costs."""
    run = planned((r'^# prefer = "cost" ', 'prefer = "fewest lays" '))
    (plan,) = run.lots
    assert plan.preferred is not None
    assert len(plan.plan.lays) == plan.preferred.chosen.lays <= plan.preferred.cheapest.lays
    assert any(line.strip().startswith("Preferred: fewest lays.") for line in lot_lines(run, plan))
    assert run_to_plain(run)["lots"][0]["preferred"]["prefer"] == "fewest lays"
