"""The folder of a run: lay plan, cut tickets, cost, quote and buying list."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from reports.draw.kit.files import PICTURES
from reports.output import write_text
from reports.run.lay_marker import lay_to_plain
from reports.run.packet.book import write_packet
from reports.run.plain import run_to_plain
from reports.run.quotes import quotes_of
from reports.run.rolls_left import rolls_left_csv

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from matplotlib.figure import Figure

    from reports.ask.order.order import Order
    from reports.run.plan import RunPlan

PACKET = "packet.pdf"

ROLLS_LEFT = "rolls-left.csv"

PAGES = ("lays", "cost", "unit-cost", "quote")


def fixed_files(folder: Path, order: Order) -> list[Path]:
    """All files of a run whose number does not depend on its plan."""
    pages = [page for page in PAGES if page != "quote" or order.clients is None]
    fixed = [folder / "run.json", folder / "run.txt", folder / PACKET]
    if any(cloth.rolls for cloth in order.fabric):
        fixed.append(folder / ROLLS_LEFT)
    return [*fixed, *(folder / f"{page}.{s}" for page in pages for s in PICTURES)]


def left_over(folder: Path) -> list[Path]:
    """Files of an earlier plan whose number depends on it: cut tickets, quotes for clients, and the markers of lays."""
    pages = (*folder.glob("ticket-*"), *folder.glob("quote*"))
    lays = (path for path in folder.glob("lay-*.json") if path.stem[4:].isdigit())
    return sorted((*(path for path in pages if path.suffix[1:] in PICTURES), *lays))


def write_run(run: RunPlan, text: str, folder: Path) -> list[Path]:
    """Write all files of a run; tickets, quotes and lays of an earlier plan that would be left over are removed.

    Parameters
    ----------
    text
        The answer in words.
    """
    from reports.draw.kit.files import save, save_pages
    from reports.run.draw.lays import lays_pages

    for old in left_over(folder):
        old.unlink()
    written = [folder / "run.json", folder / "run.txt"]
    write_text(written[0], json.dumps(run_to_plain(run), indent=2) + "\n")
    write_text(written[1], text)
    if any(cloth.rolls for cloth in run.order.fabric):
        written.append(folder / ROLLS_LEFT)
        write_text(written[-1], rolls_left_csv(run))
    for lay in run.lays:
        written.append(folder / f"lay-{lay.ticket}.json")
        write_text(written[-1], json.dumps(lay_to_plain(lay, run.order)))
    written.append(folder / PACKET)
    write_packet(run, written[-1])
    for name, figure in _figures(run):
        for suffix in PICTURES:
            if (name, suffix) == ("lays", "pdf"):
                save_pages(lays_pages(run), folder / "lays.pdf")
            else:
                save(figure, folder / f"{name}.{suffix}")
            written.append(folder / f"{name}.{suffix}")
    return written


def _figures(run: RunPlan) -> Iterator[tuple[str, Figure]]:
    from reports.draw.quote import quote_page
    from reports.run.draw.cost import parts_page, unit_cost_page
    from reports.run.draw.lays import lays_page
    from reports.run.draw.ticket import ticket_page

    units, costing = run.order.written_in, run.costing
    title = f"{'Example rates: ' if costing.quote.examples else ''}{run.order.title}"
    price = costing.rule.prices(costing.cost.garment.total).wholesale
    yield "lays", lays_page(run)
    yield "cost", parts_page(costing.cost, costing.quote, title)
    yield "unit-cost", unit_cost_page(costing.curve, costing.rule, price, units, title)
    for quote in quotes_of(run):
        yield quote.file, quote_page(quote.quote)
    for ticket, lay in zip(run.tickets, run.lays, strict=True):
        yield f"ticket-{ticket.number}", ticket_page(ticket, lay, units)
