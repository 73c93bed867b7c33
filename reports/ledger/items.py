"""Things on hand, as the entries by which they came in describe them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.units import Units
from reports.stock.item import StockItem, units_of_text

if TYPE_CHECKING:
    from datetime import date

    from reports.ledger.entry import BoughtEntry, RemnantEntry
    from reports.money.cost.amounts import Amount
    from reports.stock.item import ItemKind

ITEM_KINDS: dict[str, ItemKind] = {"cloth": "roll", "rib": "rib", "trim": "trim"}
"""What each thing that is bought is called."""


def item_bought(number: int, id_: str, day: date, bought: BoughtEntry) -> StockItem:
    """What was bought, on hand."""
    return StockItem(
        number,
        id_,
        ITEM_KINDS[bought.what],
        bought.name,
        bought.colour,
        bought.lot,
        bought.width,
        bought.amount.by_length,
        _units(bought.amount),
        day,
        bought.amount.number,
    )


def item_remnant(number: int, id_: str, day: date, remnant: RemnantEntry, cut_from: int | None) -> StockItem:
    """A remnant, on hand."""
    return StockItem(
        number,
        id_,
        "remnant",
        remnant.name,
        remnant.colour,
        remnant.lot,
        remnant.width,
        True,
        _units(remnant.length),
        day,
        remnant.length.number,
        cut_from=cut_from,
    )


def _units(amount: Amount) -> Units:
    return units_of_text(amount.text) if amount.by_length else Units.INCHES
