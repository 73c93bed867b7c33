"""What a person tells becomes an entry: names are looked up, and what does not go with the rest is refused."""

from __future__ import annotations

from collections import Counter
from datetime import date
from typing import TYPE_CHECKING, Any

from pydantic import ValidationError

from reports.errors import LedgerError
from reports.ledger.entry import KINDS, read_data
from reports.ledger.journal import JournalRow
from reports.ledger.standing import COUNTED, MEASURED, standing_of
from reports.stock.item import ITEM, amount_left

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reports.ledger.entry import Entry, LedgerKind
    from reports.ledger.journal import Journal
    from reports.ledger.orders import LedgerOrder
    from reports.ledger.standing import LedgerStanding
    from reports.stock.item import StockItem

EARLIEST = date(1970, 1, 1)
"""Nothing in a ledger is older: such a day is a slip of the hand."""

ALL = "all"
"""In place of an amount: all that is left."""

CALLED = {"of": "from", "order": "the order", "item": "the item"}
"""What fields are called to people, where it is not their own name."""


def record(
    journal: Journal, kind: LedgerKind, told: dict[str, Any], *, day: date | None = None, corrects: int | None = None
) -> Entry:
    """Add an entry.

    Parameters
    ----------
    told
        What it says, by the fields of its kind: an ``item`` as ``roll 7`` or its number, ``of`` likewise, an ``order``
        by its name, lengths with their units. What is left out is empty.
    day
        What day it is about; by default today.
    corrects
        The number of the entry whose place it takes.

    Raises
    ------
    LedgerError
        If it makes no sense, names what is not there, takes more than there is, or lies in the future.
    LedgerFileError
        If the ledger cannot be used.
    """
    when = day or date.today()
    if not EARLIEST <= when <= date.today():
        wrong = "in the future" if when > EARLIEST else "too long ago"
        raise LedgerError(f"{when.isoformat()} is {wrong}: write the day on which it happened")

    def make(entries: Sequence[Entry]) -> JournalRow:
        before = standing_of(entries)
        target = _target(before, kind, corrects)
        looked_up = _looked_up(before, kind, {key: value for key, value in told.items() if value not in (None, "")})
        _checked(kind, looked_up)
        row = JournalRow.of(kind, looked_up, when, target.id if target else "")
        _refuse_new_faults(before, standing_of([*entries, row.entry(len(entries) + 1)]))
        return row

    return journal.add(make)


def _target(standing: LedgerStanding, kind: LedgerKind, corrects: int | None) -> Entry | None:
    """The entry to correct; LedgerError if it is not there, of another kind, or corrected already."""
    if corrects is None:
        if kind == "struck":
            raise LedgerError("name the entry to strike by its number: 'ellwand ledger history' lists all")
        return None
    if not 1 <= corrects <= len(standing.entries):
        there = f"there are {len(standing.entries)}" if standing.entries else "the ledger is empty"
        raise LedgerError(f"there is no entry {corrects}: {there}; 'ellwand ledger history' lists all")
    entry = standing.entries[corrects - 1]
    first = standing.first_of(entry)
    last = standing.last.get(first.id, entry)
    if last.number != corrects:
        done = "was struck by" if last.kind == "struck" else "was corrected by"
        raise LedgerError(f"entry {corrects} {done} entry {last.number}: correct that one, or enter it again")
    if entry.kind == "struck":
        raise LedgerError(f"entry {corrects} strikes another one: enter again what that one said")
    if kind not in ("struck", entry.kind):
        raise LedgerError(f"entry {corrects} is of another kind, {entry.kind!r}: strike it, then enter this one")
    return entry


def _looked_up(standing: LedgerStanding, kind: LedgerKind, told: dict[str, Any]) -> dict[str, Any]:
    """What is told, with the ids of what it names."""
    for key in told:
        if key not in KINDS[kind].model_fields:
            raise LedgerError(f"an entry {kind!r} has no {key!r}: leave it out")
    found = dict(told)
    if "order" in told:
        found["order"] = order_called(standing, told["order"]).id
    for key in ("item", "of"):
        if key in told:
            found[key] = item_called(standing, told[key]).id
    if "of" in told:
        of = item_called(standing, told["of"])
        if of.kind not in ("roll", "remnant"):
            raise LedgerError(f"{of.label} is not cloth: a remnant is cut from a roll or a remnant")
        usual = {"name": of.name, "colour": of.colour, "lot": of.lot, "width": f"{of.width:.6f} mm"}
        found = {key: value for key, value in usual.items() if value} | found
    if kind == "used" and "item" in told and isinstance(told.get("amount"), str):
        found["amount"] = _amount(item_called(standing, told["item"]), told["amount"])
    elif kind == "bought" and isinstance(told.get("amount"), str):
        found["amount"] = whole_or_text(told["amount"])
    return found


def _amount(item: StockItem, text: str) -> str | int:
    """An amount as an entry tells it; all that is left in numbers."""
    if text.strip().lower() != ALL:
        amount = whole_or_text(text)
        if item.by_length == isinstance(amount, int):
            raise LedgerError(f"{item.label} is {MEASURED if item.by_length else COUNTED}, or all, not '{text[:40]}'")
        return amount
    if item.left <= 0:
        raise LedgerError(f"nothing is left of {item.label}")
    return amount_left(item)


def whole_or_text(text: str) -> str | int:
    """A whole number that is written as text; anything else stays text."""
    bare = text.strip()
    return int(bare) if bare.isascii() and bare.isdigit() and len(bare) < 10 else text


def item_called(standing: LedgerStanding, name: Any) -> StockItem:
    """The thing on hand of a name such as ``roll 7``; LedgerError if there is none."""
    found = ITEM.fullmatch(str(name))
    known = [item.label for item in standing.on_hand]
    there = f"on hand: {', '.join(known[-8:])}" if known else "nothing is on hand: enter what was bought first"
    if found is None:
        raise LedgerError(f'cannot read the item {str(name)[:60]!r}: write it as in "roll 7"; {there}')
    item = next((item for item in standing.items.values() if item.number == int(found[2])), None)
    if item is None or (found[1] and found[1].lower() != item.kind):
        raise LedgerError(f"there is no {str(name).strip().lower()} in the ledger; {there}")
    return item


def order_called(standing: LedgerStanding, name: Any) -> LedgerOrder:
    """The order of a name; LedgerError if there is none."""
    wanted = " ".join(str(name).split()).casefold()
    for order in standing.orders.values():
        if order.name.casefold() == wanted:
            return order
    known = ", ".join(f"'{order.name}'" for order in standing.orders.values())
    there = f"there are {known}" if known else "enter it first: ellwand ledger order FILE"
    raise LedgerError(f"there is no order '{str(name)[:60]}' in the ledger: {there}")


def _checked(kind: LedgerKind, told: dict[str, Any]) -> None:
    """Read what is told; LedgerError, with the first thing that is wrong with it."""
    try:
        read_data(kind, told)
    except ValidationError as error:
        fault = error.errors()[0]
        where = ", ".join(CALLED.get(str(part), str(part)) for part in fault["loc"])
        said = str(fault.get("ctx", {}).get("error") or fault["msg"])
        needs = (
            f"{kind} needs {where or 'more'}" if fault["type"] == "missing" else f"{where}: {said}" if where else said
        )
        raise LedgerError(needs) from error


def _refuse_new_faults(before: LedgerStanding, after: LedgerStanding) -> None:
    """Refuse what would leave more that does not add up than there was."""
    known = Counter(fault.number for fault in before.faults)
    for fault in after.faults:
        known[fault.number] -= 1
        if known[fault.number] < 0:
            raise LedgerError(fault.why)


def told_again(entry: Entry, standing: LedgerStanding) -> dict[str, Any]:
    """What an entry says as a person would tell it: things and orders by their names."""
    told = dict(entry.told)
    for key in ("item", "of"):
        if key in told:
            item = standing.items.get(told[key])
            told[key] = item.label if item else "something that is not here"
    if "order" in told:
        order = standing.orders.get(told["order"])
        told["order"] = order.name if order else "an order that is not here"
    return told
