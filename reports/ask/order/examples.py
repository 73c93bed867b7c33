"""What in an order is an example."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reports.money.examples import TABLES

if TYPE_CHECKING:
    from reports.ask.order.order import Order

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
