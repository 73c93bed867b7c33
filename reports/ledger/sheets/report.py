"""The ledger as a report, for a workbook and for tables: what is on hand, orders, rates, and every entry."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.units import INCH, Units, format_size
from reports.ledger.rates import cloth_rates, minute_rates
from reports.ledger.words import entry_words
from reports.sheets.cells import cloth, cloth_column, rows_of, share, whole
from reports.sheets.report import Page, Report
from reports.sheets.table import Column, Number, Table

if TYPE_CHECKING:
    from collections.abc import Iterator
    from fractions import Fraction

    from nesting.lays.order import ColourSize
    from reports.ledger.orders import LedgerOrder
    from reports.ledger.rates import MinuteRate
    from reports.ledger.standing import LedgerStanding
    from reports.sheets.table import Cell
    from reports.stock.item import StockItem


def ledger_report(standing: LedgerStanding, units: Units) -> Report:
    """The whole ledger; `units` are those of cloth that orders planned."""
    pages = (
        Page("On hand", (stock_sheet(standing),)),
        Page("Orders", (_orders(standing), _cloths(standing, units))),
        Page("Rates", (_minutes(standing), _cloth_rates(standing))),
        Page("History", (_history(standing),)),
    )
    return Report("Ledger", "What is on hand, orders and rates", pages, units is Units.METRIC)


def stock_sheet(standing: LedgerStanding) -> Table:
    """Everything that came in, used up or not."""
    heads = (
        *(Column(name) for name in ("item", "what", "colour", "lot")),
        *(Column("width", "size"), Column("width in", names_unit=True), Column("came in on")),
        *(Column(name, "number") for name in ("came in", "used", "left")),
        *(Column("in", names_unit=True), Column("cut from")),
    )
    return Table("on-hand", "On hand", heads, rows_of(_stock(item) for item in standing.items.values()))


def _stock(item: StockItem) -> Iterator[Cell]:
    yield from (item.label, item.name, item.colour, item.lot)
    is_metric = item.units is Units.METRIC
    if item.width is None:
        yield from ("", "")
    else:
        yield Number(item.width / (10.0 if is_metric else INCH), format_size(item.width, item.units))
        yield "cm" if is_metric else "in"
    yield item.day.isoformat()
    yield from (_amount(item, amount) for amount in (item.got, item.used, item.left))
    yield item.unit
    yield "" if item.cut_from is None else str(item.cut_from)


def _amount(item: StockItem, amount: Fraction) -> Number:
    return Number(round(item.number_of(amount), 6), item.write(amount))


def _orders(standing: LedgerStanding) -> Table:
    heads = (
        *(Column(name) for name in ("order", "garment", "colour", "size")),
        *(Column(name, "whole") for name in ("ordered", "cut", "sewn", "delivered")),
    )
    lines = (_kind(order, kind, number) for order in standing.orders.values() for kind, number in order.ordered.items())
    return Table("orders", "Orders", heads, rows_of(lines))


def _kind(order: LedgerOrder, kind: ColourSize, number: int) -> Iterator[Cell]:
    yield from (order.name, order.data.garment, *kind)
    yield from (whole(number), *(whole(counts[kind]) for counts in order.done.values()))


def _cloths(standing: LedgerStanding, units: Units) -> Table:
    heads = (Column("order"), Column("cloth"), cloth_column("planned", units), cloth_column("used", units))
    lines = (
        (order.name, name, "" if planned is None else cloth(planned, units), cloth(used, units))
        for order in standing.orders.values()
        for name, (planned, used) in order.cloths.items()
    )
    return Table("cloth", "Cloth of orders", heads, rows_of(lines))


def _minutes(standing: LedgerStanding) -> Table:
    heads = (
        *(Column("garment"), Column("work"), Column("minutes a garment", "number"), Column("planned", "number")),
        *(Column("runs", "whole"), Column("garments", "whole"), Column("least", "number"), Column("most", "number")),
    )
    lines = (_timed(rate) for rate in minute_rates(standing.orders.values()))
    return Table("minutes", "Minutes a garment, by what was done", heads, rows_of(lines))


def _timed(rate: MinuteRate) -> Iterator[Cell]:
    yield from (rate.garment, rate.work, _number(rate.minutes))
    yield "" if rate.planned is None else _number(rate.planned)
    yield from (whole(rate.runs), whole(rate.garments), _number(rate.least), _number(rate.most))


def _cloth_rates(standing: LedgerStanding) -> Table:
    heads = (
        *(Column("garment"), Column("used of what was planned", "share"), Column("margin to write", "number", "%")),
        Column("runs", "whole"),
    )
    lines = (
        (rate.garment, share(rate.factor), _number(rate.margin), whole(rate.runs))
        for rate in cloth_rates(standing.orders.values())
    )
    return Table("cloth-rates", "Cloth used against cloth planned", heads, rows_of(lines))


def _history(standing: LedgerStanding) -> Table:
    heads = (Column("entry", "whole"), *(Column(name) for name in ("day", "entered", "kind", "what", "note")))
    lines = (
        (
            *(whole(entry.number), entry.day.isoformat(), entry.made[:19].replace("T", " "), entry.kind),
            *(entry_words(entry, standing), entry.data.note),
        )
        for entry in standing.entries
    )
    return Table("history", "History", heads, rows_of(lines))


def _number(value: float) -> Number:
    return Number(round(value, 2), f"{value:.1f}")
