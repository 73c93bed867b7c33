"""Ledgers for tests: an order as an entry tells it, and a shelf with some cloth."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from reports.ledger.journal import Journal
from reports.ledger.record import record
from reports.ledger.standing import standing_of

if TYPE_CHECKING:
    from pathlib import Path

    from reports.ledger.standing import LedgerStanding

LONG_AGO = date.today() - timedelta(days=100)

FORTY: dict[str, Any] = {
    "name": "forty",
    "garment": "rib-jacket",
    "ordered": {"rust": {"M": 4, "L": 2}},
    "operations": [{"name": "side seams", "part": "sewing", "minutes": 12.0}],
    "planned": {"cut": {"rust": {"M": 4, "L": 2}}, "cloth": {"canvas": 10_000.0}, "cutting_minutes": 60.0},
}
"""Six jackets; 10 m of canvas and an hour of cutting are planned."""


def shelf(folder: Path) -> Journal:
    """Entry 1: a roll of 10 m of canvas. Entry 2: a remnant of 1.2 m, cut from it. Entry 3: the order. 30 zips, 4."""
    journal = Journal(folder)
    cloth = {"what": "cloth", "name": "canvas", "amount": "10 m", "width": "150 cm", "lot": "A"}
    record(journal, "bought", cloth, day=LONG_AGO)
    record(journal, "remnant", {"of": "roll 1", "length": "1.2 m", "width": "140 cm"}, day=LONG_AGO)
    record(journal, "order", FORTY, day=LONG_AGO)
    record(journal, "bought", {"what": "trim", "name": "zip", "amount": "30"}, day=LONG_AGO)
    return journal


def standing(journal: Journal) -> LedgerStanding:
    """How things stand."""
    return standing_of(journal.entries())


def left(journal: Journal) -> dict[str, float]:
    """What is left of each thing, mm or pieces."""
    return {item.label: float(item.left) for item in standing(journal).items.values()}
