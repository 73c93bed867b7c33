"""Prices, rates and minutes of an order that are examples: marked wherever a cost or a quote follows from them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reports.order import Order

TABLES = {
    "cutting": "minutes of spreading and cutting",
    "fabric": "prices of cloth",
    "rib": "prices of rib",
    "trim": "trims and their prices",
    "operation": "minutes of work",
    "pricing": "pay, overhead, markup and what else prices follow from",
}
"""Tables of an order that may be examples as a whole, and what is said of them."""

PERCENTAGES = ("efficiency", "overhead", "waste", "markup", "margin", "retail_markup", "retail_margin", "tax")
"""Keys of the table of pricing that are percentages."""


def examples_of(order: Order) -> tuple[str, ...]:
    """What in an order is an example, in words; empty once all is confirmed."""
    return tuple(_said(order, name) for name in order.examples)


def _said(order: Order, name: str) -> str:
    table, _, key = name.partition(".")
    if not key:
        return TABLES[table]
    held: Any = getattr(order, table)
    if isinstance(held, tuple):  # of each entry
        return TABLES[table] if table == "operation" else f"{key.replace('_', ' ')} of {table}"
    return f"{key.replace('_', ' ')} {_written(getattr(held, key), key)}"


def _written(value: Any, key: str) -> str:
    written = f"{value:g}" if isinstance(value, float) else str(value)
    return f"{written} %" if key in PERCENTAGES else written


def example_line(examples: Sequence[str]) -> str:
    """The mark of a cost or a quote that follows from examples."""
    return f"EXAMPLE, not to be sent. Still to be confirmed: {'; '.join(examples)}."
