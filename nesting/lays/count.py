"""The second opinion on a lay plan: what is cut, counted lay by lay, as from the tickets."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from nesting.errors import CheckError

if TYPE_CHECKING:
    from nesting.lays.order import LayRules
    from nesting.lays.plan import LayPlan


def count_cut(plan: LayPlan) -> dict[tuple[str, str], int]:
    """Garments that are cut, by (colour, size)."""
    cut: Counter[tuple[str, str]] = Counter()
    for lay in plan.lays:
        for place, garments in enumerate(lay.mix):
            for colour in lay.plies:
                for _ in range(lay.plies[colour]):
                    cut[colour, plan.order.sizes[place]] += garments
    return {cell: number for cell, number in cut.items() if number}


def check_plan(plan: LayPlan, rules: LayRules, *, end_loss: float) -> None:
    """Make sure that a plan gives its order, and keeps to what table and blade allow.

    Raises
    ------
    CheckError
        At the first thing that is wrong.
    """
    for number, lay in enumerate(plan.lays, start=1):
        heights = list(lay.plies.values())
        if not heights or min(heights) < 1 or any(height % rules.ply_step for height in heights):
            raise CheckError(f"lay {number} has plies that are not laid {rules.ply_step} by {rules.ply_step}")
        if sum(heights) > rules.most_plies or sum(lay.mix) > rules.most_garments:
            raise CheckError(f"lay {number} has {sum(heights)} plies of {sum(lay.mix)} garments, more than allowed")
        if sum(heights) < rules.least_plies and not plan.low:
            raise CheckError(f"lay {number} has {sum(heights)} plies, and {rules.least_plies} are the least")
        if lay.length + end_loss > rules.longest + 0.01:
            raise CheckError(f"lay {number} is longer than the table")
    cut, order = count_cut(plan), plan.order
    for cell in {*cut, *order.least, *order.most}:
        if not order.least.get(cell, 0) <= cut.get(cell, 0) <= order.most.get(cell, 0):
            asked = f"{order.least.get(cell, 0)} to {order.most.get(cell, 0)}"
            raise CheckError(f"{cut.get(cell, 0)} of '{cell[1]}' in '{cell[0]}' are cut; the order asks for {asked}")
