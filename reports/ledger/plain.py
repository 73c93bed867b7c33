"""The ledger for machines: plain objects that ``json.dumps`` takes; every length in mm."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reports.ledger.rates import cloth_rates, minute_rates
from reports.ledger.record import told_again
from reports.ledger.words import entry_words

if TYPE_CHECKING:
    from collections.abc import Iterable

    from reports.ledger.entry import Entry
    from reports.ledger.orders import LedgerOrder
    from reports.ledger.standing import LedgerStanding
    from reports.stock.item import StockItem

LEDGER_SCHEMA = 1
"""Of the answer."""


def ledger_to_plain(
    standing: LedgerStanding, entries: Iterable[Entry] = (), files: Iterable[str] = ()
) -> dict[str, Any]:
    """How things stand, with some of the entries, and the files that were written."""
    orders = list(standing.orders.values())
    return {
        "schema": LEDGER_SCHEMA,
        "entries": [entry_to_plain(entry, standing) for entry in entries],
        "items": [_item(item) for item in standing.items.values()],
        "orders": [_order(order) for order in orders],
        "minute_rates": [rate._asdict() for rate in minute_rates(orders)],
        "cloth_rates": [
            {
                "garment": rate.garment,
                "factor": rate.factor,
                "margin_percent": rate.margin,
                "runs": rate.runs,
                "planned_mm": rate.planned,
                "used_mm": rate.used,
                "least": rate.least,
                "most": rate.most,
            }
            for rate in cloth_rates(orders)
        ],
        "faults": [{"entry": fault.number, "why": fault.why} for fault in standing.faults],
        "files": list(files),
    }


def entry_to_plain(entry: Entry, standing: LedgerStanding) -> dict[str, Any]:
    """An entry: what it tells, in words as well; the entry that it corrects, and the one that stands in its place."""
    first = standing.first_of(entry)
    last = standing.last.get(first.id, entry)
    return {
        "number": entry.number,
        "day": entry.day.isoformat(),
        "made": entry.made,
        "kind": entry.kind,
        "words": entry_words(entry, standing),
        "note": entry.data.note,
        "told": told_again(entry, standing),
        "corrects": first.number if entry is not first else None,
        "replaced_by": last.number if last.number > entry.number else None,
    }


def _item(item: StockItem) -> dict[str, Any]:
    unit = "mm" if item.by_length else "pieces"
    return {
        "item": item.label,
        "number": item.number,
        "kind": item.kind,
        "name": item.name,
        "colour": item.colour,
        "lot": item.lot,
        "width_mm": item.width,
        "day": item.day.isoformat(),
        "unit": unit,
        "got": float(item.got),
        "used": float(item.used),
        "left": float(item.left),
        "left_words": item.write(item.left),
        "cut_from": item.cut_from,
    }


def _order(order: LedgerOrder) -> dict[str, Any]:
    works = dict.fromkeys(one.work for one in order.worked)
    return {
        "name": order.name,
        "number": order.number,
        "garment": order.data.garment,
        "day": order.day.isoformat(),
        "garments": [
            {
                "colour": colour,
                "size": size,
                "ordered": number,
                **{kind: counts[colour, size] for kind, counts in order.done.items()},
            }
            for (colour, size), number in order.ordered.items()
        ],
        "total": order.total,
        "cloths": [
            {"name": name, "planned_mm": planned, "used_mm": used} for name, (planned, used) in order.cloths.items()
        ],
        "minutes": [
            {
                "work": work,
                "minutes": sum(one.minutes for one in order.worked if one.work == work),
                "garments": sum(one.garments for one in order.worked if one.work == work),
                "planned_each": order.planned_minutes(work),
            }
            for work in works
        ],
        "works": list(order.works),
    }
