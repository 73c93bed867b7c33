"""Orders and rates: garments through the workroom, minutes and cloth against the plan, never from nothing."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from pieces.units import Units
from reports.ledger.rates import cloth_rates, minute_rates
from reports.ledger.record import record
from reports.ledger.words import order_lines
from tests.make.ledger import FORTY, LONG_AGO, shelf, standing

if TYPE_CHECKING:
    from pathlib import Path

    from reports.ledger.journal import Journal


def count(journal: Journal, kind: Any, order: str = "forty", **sizes: int) -> None:
    """Count rust garments."""
    record(journal, kind, {"order": order, "colour": "rust", "garments": sizes})


def time(journal: Journal, order: str, work: str, minutes: float, garments: int) -> None:
    """Enter minutes."""
    record(journal, "minutes", {"order": order, "work": work, "minutes": minutes, "garments": garments})


def test_through_the_workroom(tmp_path: Path) -> None:
    """Garments are cut, sewn, delivered; more may be cut than ordered, and the table says so."""
    journal = shelf(tmp_path)
    count(journal, "cut", M=5, L=2)
    count(journal, "sewn", M=3)
    count(journal, "delivered", M=2)
    (order,) = standing(journal).orders.values()
    assert order.total == {"ordered": 6, "cut": 7, "sewn": 3, "delivered": 2}
    assert order.done["sewn"] == {("rust", "M"): 3}
    beyond = [line for line in order_lines(order, Units.INCHES) if "more than ordered" in line]
    assert beyond == ["  cut: 1 more than ordered, rust M."]


def test_no_rate_from_no_run(tmp_path: Path) -> None:
    """Where nothing was timed and nothing cut, there is no rate, not one of zero."""
    orders = standing(shelf(tmp_path)).orders.values()
    assert minute_rates(orders) == [] and cloth_rates(orders) == []


def test_minutes(tmp_path: Path) -> None:
    """By hand: 100 min for 4 and 20 min for 2 are 20 a garment in one run; with 90 for 3 in another, 210 / 9 in two.

    Planned are 12 min of sewing, and an hour of cutting for six garments.
    """
    journal = shelf(tmp_path)
    record(journal, "order", FORTY | {"name": "again"})
    time(journal, "forty", "sewing", 100, 4)
    time(journal, "forty", "sewing", 20, 2)
    (one,) = minute_rates(standing(journal).orders.values())
    assert (one.work, one.minutes, one.runs, one.garments, one.planned) == ("sewing", 20, 1, 6, 12)
    time(journal, "again", "sewing", 90, 3)
    time(journal, "again", "cutting", 30, 6)
    cutting, sewing = minute_rates(standing(journal).orders.values())
    assert (sewing.minutes, sewing.runs, sewing.least, sewing.most) == (pytest.approx(210 / 9), 2, 20, 30)
    assert (cutting.minutes, cutting.runs, cutting.planned) == (5, 1, 10)


def test_cloth(tmp_path: Path) -> None:
    """Cloth counts once the run is cut whole: 10.3 m used of 10 m planned ask for a margin of 3 %."""
    journal = shelf(tmp_path)
    more = {"what": "cloth", "name": "canvas", "amount": "20 m", "width": "150 cm"}
    record(journal, "bought", more, day=LONG_AGO)
    record(journal, "used", {"item": "roll 5", "amount": "9.1 m", "order": "forty"})
    record(journal, "used", {"item": "remnant 2", "amount": "all", "order": "forty"})
    record(journal, "used", {"item": "trim 4", "amount": 6, "order": "forty"})
    count(journal, "cut", M=4, L=1)
    assert cloth_rates(standing(journal).orders.values()) == []
    count(journal, "cut", L=1)
    (rate,) = cloth_rates(standing(journal).orders.values())
    assert (rate.runs, rate.used, rate.planned) == (1, 10_300, 10_000)
    assert (rate.factor, rate.margin) == (pytest.approx(1.03), 3.0)
