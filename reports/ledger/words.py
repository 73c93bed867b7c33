"""The ledger for people: what is on hand, how far each order is, rates by what was done, and every entry in words."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from rich.table import Table
from rich.text import Text

from pieces.units import format_size
from reports.ledger.entry import BoughtEntry, CountEntry, MinutesEntry, OrderEntry, RemnantEntry, UsedEntry
from reports.ledger.rates import cloth_rates, minute_rates
from reports.money.lengths import write_need

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from pieces.units import Units
    from reports.ledger.entry import Entry
    from reports.ledger.orders import LedgerOrder
    from reports.ledger.standing import LedgerStanding
    from reports.stock.item import StockItem

NOTHING = (
    'The ledger is empty. Enter what you have, such as:  ellwand ledger bought cloth canvas "10 yd" --width "60 in"'
)


def standing_parts(standing: LedgerStanding, units: Units) -> Iterator[Table | str]:
    """All that `ledger show` prints; `units` are those of cloth that orders planned."""
    if not standing.entries:
        yield NOTHING
        return
    yield stock_table(standing)
    if hidden := len(standing.items) - len(standing.on_hand):
        yield f"{_number(hidden, 'thing')} used up, not listed; 'ellwand ledger history' has all."
    for order in standing.orders.values():
        yield order_table(order)
        yield from order_lines(order, units)
    yield from rate_lines(standing)
    yield from fault_lines(standing)


def stock_table(standing: LedgerStanding) -> Table:
    """What is on hand."""
    table = _table(
        "On hand", ("item", 1), ("what", 1), ("colour", 1), ("lot", 1), ("width", 0), ("came in", 0), ("used", 0)
    )
    table.add_column("left", justify="right", header_style="dim", style="bold")
    for item in standing.on_hand:
        width = format_size(item.width, item.units) if item.width else ""
        names = (item.label, Text(item.name), Text(item.colour), Text(item.lot), width)
        table.add_row(*names, item.write(item.got), item.write(item.used) if item.used else "", item.write(item.left))
    return table


def order_table(order: LedgerOrder) -> Table:
    """How far an order is, by colour and size."""
    title = f"Order {order.name}, entry {order.number}: {order.data.garment}"
    table = _table(title, ("colour", 1), ("size", 1), ("ordered", 0), ("cut", 0), ("sewn", 0), ("delivered", 0))
    for (colour, size), number in order.ordered.items():
        done = [str(counts[colour, size]) for counts in order.done.values()]
        table.add_row(Text(colour), Text(size), str(number), *done)
    table.add_row("all", "", *map(str, order.total.values()), style="bold")
    return table


def order_lines(order: LedgerOrder, units: Units) -> Iterator[str]:
    """What was made beyond it; its cloth and its minutes, actual against planned."""
    for kind, counts in order.done.items():
        for (colour, size), number in counts.items():
            if (over := number - order.ordered.get((colour, size), 0)) > 0:
                yield f"  {kind}: {over} more than ordered, {colour} {size}."
    for name, (planned, used) in order.cloths.items():
        plan = "not planned" if planned is None else f"planned {write_need(planned, units)}"
        yield f"  {name}: used {write_need(used, units) if used else 'none yet'}, {plan}."
    for work in dict.fromkeys(one.work for one in order.worked):
        minutes = sum(one.minutes for one in order.worked if one.work == work)
        garments = sum(one.garments for one in order.worked if one.work == work)
        planned_each, each = order.planned_minutes(work), minutes / garments
        against = "nothing planned" if planned_each is None else f"planned {planned_each:.1f}"
        yield f"  {work}: {each:.1f} min a garment ({minutes:g} min for {garments}), {against}."


def rate_lines(standing: LedgerStanding) -> Iterator[str]:
    """Suggested rates, each with the runs that it rests on."""
    orders = list(standing.orders.values())
    timed, cloths = minute_rates(orders), cloth_rates(orders)
    if timed or cloths:
        yield "Suggested rates:"
    for rate in timed:
        planned = "" if rate.planned is None else f"; planned {rate.planned:.1f}"
        spread = f", {rate.least:.1f} to {rate.most:.1f}" if rate.runs > 1 else ""
        rests = f"{_number(rate.runs, 'run')}, {_number(rate.garments, 'garment')}{spread}"
        yield f"  {rate.garment}, {rate.work}: minutes = {rate.minutes:.1f} ({rests}{planned})."
    for cloth in cloths:
        spread = f", {cloth.least:.3f} to {cloth.most:.3f}" if cloth.runs > 1 else ""
        rests = f"{_number(cloth.runs, 'run')} cut whole{spread}"
        used = f"{cloth.factor:.3f} times the cloth planned was used"
        yield f"  {cloth.garment}, cloth: {used} ({rests}): margin = {cloth.margin:g}."


def fault_lines(standing: LedgerStanding) -> Iterator[str]:
    """What does not add up."""
    for fault in standing.faults:
        yield f"warning: entry {fault.number} does not go with the others: {fault.why}"


def history_table(standing: LedgerStanding, entries: Iterable[Entry]) -> Table:
    """Entries, each on a line, with what became of it."""
    table = _table("History", ("entry", 0), ("day", 1), ("what", 1), ("note", 1))
    for entry in entries:
        words = entry_words(entry, standing)
        table.add_row(str(entry.number), entry.day.isoformat(), Text(words), Text(entry.data.note))
    return table


def entry_words(entry: Entry, standing: LedgerStanding) -> str:
    """An entry in words, and what became of it since."""
    first = standing.first_of(entry)
    last = standing.last.get(first.id, entry)
    said = _said(entry, standing)
    if entry.kind == "struck":
        said = f"struck entry {first.number}"
    elif entry is not first:
        said = f"correction of entry {first.number}: {said}"
    if last.number <= entry.number:
        return said
    return f"{said} ({'struck' if last.kind == 'struck' else 'corrected'} by entry {last.number})"


def _said(entry: Entry, standing: LedgerStanding) -> str:
    data = entry.data
    if isinstance(data, BoughtEntry):
        amount = data.amount.text if data.amount.by_length else f"{data.amount.number} pieces"
        return f"bought {amount} of {data.what} {_described(data, entry)}"
    if isinstance(data, RemnantEntry):
        of = standing.items.get(data.of or "")
        return f"remnant {data.length.text} of {_described(data, entry)}{f', cut from {of.label}' if of else ''}"
    order = standing.orders.get(getattr(data, "order", None) or "")
    name = f"order {order.name}" if order else "an order that is not here"
    if isinstance(data, UsedEntry):
        item = standing.items.get(data.item)
        amount = f"{data.amount.number}" if not data.amount.by_length else _length(item, data)
        return f"used {amount} of {item.label if item else 'what is not here'}{f', {name}' if data.order else ''}"
    if isinstance(data, OrderEntry):
        total = sum(number for sizes in data.ordered.values() for number in sizes.values())
        return f"order {data.name}: {_number(total, data.garment)}{', with its plan' if data.planned else ''}"
    if isinstance(data, CountEntry):
        sizes = ", ".join(f"{size} {number}" for size, number in data.garments.items())
        return f"{entry.kind}: {data.colour} {sizes}, {name}"
    if isinstance(data, MinutesEntry):
        return f"{data.minutes:g} min of {data.work} for {_number(data.garments, 'garment')}, {name}"
    return "struck"


def _described(data: BoughtEntry | RemnantEntry, entry: Entry) -> str:
    told = cast("dict[str, str]", entry.told)
    parts = [data.name, data.colour, f"lot {data.lot}" if data.lot else ""]
    if data.width is not None:
        from reports.stock.item import units_of_text

        parts.append(f"{format_size(data.width, units_of_text(told['width']))} wide")
    return ", ".join(part for part in parts if part)


def _length(item: StockItem | None, data: UsedEntry) -> str:
    return data.amount.text if item is None or not data.amount.text.endswith(" mm") else item.write(data.amount.number)


def _number(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def _table(title: str, *columns: tuple[str, int]) -> Table:
    table = Table(title=title, title_justify="left", title_style="bold", box=None, pad_edge=False, padding=(0, 2, 0, 0))
    table.title = Text(title, style="bold")
    for name, is_left in columns:
        table.add_column(name, justify="left" if is_left else "right", header_style="dim")
    return table
