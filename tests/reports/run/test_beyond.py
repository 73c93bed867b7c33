"""What a garment over or under the order costs, worked out by hand."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from nesting.rib.band import bands_of
from reports.run.beyond import Beyond, beyond_order
from reports.run.garments import draft_all
from reports.run.lots import lots_of
from tests.make.orders import ordered


def test_one_more_costs_its_work_trims_and_rib() -> None:
    """62 minutes at 19.00 an hour, a zip of 2.40, 2 labels of 0.35, 120 m of a 3.20 reel of 1000 m; rib by its area.

    Of rib 52 in wide at 15.00 a yard the bands of a jacket bear their area, with nothing lost between them.
    """
    order = ordered()
    garments = draft_all(order)
    lots = list(lots_of(order, garments))
    found = beyond_order(order, garments, lots, lots[0], "")
    small = garments.sizes[0]
    area = sum(band.length * band.depth * band.count for band in bands_of(small.pieces, 1))
    rib = 15.00 * area / (52 * 25.4) / 914.4
    assert found.over["rust", "S"] == pytest.approx(62 * 19 / 60 + 2.40 + 0.70 + 0.384 + rib, abs=1e-4)


def test_one_fewer_loses_its_price_less_what_is_not_spent() -> None:
    """At a price of 100.00: 100.00 less work, trims and rib; what it takes of cloth, its lay saves."""
    order = ordered((r"^markup = .*$", 'wholesale = "100.00"'))
    garments = draft_all(order)
    lots = list(lots_of(order, garments))
    found = beyond_order(order, garments, lots, lots[0], "")
    for kind, over in found.over.items():
        assert found.under[kind] == pytest.approx(100 - over)


def test_a_cloth_for_all_colours_bears_their_mean() -> None:
    """Rust costs 10 more, navy 20: of one cloth for both it is 15, where both are ordered."""
    lot: Any = SimpleNamespace(stands_for={"canvas": ("rust", "navy")}, pieces={"S": (), "L": ()})
    money = {("rust", "S"): 10.0, ("navy", "S"): 20.0, ("navy", "L"): 7.0}
    assert Beyond(money, {}).of(lot) == Beyond({("canvas", "S"): 15.0, ("canvas", "L"): 7.0}, {})
