"""Rules of a run by themselves, worked out by hand: plies, ends, pay, tolerances, and what is bought."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from nesting.layplan import Lay
from reports.order import Cutting, RunFabric, RunRib, Tolerance
from reports.price import Price
from reports.run.buying import buy_cloth, buy_rib
from reports.run.laid import costs_of
from reports.run.tickets import Ticket
from reports.run.use import consumption, ply_length

LAYS = (Lay((1, 1), {"rust": 3}, 2_000.0), Lay((2, 0), {"rust": 2, "navy": 1}, 1_000.0))


def cloth(**more: Any) -> RunFabric:
    """Cloth sold by the centimetre at 10.00 a metre, with 1 cm lost at each end."""
    usual = {"name": "c", "width": "150 cm", "end_allowance": "1 cm", "sold_by": "1 cm", "price": "10.00 / m"}
    return RunFabric(**(usual | more))


def test_what_is_bought() -> None:
    """Three plies of 2 m and two of 1 m, 2 cm of ends each: 8.10 m; rib of 1 m with 2 cm at both ends: 1.04 m."""
    found = buy_cloth(cloth(), "rust", LAYS, on_pattern=False)
    assert found.purchase is not None and found.purchase.buy == pytest.approx(8_100)
    rib = RunRib(name="r", opened="80 cm", end_allowance="2 cm", sold_by="1 cm")
    plan: Any = SimpleNamespace(length=1_000.0)
    bought = buy_rib(rib, plan).purchase
    assert bought is not None and bought.buy == pytest.approx(1_040)


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
    costs = costs_of(order, lot, {"rust": 10_000.0})
    assert (costs.marker, costs.lay, costs.ply, costs.end_loss) == pytest.approx((5, 10, 2.5, 20))
    assert (costs.ply_mm, costs.cut_mm, costs.cloth["rust"]) == pytest.approx((0.005, 0.01, 0.01))


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
