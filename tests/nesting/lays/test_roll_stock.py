"""Rolls with shade lots, widths and flaws: small cases worked out by hand, and random ones counted once more."""

from __future__ import annotations

import random

import pytest

from nesting.errors import CheckError, LayPlanError
from nesting.lays.roll_stock import PlyGroup, RollStock, assign_stock, check_stock, parts_of
from nesting.lays.rolls import check_rolls


def test_plies_go_round_a_flaw() -> None:
    """Ten metres with a flaw at 4 m: 4 m and 5.5 m are whole, and hold three plies of 2.2 m; a fourth is impossible."""
    stock = [RollStock(10_000, flaws=((4_000, 500),))]
    plan = assign_stock([2_200.0] * 4, stock, lots=[""] * 4)
    assert len(plan.missing) == 1 and plan.impossible  # though 8.8 m are less than the 9.5 m that there are
    assert sorted(cut.at for cut in plan.cuts) == [0, 4_500, 6_700]
    assert plan.ends == ((0, 2_200, 1_800), (0, 8_900, 1_100)) and plan.remnants == {0: 2_900}
    with pytest.raises(LayPlanError, match="lies over"):
        RollStock(1_000, flaws=((900, 200),))


def test_a_lay_is_cut_from_one_lot() -> None:
    """Lots of 6 m and 10 m: three plies of 3 m fit the second alone; two plies of 3 m then fit the first."""
    stock = [RollStock(6_000, "A"), RollStock(10_000, "B")]
    groups = [PlyGroup(2, 3_000), PlyGroup(3, 3_000)]
    assert parts_of(groups, stock) == [[("A", 2)], [("B", 3)]]


def test_a_lay_that_no_lot_holds_is_parted() -> None:
    """Four plies of 3 m, and no lot of more than two: two of each lot."""
    stock = [RollStock(6_500, "A"), RollStock(7_000, "B")]
    (parts,) = parts_of([PlyGroup(4, 3_000)], stock)
    assert sorted(parts) == [("A", 2), ("B", 2)]


def test_a_narrow_roll_takes_no_wide_lay() -> None:
    """A roll of 1.4 m takes the lay that needs 1.35 m, and not the one that needs 1.5 m."""
    stock = [RollStock(3_000, width=1_400), RollStock(3_000, width=1_500)]
    plan = assign_stock([3_000.0, 3_000.0], stock, lots=["", ""], needs=[1_350, 1_500])
    assert {cut.ply: cut.roll for cut in plan.cuts} == {0: 0, 1: 1}
    both = assign_stock([3_000.0, 3_000.0], stock, lots=["", ""], needs=[1_450, 1_500])
    assert len(both.missing) == 1
    with pytest.raises(CheckError, match="too narrow"):
        check_stock(plan, stock, ["", ""], [1_500, 1_500])


@pytest.mark.parametrize("seed", range(12))
def test_random_rolls_hold(seed: int) -> None:
    """Whatever comes out: every ply is whole, of its lot, on a roll wide enough, beside every flaw; or it is named."""
    rng = random.Random(seed)
    stock = [
        RollStock(
            rng.randrange(4_000, 12_000, 100),
            rng.choice("AB"),
            rng.choice([1_400.0, 1_500.0]),
            ((rng.randrange(500, 3_000, 100), 200.0),) if rng.random() < 0.5 else (),
        )
        for _ in range(4)
    ]
    groups = [PlyGroup(rng.randint(1, 4), rng.randrange(900, 3_000, 100), rng.choice([1_300, 1_450])) for _ in range(4)]
    parts = parts_of(groups, stock)
    assert [sum(number for _, number in part) for part in parts] == [group.number for group in groups]
    pairs = zip(groups, parts, strict=True)
    each = [(group, lot) for group, own in pairs for lot, number in own for _ in range(number)]
    plies, lots, needs = [g.length for g, _ in each], [lot for _, lot in each], [g.need for g, _ in each]
    plan = assign_stock(plies, stock, lots=lots, needs=needs, effort=0.2)
    check_rolls(plan, plies)
    check_stock(plan, stock, lots, needs)
    left = sum(length for _, _, length in plan.ends)
    flawed = sum(length for roll in stock for _, length in roll.flaws)
    assert left + flawed + sum(cut.length for cut in plan.cuts) == pytest.approx(sum(roll.length for roll in stock))


def test_fewer_rolls_of_another_lot() -> None:
    """Two plies lie on two rolls of one lot; one roll of another would do, so two are not called the fewest."""
    stock = [RollStock(1_000, "A"), RollStock(1_000, "A"), RollStock(2_100, "B")]
    assert parts_of([PlyGroup(2, 1_000)], stock) == [[("A", 2)]]
    plan = assign_stock([1_000.0] * 2, stock, lots=["A", "A"])
    assert (plan.opened, plan.optimal, plan.longest) == (2, False, False)
    assert not assign_stock([1_000.0] * 3, stock, lots=["A"] * 3).impossible
