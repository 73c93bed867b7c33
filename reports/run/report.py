"""A production run as a report: buying list, garments and lays, cost sheet, cut tickets."""

from __future__ import annotations

from decimal import Decimal
from itertools import islice
from typing import TYPE_CHECKING

from pieces.units import Units
from reports.cautions import LAW
from reports.money.cost.words import billed_lines, curve_lines, in_unit, price_lines, sheet_lines, write_quantity
from reports.money.examples import example_line
from reports.money.price import price_words
from reports.plan.pictures import marker_part
from reports.plan.words import how_cut
from reports.run.buying import by_supplier
from reports.run.living import living_run
from reports.run.plan import RunPlan
from reports.run.words import NOT_COSTED, left_lines, lot_lines, there_lines
from reports.sheets.cells import cloth, cloth_column, money, need, rows_of, share, size_column, whole
from reports.sheets.report import Lines, Page, Report
from reports.sheets.shown import show_as
from reports.sheets.table import Column, Number, Row, Table

if TYPE_CHECKING:
    from collections.abc import Iterator

    from reports.money.cost.pricing import Prices
    from reports.money.cost.sheet import CostSheet
    from reports.run.lot_plan import LotPlan
    from reports.run.tickets import Ticket
    from reports.sheets.report import PagePart
    from reports.sheets.table import Cell


def run_report(run: RunPlan) -> Report:
    """The report of a run."""
    tickets = Page("Cut tickets", tuple(_tickets(run)))
    pages = [_buying(run), Page("Notes", _notes(run), "workbook"), _lays(run), _cost(run), tickets]
    subtitle = f"{run.order.name}: {sum(run.cut.values())} garments; {run.garments.source}"
    is_metric = run.order.written_in is Units.METRIC
    return Report(run.order.title, subtitle, tuple(pages), is_metric, lambda: living_run(run))


def _buying(run: RunPlan) -> Page:
    heads = (
        Column("what"),
        Column("for"),
        Column("supplier"),
        Column("quantity", "number"),
        Column("unit", names_unit=True),
        Column("price"),
        Column("cost", "money", run.costing.rule.currency),
    )
    rows, suppliers = [], by_supplier(run.to_buy)
    for supplier, some in suppliers.items():
        for one in some:
            quantity = Number(one.number, one.quantity)
            cells = one.what, one.part, one.supplier, quantity, one.unit, price_words(one.price), money(one.cost)
            rows.append(Row(cells))
        if len(suppliers) > 1 and all(one.cost is not None for one in some):
            cost = sum((one.cost or Decimal(0) for one in some), Decimal(0))
            rows.append(Row((f"from {supplier or 'no supplier named'}", *[""] * 5, money(cost)), "subtotal"))
    if all(one.cost is not None for one in run.to_buy):
        cost = sum((one.cost or Decimal(0) for one in run.to_buy), Decimal(0))
        rows.append(Row(("all", *[""] * 5, money(cost)), "total"))
    costs = Lines(tuple(islice(price_lines(run.costing.cost, run.costing.quote), 1)))
    return Page("Buying list", (costs, Table("buying-list", "To buy", heads, tuple(rows)), *_notes(run)), "page")


def _notes(run: RunPlan) -> tuple[PagePart, ...]:
    """What the drafts call for, and what to know."""
    notes = (
        *there_lines(run),
        *(f"Rib: {of.rib.name}: {how_cut(of.plan)}." for of in run.ribs),
        *(f"Note: {note}" for note in run.notes),
        *(f"Left out: {line}" for line in run.garments.left_out),
        LAW,
    )
    needed = Table(
        "trims-needed",
        "Trims that the drafts need, for all garments",
        tuple(Column(name) for name in ("what", "buy", "for", "used at")),
        tuple(Row(trim.words) for trim in run.trims),
    )
    trims = (needed, Lines((NOT_COSTED,))) if run.trims else ()
    return *trims, Lines(notes)


def _lays(run: RunPlan) -> Page:
    parts: list[PagePart] = [_garments(run)]
    for number, plan in enumerate(run.lots, 1):
        parts += [_lot(run, plan, number), Lines(tuple(lot_lines(run, plan)))]
    left = tuple(left_lines(run))
    return Page("Lays", (*parts, *((Lines(left),) if left else ()), _taken(run)))


def _garments(run: RunPlan) -> Table:
    sizes = [one.name for one in run.garments.sizes]
    heads = Column("colour"), *(Column(name, "whole") for name in sizes), Column("all", "whole", sums_from=1)
    rows: list[Row] = []
    numbers = {colour: [run.cut.get((colour, name), 0) for name in sizes] for colour in run.garments.colours}
    for colour, cut in numbers.items():
        ordered = [run.garments.ordered[colour, name] for name in sizes]
        cells = [
            Number(n, f"{n}" if n == asked else f"{n} ({asked} ordered)") for n, asked in zip(cut, ordered, strict=True)
        ]
        rows.append(Row((colour, *cells, whole(sum(cut)))))
    sums = [sum(column) for column in zip(*numbers.values(), strict=True)]
    rows.append(Row(("all", *map(whole, sums), whole(sum(sums))), "total"))
    return Table("garments", "Garments cut", heads, tuple(rows))


def _lot(run: RunPlan, plan: LotPlan, number: int) -> Table:
    units, keys = run.order.written_in, list(plan.lot.cloths)
    heads = (
        Column("ticket", "whole"),
        Column("garments on the marker"),
        *(Column(f"plies of {key}", "whole") for key in keys),
        size_column("marker", units),
        Column("used", "share"),
    )
    rows, tickets = [], [ticket for ticket in run.tickets if ticket.part == plan.lot.part]
    for ticket in tickets:
        mix = ", ".join(f"{n} × {name}" if n > 1 else name for name, n in ticket.garments.items())
        plies = [whole(ticket.plies.get(key, 0)) for key in keys]
        laid = need(ticket.marker.length, units), share(ticket.marker.density)
        rows.append(Row((whole(ticket.number), mix, *plies, *laid)))
    sums = [whole(sum(ticket.plies.get(key, 0) for ticket in tickets)) for key in keys]
    rows.append(Row(("all", "", *sums, "", ""), "total"))
    return Table(f"lays-{number}", f"Lays: {plan.lot.part}", heads, tuple(rows))


def _taken(run: RunPlan) -> Table:
    """Cloth that a garment of each size really takes."""
    units, sizes = run.order.written_in, [one.name for one in run.garments.sizes]
    lines: list[list[Cell]] = []
    for plan in run.lots:
        taken = plan.taken()
        lines += [
            [own.name, *(cloth(taken[key, name], units) if (key, name) in taken else "" for name in sizes)]
            for key, own in plan.lot.cloths.items()
        ]
    heads = Column("cloth"), *(cloth_column(name, units) for name in sizes)
    return Table("cloth-by-size", "Cloth that each garment takes", heads, rows_of(lines))


def _cost(run: RunPlan) -> Page:
    costing, units = run.costing, run.order.written_in
    cost, rule = costing.cost, costing.rule
    marks = [example_line(costing.quote.examples)] if costing.quote.examples else []
    return Page(
        "Cost sheet",
        (
            Lines((*marks, *price_lines(cost, costing.quote), *billed_lines(costing.quote))),
            _by_size(run),
            *_sheet(run, "garment", cost.garment),
            *_sheet(run, "run", cost.run),
            Lines(tuple(curve_lines(costing.curve, rule.currency, units))),
        ),
        "page",
    )


def _sheet(run: RunPlan, name: str, sheet: CostSheet) -> tuple[Table, Lines]:
    """A cost sheet, and how the lines that do not explain themselves come about."""
    units = run.order.written_in
    heads = (
        Column("what"),
        Column("for"),
        Column("quantity", "number"),
        Column("unit", names_unit=True),
        Column("price"),
        Column("amount", "money", run.costing.rule.currency),
    )
    rows = []
    for line in sheet.lines:
        number: Cell = ""
        unit = ""
        if line.quantity is not None:
            bare, unit = in_unit(line.quantity, line.measure, units, line.price)
            number = Number(bare, write_quantity(line.quantity, line.measure, units, line.price))
        rows.append(Row((line.what, line.part, number, unit, price_words(line.price), money(line.amount))))
    rows.append(Row(("total", *[""] * 4, money(sheet.total)), "total"))
    table = Table(f"cost-of-{name}", sheet.title, heads, tuple(rows))
    return table, Lines(tuple(sheet_lines(sheet)))


def _by_size(run: RunPlan) -> Table:
    """One garment of each size and the mean of all, part by part, down to the prices."""
    cost, rule = run.costing.cost, run.costing.rule
    sheets = [*cost.sizes.values(), cost.garment]
    heads = Column("part"), *(Column(name, "money", rule.currency) for name in (*cost.sizes, "mean"))
    rows = [Row((part, *(money(amount) for amount in each))) for part, each in cost.parts.items()]
    rows.append(Row(("cost", *(money(sheet.total) for sheet in sheets)), "total"))
    prices: list[Prices | None] = [rule.prices(sheet.total) for sheet in sheets]
    if not rule.by_size:
        prices[:-1] = [None] * len(cost.sizes)
    rows.append(Row(("wholesale", *(money(one.wholesale if one else None) for one in prices))))
    if rule.retail is not None:
        rows.append(Row(("retail", *(money(one.retail if one else None) for one in prices))))
    return Table("cost-by-size", "Cost of one garment", heads, tuple(rows))


def _tickets(run: RunPlan) -> Iterator[PagePart]:
    for ticket in run.tickets:
        yield ticket_table(ticket)
        yield from marker_part(ticket.marker, run.order.written_in, ticket.title, ticket.cautions)
        yield Lines(ticket.checks, "checks")


def ticket_table(ticket: Ticket) -> Table:
    """What a lay gives, by size and colour."""
    (first, *others), *body, last = ticket.cells
    heads = [Column(first), *(Column(words, "whole") for words in others[:-1])]
    heads.append(Column(others[-1], "whole", sums_from=2))
    rows = [Row((name, *(whole(int(number)) for number in numbers))) for name, *numbers in body]
    rows.append(Row((last[0], *(whole(int(number)) for number in last[1:])), "total"))
    lines = ticket.subtitle, *ticket.lines
    return Table(f"ticket-{ticket.number}", ticket.title, tuple(heads), tuple(rows), lines, starts_page=True)


show_as(RunPlan, run_report)
