"""Prices, rates and minutes of an order that are examples: marked wherever a cost or a quote follows from them."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence


TABLES = {
    "cutting": "minutes of spreading and cutting",
    "fabric": "prices of cloth",
    "rib": "prices of rib",
    "trim": "trims and their prices",
    "operation": "minutes of work",
    "pricing": "pay, overhead, markup and what else prices follow from",
}
"""Tables of an order that may be examples as a whole, and what is said of them."""


def example_line(examples: Sequence[str]) -> str:
    """The mark of a cost or a quote that follows from examples."""
    return f"EXAMPLE, not to be sent. Still to be confirmed: {'; '.join(examples)}."
