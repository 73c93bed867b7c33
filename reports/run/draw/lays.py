"""The lay plan as a picture: each lay as long as it is spread, and as high as its plies."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.draw.head import Head
from reports.draw.kit.sheet import GREY, MARGIN, PAGE_HEIGHT, PAGE_WIDTH, new_page, shorten, text_width
from reports.money.lengths import write_need
from reports.run.words import lot_lines

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from reports.draw.kit.sheet import Sheet
    from reports.run.plan import RunPlan
    from reports.run.tickets import Ticket

TINTS = ("white", "0.8", "0.6", "0.9", "0.7", "0.5")
"""Fills of the cloths, told apart in black and white."""

LEFT, ROOM = 190.0, 26.0
PLY, LEAST, MOST = 5.0, 12.0, 70.0
"""Height of a ply where there is room, and of a lay, points."""


def lays_page(run: RunPlan) -> Figure:
    """Draw all lays, under one another, at one scale along."""
    units = run.order.written_in
    head = Head(
        f"Lay plan: {run.order.title}",
        f"{sum(run.cut.values())} garments; {run.garments.source}",
        (f"{len(run.tickets)} lays", *(line.strip() for plan in run.lots for line in lot_lines(run, plan))),
        PAGE_WIDTH - 2 * MARGIN,
    )
    longest = max(ticket.length for ticket in run.tickets)
    highest = max(sum(ticket.plies.values()) for ticket in run.tickets)
    ply = min(PLY, MOST / highest)
    deep = [max(LEAST, ply * sum(ticket.plies.values())) + ROOM for ticket in run.tickets]
    height = max(PAGE_HEIGHT, 2 * MARGIN + head.height + 30 + sum(deep))
    figure, page = new_page(height)
    top = height - MARGIN
    head.draw(page, top)
    top -= head.height
    tints = {key: TINTS[i % len(TINTS)] for i, key in enumerate(_keys(run))}
    top = _legend(page, tints, top)
    scale = (PAGE_WIDTH - 2 * MARGIN - LEFT - 60) / longest
    for ticket, room in zip(run.tickets, deep, strict=True):
        _draw(page, ticket, tints, top, scale, room - ROOM, write_need(ticket.length, units))
        top -= room
    return figure


def _keys(run: RunPlan) -> list[str]:
    return list(dict.fromkeys(key for plan in run.lots for key in plan.lot.cloths))


def _legend(page: Sheet, tints: dict[str, str], top: float) -> float:
    x = MARGIN
    for key, tint in tints.items():
        _box(page, x, top - 14, 14, 9, tint)
        page.text(x + 19, top - 13, key, 7)
        x += 34 + text_width(key, 7)
    page.text(x + 10, top - 13, "length of a lay to scale; height: its plies, by cloth", 7)
    return top - 30


def _draw(
    page: Sheet, ticket: Ticket, tints: dict[str, str], top: float, scale: float, high: float, length: str
) -> None:
    """One lay: what is on its marker at the left, its plies cloth by cloth, its length at the right."""
    mix = ", ".join(f"{n} × {size}" if n > 1 else size for size, n in ticket.garments.items())
    page.text(MARGIN, top - 9, f"{ticket.number}  {ticket.part}", 8, bold=True)
    page.text(MARGIN, top - 19, shorten(mix, 7, LEFT - 12), 7)
    total, base, wide = sum(ticket.plies.values()), top - high, ticket.length * scale
    for key, plies in ticket.plies.items():
        part = high * plies / total
        _box(page, MARGIN + LEFT, base, wide, part, tints[key])
        words = f"{plies} × {key}"
        if part >= 8 and text_width(words, 6.5) < wide - 6:
            page.text(MARGIN + LEFT + 4, base + part / 2, words, 6.5, upright="center")
        base += part
    page.text(MARGIN + LEFT + wide + 5, top - high / 2, length, 7, upright="center")
    if high < 8 * len(ticket.plies):
        told = ", ".join(f"{n} × {key}" for key, n in ticket.plies.items())
        page.text(MARGIN + LEFT, top - high - 9, told, 6.5)


def _box(page: Sheet, x: float, y: float, wide: float, high: float, tint: str) -> None:
    corners = [(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)]
    page.area(corners, tint)
    page.line(corners, 0.5, closed=True, colour="black" if tint != GREY else GREY)
