"""What to buy for one job, as a report: every cloth and rib offered, their markers, and the cheapest of each."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

from pieces.units import Units
from reports.buy.living import living_plan
from reports.chart.report import chart_page
from reports.errors import PriceError
from reports.money.price import one_currency
from reports.plan.answers import FabricPlan, Refusal
from reports.plan.best import best_of
from reports.plan.costing import costing_of, price_words
from reports.plan.pictures import marker_part, rib_part
from reports.plan.plan import Plan
from reports.plan.shopping import shopping_left_out, shopping_rows
from reports.plan.together import share_rows
from reports.plan.words import SPREAD_WORDS, answer_lines, width_words
from reports.sheets.cells import bound, cloth, cloth_column, line, money, need, rows_of, share, size, size_column, whole
from reports.sheets.report import Lines, Page, Report
from reports.sheets.shown import show_as
from reports.sheets.table import Column, Number, Row, Table

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from reports.ask.offer import FabricOffer, RibOffer
    from reports.chart.chart import Chart
    from reports.plan.answers import RibAnswer
    from reports.plan.best import Best
    from reports.sheets.report import PagePart
    from reports.sheets.table import Cell


def plan_report(plan: Plan, chart: Chart | None = None) -> Report:
    """The report of a job, with its chart if there is one."""
    job = plan.job
    garments = f"{plan.made} garments" if plan.made > 1 else "one garment"
    pages = [_buying(plan), _as_planned(plan), _pieces(plan), _markers(plan), *([chart_page(chart)] if chart else [])]
    is_metric = job.written_in is Units.METRIC
    return Report(job.title, f"{job.name}: {garments}", tuple(pages), is_metric, lambda: living_plan(plan))


def _buying(plan: Plan) -> Page:
    """What to buy and what it costs come first: a small screen shows that at once."""
    costing = costing_of(plan)
    parts: list[PagePart] = [*_cheapest(plan), *([Lines(tuple(price_words(costing)))] if costing else [])]
    parts += [_shopping(plan), Lines(tuple(answer_lines(plan))), _fabrics(plan)]
    parts += [_ribs(plan)] if plan.ribs else []
    return Page("Buying list", (*parts, *_rest(plan)), "page")


def _as_planned(plan: Plan) -> Page:
    """What the living sheets do not say: how each offer lies, where things are used, and the answer in words."""
    tables = [_without(_fabrics(plan), BOUGHT), *([_without(_ribs(plan), BOUGHT)] if plan.ribs else [])]
    tables.append(_without(_shopping(plan), ("price", "cost")))
    said = Lines(("The plan's own answer: it does not follow changes on the sheet of inputs.",))
    return Page("As planned", (said, *tables, Lines(tuple(answer_lines(plan))), *_rest(plan)), "workbook")


def _rest(plan: Plan) -> Iterator[PagePart]:
    if plan.job.together:
        yield _shares(plan)
    if plan.remarks:
        yield Lines(tuple(f"Note: {remark}" for remark in plan.remarks))


BOUGHT = ("to buy", "strips or sets", "price", "cost")
"""Columns that the living buying list has."""


def _without(table: Table, headings: Collection[str]) -> Table:
    """A table without some columns."""
    kept = [i for i, column in enumerate(table.columns) if column.heading not in headings]
    rows = tuple(replace(row, cells=tuple(row.cells[i] for i in kept)) for row in table.rows)
    return replace(table, columns=tuple(table.columns[i] for i in kept), rows=rows)


def _currency(plan: Plan) -> str | None:
    """The currency that all offers are priced in; None if there are several."""
    offers: list[FabricOffer | RibOffer] = [*plan.job.fabric, *plan.job.rib]
    try:
        return one_currency(offer.price for offer in offers if offer.price)
    except PriceError:
        return None


def _cost(plan: Plan, answer: FabricPlan | RibAnswer) -> Cell:
    """What an offer costs: a number where all are in one currency, else in words."""
    if answer.cost is None or answer.offer.price is None or _currency(plan) is not None:
        return money(answer.cost)
    return answer.offer.price.write(answer.cost)


def _cost_column(plan: Plan) -> Column:
    currency = _currency(plan)
    return Column("cost") if currency is None else Column("cost", "money", currency)


def _fabrics(plan: Plan) -> Table:
    units = plan.job.written_in
    heads = (
        Column("cloth"),
        Column("for"),
        size_column("width", units),
        Column("laid"),
        size_column("marker", units),
        Column("used", "share"),
        size_column("marker at least", units),
        cloth_column("to buy", units),
        Column("price"),
        _cost_column(plan),
    )
    lines: list[tuple[Cell, ...]] = []
    for one in plan.fabrics:
        width = size(one.offer.width, units)
        if isinstance(one, Refusal):
            lines.append((one.offer.name, "", width, "will not do", *[""] * 6))
            continue
        marker, price = one.result.marker, one.offer.price_for(one.purchase.buy)
        own = (
            SPREAD_WORDS[one.spread],
            need(marker.length, units),
            share(marker.density),
            bound(one.at_least, units),
        )
        bought = cloth(one.purchase.buy, units, one.purchase.text), str(price or ""), _cost(plan, one)
        lines.append((one.offer.name, one.offer.part, width, *own, *bought))
    return Table("cloth", "Cloth: each offer separately", heads, rows_of(lines))


def _ribs(plan: Plan) -> Table:
    units = plan.job.written_in
    heads = (
        Column("rib"),
        Column("form"),
        Column("strips or sets", "whole"),
        cloth_column("to buy", units),
        Column("joins", "whole"),
        Column("price"),
        _cost_column(plan),
    )
    lines: list[tuple[Cell, ...]] = []
    for one in plan.ribs:
        if isinstance(one, Refusal):
            lines.append((one.offer.name, "will not do", *[""] * 5))
            continue
        bought: tuple[Cell, Cell] = (
            ("", cloth(one.purchase.buy, units, one.text))
            if one.purchase
            else (
                Number(one.plan.count, one.text),
                "",
            )
        )
        price = str(one.offer.price or "")
        lines.append((one.offer.name, one.offer.form, *bought, whole(one.plan.joins), price, _cost(plan, one)))
    return Table("rib", "Rib: each offer separately", heads, rows_of(lines))


def _cheapest(plan: Plan) -> Iterator[Table]:
    """The best offer for each part, summed up, if each costs least and all are in one currency."""
    best = best_of(plan)
    if _currency(plan) is None or any(one.answer.cost is None or one.by == "quantity" for one in best):
        return
    rows = [Row((one.part, one.named, _texts(one), money(one.answer.cost))) for one in best]
    total = sum((one.answer.cost or Decimal(0) for one in best), Decimal(0))
    rows.append(Row(("all", "", "", money(total)), "total"))
    heads = Column("for"), Column("what"), Column("to buy"), _cost_column(plan)
    yield Table("cheapest", "The cheapest of each", heads, tuple(rows))


def _shopping(plan: Plan) -> Table:
    """Everything to buy, with where each is used."""
    heads = tuple(Column(name) for name in ("what", "buy", "sold by", "price", "cost", "used at"))
    notes = tuple(filter(None, (shopping_left_out(plan),)))
    return Table("shopping", "Shopping list", heads, rows_of(words for _, words in shopping_rows(plan)), notes)


def _shares(plan: Plan) -> Table:
    """Each garment's share of what is bought."""
    heads = tuple(Column(name) for name in ("of", "garment", "share", "length", "cost"))
    return Table("shares", "Shares, by area of the pieces", heads, rows_of(share_rows(plan)))


def _texts(best: Best) -> str:
    """What to buy of it; of several that cost the same, of each."""
    return " or ".join(dict.fromkeys(_text(answer) for answer in (best.answer, *(other for _, other in best.tied))))


def _text(answer: FabricPlan | RibAnswer) -> str:
    return answer.purchase.text if isinstance(answer, FabricPlan) else answer.text


def _markers(plan: Plan) -> Page:
    units = plan.job.written_in
    parts: list[PagePart] = []
    for number, fabric in plan.markers:
        offer = fabric.offer
        how = f"{width_words(offer, units)}, {SPREAD_WORDS[fabric.spread]}{', with nap' if offer.nap else ''}"
        rows = [Row((one.what, line(one, units))) for one in fabric.purchase.lines("marker", units)]
        rows.append(Row((f"to buy: {fabric.purchase.text}", size(fabric.purchase.buy, units)), "total"))
        heads = Column("from marker to purchase"), size_column("length", units)
        title = f"Marker {number}: {offer.name}"
        parts.append(Table(f"marker-{number}", title, heads, tuple(rows), (how,), starts_page=True))
        parts += marker_part(fabric.result.marker, units, f"{title}, {how}")
    parts += [rib_part(plan, rib) for _, rib in plan.rib_plans]
    return Page("Markers", tuple(parts))


def _pieces(plan: Plan) -> Page:
    units = plan.job.written_in
    lines = [
        (
            piece.name,
            piece.material,
            whole(piece.cut),
            "on the fold" if piece.on_fold else "left and right" if piece.mirrored_pair else "",
            size(piece.length, units),
            size(piece.width, units),
        )
        for piece in plan.pieces
    ]
    heads = (
        Column("piece"),
        Column("from"),
        Column("cut", "whole"),
        Column("how"),
        size_column("length, cut", units),
        size_column("width, cut", units),
    )
    return Page("Pieces", (Table("pieces", "Pieces", heads, rows_of(lines)),), goes_on=True)


show_as(Plan, plan_report)
