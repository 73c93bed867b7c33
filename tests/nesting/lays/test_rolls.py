"""Plies from rolls: published cutting-stock optima, brute force, and rolls that do not suffice."""

from __future__ import annotations

import math
import random
import time
from collections import defaultdict
from itertools import product

import pytest

from nesting.errors import LayPlanError
from nesting.lays.roll_fit import count_opened, deal
from nesting.lays.rolls import RollPlan, assign_rolls, check_rolls

# OR-Library, binpack5, t60_00 (Falkenauer): each three in file order fill a bin of 100.
T60 = """36.6 26.8 36.6 43.0 26.3 30.7 41.4 28.7 29.9 49.5 25.1 25.4 47.4 25.2 27.4 37.0 26.9 36.1 47.3 25.2 27.5
47.2 25.9 26.9 44.4 25.8 29.8 43.9 27.3 28.8 44.5 27.2 28.3 41.9 26.1 32.0 36.3 27.1 36.6 35.5 27.3 37.2 46.6 26.2 27.2
35.7 29.2 35.1 39.5 25.5 35.0 35.0 30.3 34.7 45.0 25.2 29.8 41.0 27.5 31.5"""


def check(plan: RollPlan, plies: list[float], splice: float = 0.0) -> None:
    """Every ply is cut to its length, what its splices lay double included, and no roll is cut for more than it has."""
    parts: defaultdict[int, list[float]] = defaultdict(list)
    used: defaultdict[int, float] = defaultdict(float)
    for cut in plan.cuts:
        parts[cut.ply].append(cut.length)
        used[cut.roll] += cut.length
    assert all(length <= plan.rolls[roll] + 1e-6 for roll, length in used.items())
    for ply, length in enumerate(plies):
        assert sum(parts[ply]) == pytest.approx(length + (len(parts[ply]) - 1) * splice)


def check_placed(plan: RollPlan, plies: list[float]) -> None:
    """Every ply that is not missing is cut whole, once, and no roll is cut for more than it has."""
    cut = {one.ply: one.length for one in plan.cuts}
    assert sorted([*(one.ply for one in plan.cuts), *plan.missing]) == list(range(len(plies)))
    assert cut == {ply: plies[ply] for ply in cut}
    for roll, length in enumerate(plan.rolls):
        assert sum(one.length for one in plan.cuts if one.roll == roll) <= length + 1e-6


def test_published_cutting_stock() -> None:
    """45 × 97, 36 × 610, 31 × 395 and 14 × 211 out of 100 take 453 (Chvátal 1983, p. 195); greedily 485."""
    plies = [45.0] * 97 + [36.0] * 610 + [31.0] * 395 + [14.0] * 211
    plan = assign_rolls(plies, [100.0] * 500)
    check(plan, plies)
    assert (plan.opened, plan.optimal) == (453, True)


def test_published_triplets() -> None:
    """t60_00 of the OR-Library fills 20 rolls of 100 to the last tenth; first fit takes 23."""
    plies = [float(item) for item in T60.split()]
    plan = assign_rolls(plies, [100.0] * 25)
    check(plan, plies)
    assert (plan.opened, plan.optimal) == (20, True) and sum(plan.remnants.values()) == pytest.approx(0, abs=1e-6)


def test_plies_of_one_roll() -> None:
    """A 61 m roll gives 12 plies of 5 m, and 1 m is left (onlineclothingstudy, November 2015); no 13th."""
    plan = assign_rolls([5_000.0] * 12, [61_000.0])
    assert plan.remnants == {0: pytest.approx(1_000)}
    more = assign_rolls([5_000.0] * 13, [61_000.0])
    check_placed(more, [5_000.0] * 13)
    assert (len(more.missing), more.impossible, more.optimal) == (1, True, False)


def best_by_force(plies: list[int], rolls: list[int]) -> tuple[int, int] | None:
    """The fewest rolls, and then the longest remnant, all ways tried."""
    found = []
    for ways in product(range(len(rolls)), repeat=len(plies)):
        left = list(rolls)
        for ply, roll in zip(plies, ways, strict=True):
            left[roll] -= ply
        if min(left) >= 0:
            found.append((len(set(ways)), -max(left[roll] for roll in set(ways))))
    return min(found, default=None)


@pytest.mark.parametrize("most_patterns", [5_000, 0])
@pytest.mark.parametrize("seed", range(12))
def test_brute_force(seed: int, most_patterns: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """As few rolls, and as long a remnant, as the best of all ways, by patterns or roll by roll."""
    monkeypatch.setattr("nesting.lays.roll_model.MOST_PATTERNS", most_patterns)
    rng = random.Random(seed)
    plies = [rng.choice((300, 350, 470)) for _ in range(6)]
    rolls = [rng.choice((500, 700, 820, 1_000)) for _ in range(4)]
    best, plan = best_by_force(plies, rolls), assign_rolls(plies, rolls)
    if best is None:
        check_placed(plan, list(map(float, plies)))
        assert plan.missing and plan.impossible and not plan.optimal
        return
    check(plan, list(map(float, plies)))
    assert (plan.opened, -max(plan.remnants.values())) == pytest.approx(best)
    assert plan.optimal and plan.longest


def test_splices() -> None:
    """Three plies of 6 m come out of two rolls of 11 m only where one is pieced; 0.2 m is laid double there."""
    whole = assign_rolls([6_000.0] * 3, [11_000.0] * 2)
    assert (len(whole.missing), whole.impossible) == (1, True)
    plan = assign_rolls([6_000.0] * 3, [11_000.0] * 2, splice=200)
    check(plan, [6_000.0] * 3, splice=200)
    assert (plan.opened, plan.splices) == (2, 1) and plan.remnants[1] == pytest.approx(22_000 - 18_200)
    long = assign_rolls([6_000.0], [5_000.0, 5_000.0], splice=200)
    check(long, [6_000.0], splice=200)
    assert long.splices == 1


@pytest.mark.parametrize("effort", [0.5, 1e-6])
def test_first_fit_is_tried_first(effort: float) -> None:
    """31 plies that first fit places on rolls of 50, 50 and 23 m are placed, however little the program may look."""
    plies = [5_078.0] * 5 + [4_109.0] * 6 + [2_616.0] * 11 + [2_535.0] * 9
    plan = assign_rolls(plies, [50_000.0, 50_000.0, 23_000.0], effort=effort)
    check(plan, plies)
    assert plan.opened == 3 and not plan.missing


def test_not_found_is_not_impossible() -> None:
    """t60_00 fills 20 rolls (Falkenauer): where the program may not look, plies are missing, and no one says they must.

    All others are placed, none twice, and the plan does not claim to be the best.
    """
    plies = sorted(float(item) for item in T60.split())
    plan = assign_rolls(plies, [100.0] * 20, effort=1e-6)
    check_placed(plan, plies)
    assert plan.missing and not plan.optimal and not plan.impossible


def test_a_proof_holds_for_true_lengths() -> None:
    """Two plies of 499.96 and 499.97 mm fit a roll of 999.94: in tenths, rounded up and down, they would not."""
    plan = assign_rolls([499.96, 499.97], [999.94])
    assert (plan.opened, plan.bound, plan.missing) == (1, 1, ())
    plies, rolls = [333.31, 333.32, 333.33, 600.04], [1_000.0, 600.04]
    check(assign_rolls(plies, rolls), plies)


def test_a_tail_shorter_than_its_splice_is_left() -> None:
    """Four plies of 6 m from rolls of 12.1, 9 and 3.4 m, 20 cm laid double: two, and a tail of 10 cm, which stays.

    A splice would take more of the next roll than the tail gives. Of 9 m one ply, and 3 m of the fourth; 3.2 m more of
    3.4, so that 20 cm are left.
    """
    plan = assign_rolls([6_000.0] * 4, [12_100.0, 9_000.0, 3_400.0], splice=200)
    check(plan, [6_000.0] * 4, splice=200)
    assert (plan.splices, plan.missing) == (1, ())
    assert plan.remnants == pytest.approx({0: 100.0, 1: 0.0, 2: 200.0})


@pytest.mark.parametrize(
    ("ply", "roll"),
    [
        (499.96, 999.85),
        (499.9, 999.75),
    ],  # in tenths, the plies rounded down or the roll up, two would fit: not in truth
)
def test_no_roll_is_a_hair_too_short(ply: float, roll: float) -> None:
    """Two plies, together 0.07 or 0.05 mm longer than a roll, are cut of two rolls, though one would leave more."""
    plies = [ply, ply, 10.0]
    plan = assign_rolls(plies, [roll, 600.0])
    check(plan, plies)
    assert len({cut.roll for cut in plan.cuts if cut.ply < 2}) == 2


def test_no_splice_where_another_order_does() -> None:
    """6, 6, 4 and 4 m of two rolls of 10.3 m: one after another a ply is pieced, 6 and 4 of each none is."""
    plan = assign_rolls([6_000.0, 6_000.0, 4_000.0, 4_000.0], [10_300.0] * 2, splice=200)
    assert (plan.splices, plan.opened, plan.remnants) == (0, 2, {0: pytest.approx(300), 1: pytest.approx(300)})


def test_no_splice_without_need() -> None:
    """Where plies can be cut whole out of as few rolls, none is pieced."""
    assert assign_rolls([6_000.0, 4_000.0] * 2, [10_000.0] * 2, splice=200).splices == 0


@pytest.mark.parametrize(
    ("plies", "rolls", "told"),
    [
        ([], [1.0], "no plies to cut"),
        ([-1.0], [1.0], "ply needs a length of more than 0"),
        ([1.0], [0.0], "roll needs a length of more than 0"),
    ],
)
def test_rolls_without_sense(plies: list[float], rolls: list[float], told: str) -> None:
    """Lengths that are none, and no plies: one line each."""
    with pytest.raises(LayPlanError, match=told):
        assign_rolls(plies, rolls)


def test_a_roll_half_a_centimetre_short_is_not_stretched() -> None:
    """Two plies of 6 m from rolls of 5.995, 5.995 and 0.6 m: each is pieced, and no roll gives more than it has."""
    plan = assign_rolls([6_000.0] * 2, [5_995.0, 5_995.0, 600.0], splice=200)
    check(plan, [6_000.0] * 2, splice=200)
    assert (plan.splices, plan.remnants[2]) == (2, pytest.approx(190))


def test_no_rolls_at_all() -> None:
    """A ply and no roll: it is missing, for sure; with a splice as well."""
    for splice in (None, 100.0):
        plan = assign_rolls([900.0], [], splice=splice)
        assert (plan.cuts, plan.missing, plan.impossible) == ((), (0,), True)


@pytest.mark.parametrize("seed", [2, 3])
def test_bins_of_uniform_items(seed: int) -> None:
    """120 items of 20 to 100 from rolls of 150 (the class of Falkenauer, Journal of Heuristics 2, 1996): none too many.

    The items are drawn here, and together fill so many rolls but one: so that fewer cannot do. First fit takes more.
    """
    chance = random.Random(seed)
    plies = [float(chance.randint(20, 100)) for _ in range(120)]
    fewest = math.ceil(sum(plies) / 150)
    assert count_opened(deal(plies, [150.0] * 60)) > fewest
    plan = assign_rolls(plies, [150.0] * 60, effort=1.0)
    check(plan, plies)
    assert (plan.opened, plan.bound, plan.optimal) == (fewest, fewest, True)


def test_what_finds_no_roll_is_pieced_of_what_is_left() -> None:
    """6, 7, 4, 6 and 4 m of rolls of 10, 9 and 9 m: one is pieced; one after another two would be."""
    plies = [6_000.0, 7_000.0, 4_000.0, 6_000.0, 4_000.0]
    plan = assign_rolls(plies, [10_000.0, 9_000.0, 9_000.0], splice=200)
    check(plan, plies, splice=200)
    assert (plan.splices, plan.missing) == (1, ())


def test_cloth_that_is_short_is_cut_as_far_as_it_goes() -> None:
    """Three plies of 6 m of rolls of 11 and 5 m, pieced: two are cut, and the third is missing, which is proved."""
    plan = assign_rolls([6_000.0] * 3, [11_000.0, 5_000.0], splice=200)
    assert (plan.missing, plan.impossible, plan.splices) == ((2,), True, 1)


def test_told_to_stop_it_gives_what_is_dealt_out_by_then() -> None:
    """Asked to end while a program runs: plies lie as plain rules have dealt them out at the least, in a moment."""
    chance = random.Random(7)
    plies = [chance.uniform(900, 5000) for _ in range(160)]
    rolls = [25_000.0] * 22
    asked = 0

    def stop() -> bool:
        nonlocal asked
        asked += 1
        return asked > 3

    began = time.monotonic()
    found = assign_rolls(plies, rolls, effort=1000.0, stop=stop)
    assert time.monotonic() - began < 20 and asked > 3
    check_rolls(found, plies)
    assert len({cut.ply for cut in found.cuts}) >= sum(roll is not None for roll in deal(plies, rolls))
