"""The mark of what follows from examples."""

from __future__ import annotations

from reports.ask.order.order import Order
from reports.money.examples import TABLES, example_line


def test_every_table_that_may_be_an_example_is_a_table_of_an_order() -> None:
    """No other is named."""
    assert set(TABLES) <= set(Order.model_fields)


def test_all_that_is_unconfirmed_is_named() -> None:
    """In one line, marked in capitals."""
    line = example_line(["prices of cloth", "overhead 12 %"])
    assert line.startswith("EXAMPLE")
    assert "prices of cloth; overhead 12 %" in line
