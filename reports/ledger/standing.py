"""How things stand by the ledger: what is on hand, how far each order is, and what does not add up."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple, cast

from pieces.units import SHORT
from reports.ledger.entry import (
    BoughtEntry,
    CountEntry,
    MinutesEntry,
    OrderEntry,
    RemnantEntry,
    UsedEntry,
)
from reports.ledger.items import item_bought, item_remnant
from reports.ledger.orders import LedgerOrder, Worked

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reports.ledger.entry import CountKind, Entry
    from reports.ledger.journal import Journal
    from reports.money.cost.amounts import Amount
    from reports.stock.item import StockItem

BEFORE = {"sewn": "cut", "delivered": "sewn"}
"""What a garment must have been before it is counted as that."""


MEASURED = 'measured: write a length with its unit, such as "2 yd"'
COUNTED = "counted: write a whole number, such as 2"


class LedgerFault(NamedTuple):
    """An entry that does not go with the others, and why: two ledgers that were brought together may have some."""

    number: int
    why: str


@dataclass(frozen=True, eq=False)
class LedgerStanding:
    """What all entries come to.

    Parameters
    ----------
    items, orders
        By the id of the entry that made them.
    last
        For each first entry's id, the entry that now stands for it: itself, or the last that corrects it.
    """

    entries: tuple[Entry, ...]
    items: dict[str, StockItem] = field(default_factory=dict)
    orders: dict[str, LedgerOrder] = field(default_factory=dict)
    last: dict[str, Entry] = field(default_factory=dict)
    faults: list[LedgerFault] = field(default_factory=list)

    @property
    def on_hand(self) -> list[StockItem]:
        """The things of which something is left."""
        return [item for item in self.items.values() if item.left > 0]

    def first_of(self, entry: Entry) -> Entry:
        """The entry that a chain of corrections began with."""
        before = self._by_id.get(entry.corrects)
        while before is not None and before.number < entry.number:
            entry, before = before, self._by_id.get(before.corrects)
        return entry

    @cached_property
    def _by_id(self) -> dict[str, Entry]:
        return {one.id: one for one in self.entries}


def standing_of(entries: Sequence[Entry]) -> LedgerStanding:
    """Go through all entries, by the days that they are about; corrections stand in the place of what they correct."""
    found = LedgerStanding(tuple(entries))
    firsts: dict[str, Entry] = {}
    for entry in entries:
        if not entry.corrects:
            firsts[entry.id] = found.last[entry.id] = entry
            continue
        first = found.first_of(entry)
        if first.corrects or (entry.kind not in (first.kind, "struck")):
            found.faults.append(LedgerFault(entry.number, f"entry {entry.number} corrects what is not in this ledger"))
            continue
        found.last[first.id] = entry
    standing = [(firsts[id_], entry) for id_, entry in found.last.items() if entry.kind != "struck"]
    standing.sort(key=lambda pair: (pair[1].day, pair[0].number))
    makers = [(first, entry) for first, entry in standing if isinstance(entry.data, BoughtEntry | OrderEntry)]
    for first, entry in makers:
        _make(found, first, entry)
    for first, entry in sorted(standing, key=lambda pair: pair[0].number):
        if isinstance(entry.data, RemnantEntry):
            _make_remnant(found, first, entry, entry.data)
    for first, entry in standing:
        _apply(found, first, entry)
    items = sorted(found.items.items(), key=lambda pair: pair[1].number)
    found.items.clear()
    found.items.update(items)
    return found


def _make(found: LedgerStanding, first: Entry, entry: Entry) -> None:
    data = entry.data
    if isinstance(data, BoughtEntry):
        found.items[first.id] = item_bought(first.number, first.id, entry.day, data)
    elif isinstance(data, OrderEntry):
        same = next((one for one in found.orders.values() if one.name.casefold() == data.name.casefold()), None)
        if same:
            _fault(found, first, f"there is an order '{same.name}' already, entry {same.number}: choose another name")
        found.orders[first.id] = LedgerOrder(first.number, first.id, entry.day, data)


def _make_remnant(found: LedgerStanding, first: Entry, entry: Entry, data: RemnantEntry) -> None:
    of = found.items.get(data.of or "")
    item = item_remnant(first.number, first.id, entry.day, data, of.number if of else None)
    found.items[first.id] = item
    if of is not None and of.width is not None and data.width > of.width + SHORT:
        _fault(found, first, f"{item.label} is wider than {of.label}, which it was cut from: check its width")


def _apply(found: LedgerStanding, first: Entry, entry: Entry) -> None:
    data = entry.data
    if isinstance(data, RemnantEntry) and data.of is not None:
        _take(found, first, entry, data.of, data.length)
    elif isinstance(data, UsedEntry):
        item, order = found.items.get(data.item), found.orders.get(data.order or "")
        if item is not None and item.by_length != data.amount.by_length:
            _fault(found, first, f"{item.label} is {MEASURED if item.by_length else COUNTED}")
            return
        _take(found, first, entry, data.item, data.amount)
        if data.order is not None and order is None:
            _gone(found, first, "an order")
        if item is not None and order is not None and item.kind in ("roll", "remnant"):
            order.cloth[item.name] = order.cloth.get(item.name, 0) + data.amount.number
    elif isinstance(data, CountEntry):
        _count(found, first, entry, data)
    elif isinstance(data, MinutesEntry):
        _work(found, first, entry, data)


def _take(found: LedgerStanding, first: Entry, entry: Entry, id_: str, amount: Amount) -> None:
    """Take so much of a thing on hand."""
    item = found.items.get(id_)
    if item is None:
        return _gone(found, first, "a thing")
    if entry.day < item.day:
        came = f"{item.label} came in on {item.day.isoformat()}"
        _fault(found, first, f"{came}: nothing can be taken of it on {entry.day.isoformat()}; check the day")
    left = item.left
    found.items[id_] = after = replace(item, used=item.used + amount.number)
    if after.left < 0:
        there = f"{item.label} has {item.write(max(left, 0 * left))} left"
        said = f"entry {first.number} takes {amount.text}"
        _fault(found, first, f"{there} on {entry.day.isoformat()}, and {said}: check the amount")
    return None


def _count(found: LedgerStanding, first: Entry, entry: Entry, data: CountEntry) -> None:
    """Count garments cut, sewn or delivered."""
    order, kind = found.orders.get(data.order), cast("CountKind", entry.kind)
    if order is None:
        return _gone(found, first, "an order")
    if entry.day < order.day:
        begun = f"order '{order.name}' begins on {order.day.isoformat()}"
        _fault(found, first, f"{begun}: nothing can be {kind} for it on {entry.day.isoformat()}; check the day")
    for size, number in data.garments.items():
        garment = data.colour, size
        if garment not in order.ordered:
            known = ", ".join(f"{colour} {one}" for colour, one in order.ordered)
            _fault(found, first, f"order '{order.name}' has no {data.colour} in size {size}; it has {known}")
            continue
        order.done[kind][garment] += number
        before = cast("CountKind | None", BEFORE.get(kind))
        if before and order.done[kind][garment] > order.done[before][garment]:
            there, now = order.done[before][garment], order.done[kind][garment]
            said = f"order '{order.name}', {data.colour} {size}: {there} {before} by {entry.day.isoformat()}"
            _fault(found, first, f"{said}, and {now} would be {kind}: enter what was {before} first")
    return None


def _work(found: LedgerStanding, first: Entry, entry: Entry, data: MinutesEntry) -> None:
    """Add minutes of work."""
    order = found.orders.get(data.order)
    if order is None:
        return _gone(found, first, "an order")
    if data.work not in order.works:
        _fault(found, first, f"order '{order.name}' has no work '{data.work}': choose {', '.join(order.works)}")
    order.worked.append(Worked(data.work, data.minutes, data.garments))
    return None


def _gone(found: LedgerStanding, first: Entry, what: str) -> None:
    there = f"entry {first.number} is about {what} that is not in this ledger, or was struck"
    _fault(found, first, f"{there}: strike entry {first.number} first")


def _fault(found: LedgerStanding, first: Entry, why: str) -> None:
    found.faults.append(LedgerFault(first.number, why))


def stock_in(journal: Journal) -> list[StockItem]:
    """Everything on hand; LedgerFileError if the ledger cannot be used."""
    return standing_of(journal.entries()).on_hand
