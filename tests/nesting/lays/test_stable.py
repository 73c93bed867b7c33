"""Plans whose markers are laid for real: estimates, and rounds until nothing changes."""

from __future__ import annotations

from functools import partial

import pytest

from nesting.errors import LayPlanError
from nesting.lays.count import check_plan
from nesting.lays.estimate import estimate_lengths
from nesting.lays.order import LayCosts, LayRules, Mix, StyleOrder
from nesting.lays.plan import Lay, LayPlan, plan_lays
from nesting.lays.stable import _with_true_lengths, plan_until_stable

AREAS = (1.0e6, 1.1e6, 1.2e6)
WIDTH = 1_450.0
GUESS = partial(estimate_lengths, areas=AREAS, width=WIDTH)
ORDER = StyleOrder(("S", "M", "L"), ("rust",), {("rust", size): n for size, n in (("S", 5), ("M", 8), ("L", 4))}, {
    ("rust", size): n for size, n in (("S", 5), ("M", 8), ("L", 4))
})  # fmt: skip
RULES, COSTS = LayRules(5_000, 10, 4), LayCosts({"rust": 0.012}, marker=10, lay=8, garment=2, end_loss=40)


def true_length(mix: Mix) -> float:
    """What a marker takes in these tests: an uneven rule, so that no estimate is quite right."""
    area = sum(n * each for n, each in zip(mix, AREAS, strict=True))
    return area / WIDTH / (0.83 - 0.07 / sum(mix) + 0.01 * (hash(mix) % 3 - 1))


def test_estimate_of_a_straight_rule() -> None:
    """Lengths of 100 + 700, 800, 900 a garment come back for mixes never seen, to 1 %; known ones are kept."""

    def straight(mix: Mix) -> float:
        return 100 + sum(n * each for n, each in zip(mix, (700, 800, 900), strict=True))

    known: dict[Mix, float] = {
        mix: straight(mix) for mix in ((1, 0, 0), (0, 1, 0), (0, 0, 1), (1, 1, 1), (2, 1, 0), (0, 2, 2), (4, 0, 0))
    }
    guess = estimate_lengths(known, areas=(9e5, 1e6, 1.1e6), width=1_450.0)
    assert all(guess(mix) == length for mix, length in known.items())
    for mix in ((2, 2, 2), (1, 0, 3), (0, 5, 0)):
        assert guess(mix) == pytest.approx(straight(mix), rel=0.01)


def test_estimate_without_a_marker() -> None:
    """With nothing laid, a length is near the area at the usual density, and never under the bare area."""
    guess = GUESS({})
    for mix in ((1, 0, 0), (2, 1, 1)):
        floor = sum(n * each for n, each in zip(mix, AREAS, strict=True)) / WIDTH
        assert floor / 0.8 <= guess(mix) <= 1.12 * floor / 0.8
    assert GUESS({(1, 0, 0): 1.0})((2, 0, 0)) >= 2 * AREAS[0] / WIDTH


def test_a_bound_is_never_above_the_cost() -> None:
    """Markers that come out shorter than they were estimated make a plan cheaper than its bound: that gives way."""
    plan = plan_lays(ORDER, RULES, COSTS, GUESS({}))
    shorter: dict[Mix, float | None] = {lay.mix: lay.length * 0.9 for lay in plan.lays}
    true = _with_true_lengths(plan, shorter, RULES, COSTS)
    assert true is not None and true.bound == true.cost < plan.bound


def test_until_stable() -> None:
    """Every marker of a stable plan was laid, and its lengths and cost are true; planning again changes nothing."""
    laid: list[Mix] = []

    def lay(mixes: list[Mix]) -> dict[Mix, float | None]:
        laid.extend(mixes)
        return {mix: true_length(mix) for mix in mixes}

    found = plan_until_stable(ORDER, RULES, COSTS, GUESS, lay)
    check_plan(found.plan, RULES, end_loss=40)
    assert found.stable and len(laid) == len(set(laid)) == len(found.lengths)
    assert all(lay.length == true_length(lay.mix) for lay in found.plan.lays)
    assert plan_lays(ORDER, RULES, COSTS, GUESS(found.lengths)).cost == pytest.approx(found.plan.cost)


def test_out_of_rounds() -> None:
    """Stopped early, it takes the best plan of what was laid; a marker that came out too long is not in it."""

    def lay(mixes: list[Mix]) -> dict[Mix, float | None]:
        return {mix: None if sum(mix) > 2 else true_length(mix) for mix in mixes}

    found = plan_until_stable(ORDER, RULES, COSTS, GUESS, lay, rounds=1)
    check_plan(found.plan, RULES, end_loss=40)
    assert not found.stable and found.plan.markers.keys() <= found.lengths.keys()
    assert max(sum(lay.mix) for lay in found.plan.lays) <= 2


def test_nothing_can_be_laid() -> None:
    """Where a size lies on no cloth, the first round says which."""
    with pytest.raises(LayPlanError, match="size 'S'"):
        plan_until_stable(ORDER, RULES, COSTS, GUESS, lambda mixes: dict.fromkeys(mixes), rounds=3)


def test_the_last_plan_goes_on_from_the_cheapest_that_can_be_laid(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of three plans, by their true lengths, one is dear, one cheap, and one cheaper that is longer than the table."""
    mixes = {"dear": (0, 0, 3), "cheap": (2, 0, 0), "too long": (0, 1, 0)}
    true: dict[Mix, float] = {(0, 0, 3): 2_000.0, (2, 0, 0): 1_000.0, (0, 1, 0): RULES.longest - COSTS.end_loss + 1}
    plies = {"dear": 9, "cheap": 8, "too long": 1}
    begun: list[LayPlan | None] = []

    def planned(*_: object, start: LayPlan | None = None, **__: object) -> LayPlan:
        begun.append(start)
        name = list(mixes)[len(begun) - 1] if len(begun) <= len(mixes) else "cheap"
        return LayPlan(ORDER, (Lay(mixes[name], {"rust": plies[name]}, 1.0),), 1.0, 0.0, 1, True)

    def lay(some: list[Mix]) -> dict[Mix, float | None]:
        return {mix: true.get(mix, 500.0) for mix in some}

    monkeypatch.setattr("nesting.lays.stable.plan_lays", planned)
    monkeypatch.setattr("nesting.lays.stable.singles", lambda order: [(1, 0, 0)])
    found = plan_until_stable(ORDER, RULES, COSTS, GUESS, lay, rounds=3)
    assert (found.rounds, found.stable, len(begun)) == (3, False, 4)
    assert begun[3] is not None and [(one.mix, one.length) for one in begun[3].lays] == [((2, 0, 0), 1_000.0)]
