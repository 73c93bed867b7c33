"""The pages of a dossier, put together from what the other prints draw."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from pieces.body.measures import MEASURES
from pieces.units import format_need, format_size
from reports.ask.imported import IMPORTED
from reports.ask.shape import SHAPES
from reports.cautions import cautions
from reports.draw.kit.listed import GUTTER, TYPE, Listed, list_pages
from reports.draw.kit.sheet import MARGIN, font, printable, wrap
from reports.money.cost.words import write_quantity
from reports.money.price import write_money
from reports.plan.answers import FabricPlan
from reports.plan.best import best_of
from reports.plan.costing import costing_of, left_out_words, price_words
from reports.plan.shopping import shopping_left_out, shopping_rows
from reports.plan.words import SPREAD_WORDS, width_words

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from matplotlib.figure import Figure

    from pieces.units import Units
    from reports.ask.job import Job
    from reports.plan.answers import RibAnswer
    from reports.plan.plan import Plan

FOOT = 7.0
"""Size of type of the line at the foot of each page, points."""

WIDE = 560.0
"""How wide words in a table are before they are broken, points."""

PAGE = (297.0, 210.0)
"""A4 on its side, mm: pages that need more are taller."""

FILL_IN = "Client ______________________________      Fitted on ____________________"


def write_dossier(plan: Plan, path: Path, made: date | None = None) -> int:
    """Write the dossier of a job's answer; its number of pages. `made` is the day on it, by default today."""
    from reports.draw.kit.files import save_pages

    figures = list(dossier_pages(plan, made or date.today()))
    save_pages(figures, path)
    return len(figures)


def dossier_pages(plan: Plan, made: date) -> list[Figure]:
    """All pages: what is made of which cloth, body, pieces, markers, rib, what to buy, sewing, cost."""
    figures = [*_cover(plan, made), *_drawings(plan), *_buying(plan), *_sewing(plan), *_cost(plan)]
    cloths = ", ".join(one.offer.name for one in _best(plan))
    said = f"{plan.job.title} · {cloths} · {day_words(made)}"
    for number, figure in enumerate(figures, 1):
        _foot(figure, f"{said} · page {number} of {len(figures)}")
    return figures


def day_words(made: date) -> str:
    """A day as it is written."""
    return f"{made.day} {made:%B %Y}"


def _foot(figure: Figure, words: str) -> None:
    """A line at the foot of a page."""
    width, height = (side * 72 for side in figure.get_size_inches())
    figure.text(MARGIN / width, MARGIN / 2 / height, printable(words), fontproperties=font(FOOT), parse_math=False)


def _best(plan: Plan) -> list[FabricPlan | RibAnswer]:
    """The cloth of each part, and the rib, that are bought."""
    return [one.answer for one in best_of(plan)]


def _cover(plan: Plan, made: date) -> Iterator[Figure]:
    units = plan.job.written_in
    cloth = Listed(
        "Cloth",
        ("cloth", "for", "width", "laid", "marker", "buy"),
        tuple(
            (
                one.offer.name,
                one.offer.part,
                width_words(one.offer, units),
                SPREAD_WORDS[one.spread],
                format_need(one.result.marker.length, units),
                one.purchase.text,
            )
            for one in _best(plan)
            if isinstance(one, FabricPlan)
        ),
    )
    told = [f"Made on {day_words(made)}.", FILL_IN, *_bought(plan)]
    yield from list_pages(f"Dossier: {plan.job.title}", told, [cloth, *_bodies(plan), *_finished(plan)], ())


def _bought(plan: Plan) -> Iterator[str]:
    """How much of each cloth and rib is bought."""
    for one in _best(plan):
        price = one.offer.price
        cost = f", {price.write(one.cost)}" if price is not None and one.cost is not None else ""
        text = one.purchase.text if isinstance(one, FabricPlan) else one.text
        yield f"Buy {text} of {one.offer.name}{cost}."


def _bodies(plan: Plan) -> Iterator[Listed]:
    """What was measured of each body; corrections from a try-on as well."""
    units = plan.job.written_in
    for member in plan.members:
        if rows := list(_measured(member.job, units)):
            whose = f": {member.label}" if len(plan.members) > 1 and member.label else ""
            yield Listed(
                f"Body measurements{whose}", ("what", "measured", "where the tape runs"), _wrapped(rows, 2), WIDE
            )


def _wrapped(rows: Sequence[tuple[str, ...]], column: int) -> tuple[tuple[str, ...], ...]:
    """Rows with one column in lines below one another where it is too wide: nothing is cut off."""
    found: list[tuple[str, ...]] = []
    for row in rows:
        for i, words in enumerate(wrap(row[column], TYPE, WIDE - GUTTER, bold=True) or [""]):
            cells = row if i == 0 else ("",) * len(row)
            found.append((*cells[:column], words, *cells[column + 1 :]))
    return tuple(found)


def _measured(job: Job, units: Units) -> Iterator[tuple[str, str, str]]:
    if job.together or job.garment in (IMPORTED, SHAPES):
        return
    body = job.measured()
    for name, mm in body.measurements().items():
        yield name.replace("_", " "), format_size(mm, units), MEASURES[name].how
    for name, value in job.body.items():
        if name != "wearer" and name not in MEASURES:
            yield name.replace("_", " "), str(value), "correction from a try-on"


def _finished(plan: Plan) -> Iterator[Listed]:
    units = plan.job.written_in
    rows = tuple(
        (
            one.name,
            format_size(one.garment, units),
            *("" if mm is None else format_size(mm, units) for mm in (one.body, one.ease)),
        )
        for one in plan.pieces.finished
    )
    if rows:
        yield Listed("Once sewn", ("what", "garment", "body", "ease"), rows)


def _drawings(plan: Plan) -> Iterator[Figure]:
    """The pieces, drawn small, and what is cut of each cloth and rib that is bought."""
    from reports.draw.pieces import pieces_page
    from reports.plan.pictures import marker_figure, rib_figure

    yield pieces_page(plan.pieces, title=f"{plan.job.title}: pieces", units=plan.job.written_in)
    for one in _best(plan):
        yield marker_figure(plan, one) if isinstance(one, FabricPlan) else rib_figure(plan, one)


def _buying(plan: Plan) -> Iterator[Figure]:
    heads = ("what", "buy", "sold by", "price", "cost", "used at")
    table = Listed("Everything to buy", heads, tuple(cells for _, cells in shopping_rows(plan)))
    garments = "1 garment" if plan.made == 1 else f"{plan.made} garments"
    told = [f"For {garments}.", *([left_out] if (left_out := shopping_left_out(plan)) else [])]
    if costing_of(plan) is None and any(line.cost is not None for line, _ in shopping_rows(plan)):
        told.append("The costs are what is bought, at the prices given. Work and what is added to it are not counted.")
    yield from list_pages(f"{plan.job.title}: shopping list", told, [table], cautions())


def _sewing(plan: Plan) -> Iterator[Figure]:
    from reports.ask.draft import draft_whole
    from reports.sew.draw import sewing_pages
    from reports.sew.sewing import sewing_order

    if any(member.job.model().steps is not None for member in plan.members):
        yield from sewing_pages(sewing_order(plan.job, draft_whole(plan.job)))


def _cost(plan: Plan) -> Iterator[Figure]:
    """What the garments cost, line by line, where the job asks for it."""
    costing, title, units = costing_of(plan), f"{plan.job.title}: cost", plan.job.written_in
    if costing is None:
        return
    currency = costing.quote.rule.currency
    rows: list[tuple[str, ...]] = [
        (
            line.what,
            line.part,
            write_quantity(line.quantity, line.measure, units, line.price),
            line.basis or str(line.price or ""),
            write_money(line.amount, currency),
        )
        for line in costing.cost.run.lines
    ]
    rows.append(("all", "", "", "", write_money(costing.cost.run.total, currency)))
    table = Listed("Cost sheet", ("what", "part", "how much", "how it is counted", "amount"), _wrapped(rows, 3), WIDE)
    told = [*([words] if (words := left_out_words(costing)) else []), *price_words(costing)]
    yield from list_pages(title, told, [table], costing.quote.notices)
