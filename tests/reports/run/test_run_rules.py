"""Rules of a run by themselves, worked out by hand: plies, ends, pay, tolerances, and what is bought."""

from __future__ import annotations

from collections import Counter
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any

import pytest

from nesting.lays.plan import Lay
from reports.ask.order.order import Cutting, RunFabric, RunRib, Tolerance
from reports.money.price import Price
from reports.run.beyond import Beyond
from reports.run.buying import buy_cloth, buy_rib
from reports.run.costing import _cutting, _lengths
from reports.run.laid import costs_of
from reports.run.lot_plan import LotPlan
from reports.run.planning import Planning
from reports.run.ribs import plan_ribs
from reports.run.tickets import Ticket
from reports.run.use import consumption, ply_length

if TYPE_CHECKING:
    from pieces import PieceSet

LAYS = (Lay((1, 1), {"rust": 3}, 2_000.0), Lay((2, 0), {"rust": 2, "navy": 1}, 1_000.0))


def cloth(**more: Any) -> RunFabric:
    """Cloth sold by the centimetre at 10.00 a metre, with 1 cm lost at each end."""
    usual = {"name": "c", "width": "150 cm", "end_allowance": "1 cm", "sold_by": "1 cm", "price": "10.00 / m"}
    return RunFabric(**(usual | more))


def test_what_is_bought() -> None:
    """Three plies of 2 m and two of 1 m, 2 cm of ends each: 8.10 m; rib of 1 m with 2 cm at both ends: 1.04 m."""
    found = buy_cloth(cloth(), "rust", LAYS, on_pattern=False)
    assert found.purchase is not None and found.purchase.buy == pytest.approx(8_100)
    rib = RunRib.model_validate({"name": "r", "opened": "80 cm", "end_allowance": "2 cm", "sold_by": "1 cm"})
    plan: Any = SimpleNamespace(length=1_000.0)
    bought = buy_rib(rib, plan).purchase
    assert bought is not None and bought.buy == pytest.approx(1_040)


def test_rib_for_every_garment(jacket: PieceSet) -> None:
    """Three garments of rust and one of navy: two cuffs each are eight, and one hem band each four."""
    rib = RunRib.model_validate({"name": "r", "opened": "1.5 m"})
    styled = SimpleNamespace(seam=10.0)
    order: Any = SimpleNamespace(name="o", rib=(rib,), styled=lambda: styled)
    garments: Any = SimpleNamespace(colours=("rust", "navy"), sizes=(SimpleNamespace(name="S", pieces=jacket),))
    (planned,) = plan_ribs(order, garments, {("rust", "S"): 3, ("navy", "S"): 1}, Planning(lambda problems: [], 1.0))
    counts = Counter(cut.band for cut in planned.plan.cuts if cut.part == 0)
    assert (counts["cuff S"], counts["hem band S"]) == (8, 4)


def test_consumption() -> None:
    """Areas 1 and 3: of 2.02 m a ply S bears a quarter; of 1.02 m with two S each bears half.

    Rust: three plies of the first and two of the second, 3 x 505 + 4 x 510 for seven of S; 1515 for each of L.
    """
    assert ply_length(LAYS[0], 10.0) == 2_020
    taken = consumption(LAYS, ("S", "L"), {"S": 1.0, "L": 3.0}, 10.0)
    assert taken["rust", "S"] == pytest.approx((3 * 505 + 4 * 510) / 7)
    assert (taken["rust", "L"], taken["navy", "S"]) == pytest.approx((1_515, 510))


def test_costs_of_each_step() -> None:
    """20.00 an hour at 80 % are 5 / 12 a minute; 6, 12 and 24 minutes are 2.50, 5.00 and 10.00."""
    entry = {"marker_minutes": 12, "lay_minutes": 24, "ply_minutes": 6, "spread_minutes": 12, "cut_minutes": 24}
    pricing = SimpleNamespace(rate=Price.parse("20.00 / h"), efficiency=80.0)
    order: Any = SimpleNamespace(cutting=Cutting.model_validate(entry), pricing=pricing)
    lot: Any = SimpleNamespace(cloths={"rust": cloth()}, cloth=cloth())
    costs = costs_of(order, lot, {"rust": 10_000.0}, Beyond({("rust", "S"): 7.0}, {("rust", "S"): 9.0}))
    assert (costs.marker, costs.lay, costs.ply, costs.end_loss) == pytest.approx((5, 10, 2.5, 20))
    assert (costs.ply_mm, costs.cut_mm, costs.cloth["rust"]) == pytest.approx((0.005, 0.01, 0.01))
    assert (costs.over, costs.under) == ({("rust", "S"): 7.0}, {("rust", "S"): 9.0})


def test_minutes_of_two_lays() -> None:
    """One marker for both, 12 min; lays 2 x 24, cutting 3 m at 24 a metre, three plies of 30 min and three of 18: 264.

    20.00 an hour at 80 % are 5 / 12 a minute: 110.00 and 5.00.
    """
    entry = {"marker_minutes": 12, "lay_minutes": 24, "ply_minutes": 6, "spread_minutes": 12, "cut_minutes": 24}
    pricing = SimpleNamespace(rate=Price.parse("20.00 / h"), efficiency=80.0)
    order: Any = SimpleNamespace(cutting=Cutting.model_validate(entry), pricing=pricing)
    plan: Any = SimpleNamespace(plan=SimpleNamespace(lays=LAYS, markers={(1, 1): 2_000.0}))
    expenses, minutes = _cutting(order, [plan, plan], 9)
    assert minutes == pytest.approx(264 + 12)
    assert [float(expense.amount) for expense in expenses] == pytest.approx([110.0, 5.0])


def test_a_garment_does_not_bear_the_least_length_sold() -> None:
    """Of 8.10 m needed, 50 m must be bought: the garments take the 8.10 m, and the rest is bought beyond them."""
    bought = buy_cloth(cloth(minimum="50 m"), "rust", LAYS, on_pattern=False)
    assert bought.purchase is not None
    assert (bought.purchase.needed, bought.purchase.buy) == pytest.approx((8_100, 50_000))
    plan: Any = SimpleNamespace(taken=lambda: {("rust", "S"): 810.0}, plies=lambda key: [8_100.0])
    assert _lengths(plan, "rust", bought) == pytest.approx({"S": 810.0})


def test_a_garment_bears_all_that_is_added_to_its_cloth() -> None:
    """Plies of 4 m; 5 m are needed with shrinkage and margin: a garment that takes 1 m of them bears 1.25 m."""
    plan: Any = SimpleNamespace(
        taken=lambda: {("rust", "S"): 1_000.0, ("navy", "S"): 7.0}, plies=lambda key: [2_000.0] * 2
    )
    bought: Any = SimpleNamespace(purchase=SimpleNamespace(needed=5_000.0))
    assert _lengths(plan, "rust", bought) == pytest.approx({"S": 1_250.0})


def test_a_pattern_along_loses_cloth_between_plies() -> None:
    """It is said of cloth that is laid on a pattern with a repeat along, and of no other."""
    for on_pattern, repeat, is_said in ((True, 70.0, True), (True, 0.0, False), (False, 70.0, False)):
        lot = SimpleNamespace(cloth=SimpleNamespace(repeat_along=repeat))
        plan: Any = SimpleNamespace(on_pattern=on_pattern, lot=lot)
        assert LotPlan.leaves_out_repeats.fget(plan) is is_said  # type: ignore[attr-defined]


def test_plies_that_the_tool_cuts() -> None:
    """Ten layers are ten open plies, five folded; 2 cm of cloth 1 mm thick are 20."""
    assert cloth().most_plies(Cutting(most_layers=10)) == 10
    assert cloth(spread="folded").most_plies(Cutting(most_layers=10)) == 5
    assert cloth(thickness="1 mm").most_plies(Cutting.model_validate({"height": "2 cm"})) == 20


def test_over_and_under() -> None:
    """5 % of 30 are one and a half: one; of 20 one; two over; none where none is ordered."""
    share, two = Tolerance.model_validate({"over": "5 %", "under": "5 %"}), Tolerance(over=2, under=2)
    assert [(share.least(n), share.most(n)) for n in (30, 20, 0)] == [(29, 31), (19, 21), (0, 0)]
    assert [(two.least(n), two.most(n)) for n in (30, 1, 0)] == [(28, 32), (0, 3), (0, 0)]


def test_what_a_ticket_gives() -> None:
    """Two of S on the marker under three plies of rust and one of navy: six and two."""
    ticket: Any = SimpleNamespace(plies={"rust": 3, "navy": 1}, garments={"S": 2})
    assert Ticket.gives.fget(ticket) == {("rust", "S"): 6, ("navy", "S"): 2}  # type: ignore[attr-defined]
