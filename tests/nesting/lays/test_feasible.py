"""What can be cut is never refused: small orders by brute force."""

from __future__ import annotations

import random
from itertools import product

import pytest

from nesting.errors import LayPlanError
from nesting.lays.count import check_plan
from nesting.lays.order import ColourSize, LayCosts, LayRules, Mix, StyleOrder
from nesting.lays.plan import plan_lays


def _tall_enough(order: StyleOrder, rules: LayRules, mixes: list[Mix]) -> tuple[bool, bool]:
    """Whether any lays give an order, and any with no lay too low: by trying all numbers of plies."""
    step, found = rules.ply_step, (False, False)
    high, low = rules.most_plies // step * step, -(-rules.least_plies // step) * step

    def tried(left: list[Mix], cut: dict[ColourSize, int], *, is_tall: bool) -> None:
        nonlocal found
        if not left:
            if all(order.range_of(cell)[0] <= cut[cell] <= order.range_of(cell)[1] for cell in order.cells):
                found = True, found[1] or is_tall
            return
        mix = left[0]
        most = [
            min((order.range_of((c, s))[1] - cut[c, s]) // n for s, n in zip(order.sizes, mix, strict=True) if n)
            for c in order.colours
        ]
        for plies in product(*(range(0, max(0, top) + 1, step) for top in most)):
            more, total = dict(cut), sum(plies)
            for colour, number in zip(order.colours, plies, strict=True):
                for size, n in zip(order.sizes, mix, strict=True):
                    more[colour, size] += n * number
            fits = not total or any(low * lays <= total <= high * lays for lays in range(1, total + 1))
            tried(left[1:], more, is_tall=is_tall and fits)

    tried(mixes, dict.fromkeys(order.cells, 0), is_tall=True)
    return found


@pytest.mark.parametrize("seed", range(24))
def test_what_can_be_cut_is_never_refused(seed: int) -> None:
    """Small orders by brute force: none over or under, colours that want nothing, plies by twos, a least number."""
    rng = random.Random(seed)
    sizes, colours = tuple("abc"[: rng.choice([1, 2, 2, 3])]), tuple("xy"[: rng.choice([1, 2])])
    wanted = {(c, s): rng.choice([0, 1, 2, 3, 4]) * (c == "x" or seed % 3 > 0) for c in colours for s in sizes}
    wanted["x", "a"] += not any(wanted.values())
    under, over, most = rng.choice([0, 0, 1]), rng.choice([0, 0, 1, 2]), rng.choice([2, 3, 4])
    least = {cell: max(0, number - under) for cell, number in wanted.items()}
    order = StyleOrder(sizes, colours, least, {cell: n + over * bool(n) for cell, n in wanted.items()}, wanted)
    rules = LayRules(5_000, most, rng.choice([1, 2, 3]), rng.choice([1, 1, 2]), min(most, rng.choice([1, 2, 3])))
    mixes = [m for m in product(range(rules.most_garments + 1), repeat=len(sizes)) if 0 < sum(m) <= rules.most_garments]
    can, can_tall = _tall_enough(order, rules, mixes)
    costs = LayCosts(dict.fromkeys(colours, 0.01), marker=5, lay=5, ply=0.5)
    if not can:
        with pytest.raises(LayPlanError):
            plan_lays(order, rules, costs, lambda mix: 1_000.0 * sum(mix), effort=0.5)
        return
    plan = plan_lays(order, rules, costs, lambda mix: 1_000.0 * sum(mix), effort=0.5)
    check_plan(plan, rules, end_loss=0.0)
    assert can_tall is (plan.low == "") and plan.low in ("", "proved")
    assert can_tall or any(lay.height < rules.least_plies for lay in plan.lays)
