"""The pages of a cutting packet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cautions import cautions
from reports.draw.kit.listed import Listed, list_pages
from reports.draw.kit.sheet import DASHED, GREY, MARGIN, PAGE_HEIGHT, PAGE_WIDTH, new_page, shorten, text_width, wrap
from reports.money.lengths import write_left, write_need
from reports.run.draw.rib import rib_sheets
from reports.run.draw.ticket import ticket_page
from reports.run.given import given_rolls
from reports.run.rib_tickets import bands_by_ticket, spans
from reports.run.tickets import CHECKS, count_plies

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from datetime import date

    from matplotlib.figure import Figure

    from pieces.units import Units
    from reports.draw.kit.sheet import Sheet
    from reports.run.packet.packet import Bundle, Packet, RollSheet
    from reports.run.plan import RunPlan

ACROSS, DOWN = 3, 4
"""Labels on a sheet."""

LETTERING = (26.0, 20.0, 16.0, 13.0)
"""Sizes of type for what a label is known by, points."""

BOX, NAME = "☐", 14 * "_"


def packet_pages(run: RunPlan, packet: Packet, made: date) -> Iterator[Figure]:
    """All pages: cover, spreading sheet, tickets, rib sheets, bundle labels, checklist.

    Parameters
    ----------
    packet
        Counted again.
    made
        The day that stands on the cover.
    """
    units, title = run.order.written_in, run.order.title
    yield from _cover(run, packet, made)
    yield from _spreading(packet, title, units)
    for ticket, lay in zip(run.tickets, run.lays, strict=True):
        yield ticket_page(ticket, lay, units)
    for of, rib in zip(run.ribs, packet.ribs, strict=True):
        yield from rib_sheets(of, bands_by_ticket(of, run.each, units), rib.bought, title, units)
    yield from _labels(packet, f"{run.order.name}: {title}")
    yield from _checklist(packet, title)


def _cover(run: RunPlan, packet: Packet, made: date) -> Iterator[Figure]:
    units = run.order.written_in
    sizes = list(dict.fromkeys(line.size for line in packet.lines))
    by_kind = {(line.colour, line.size): line for line in packet.lines}
    rows = []
    for colour in dict.fromkeys(line.colour for line in packet.lines):
        own = [by_kind.get((colour, size)) for size in sizes]
        cells = [("" if one is None else _cut_words(one.cut, one.ordered)) for one in own]
        rows.append((colour, *cells, _cut_words(*packet.cut_of(colour))))
    rows.append(("all", *(_cut_words(*packet.cut_of(size=size)) for size in sizes), _cut_words(*packet.cut_of())))
    garments = Listed("To cut", ("colour", *sizes, "all"), tuple(rows))
    lays = Listed(
        "Lays",
        ("ticket", "what", "garments on the marker", "plies", "marker", "ply", "pieces of a ply"),
        tuple(
            (
                str(sheet.ticket),
                sheet.part,
                ", ".join(f"{n} × {size}" for size, n in sheet.garments.items()),
                ", ".join(f"{n} × {key}" for key, n in sheet.plies.items()),
                write_need(sheet.marker, units),
                write_need(sheet.ply, units),
                str(sum(sheet.pieces.values())),
            )
            for sheet in packet.lays
        ),
    )
    told: tuple[str, ...] = (
        f"Order {run.order.name}; {made.day} {made:%B %Y}; cut with: {run.order.cutting.tool}",
        f"{packet.ordered} garments ordered, {packet.cut} to cut. {len(packet.lays)} lays, {count_plies(packet.plies)},"
        f" {write_need(packet.cloth, units)} of cloth spread; {packet.pieces} pieces in {len(packet.bundles)} bundles.",
        "In this packet: spreading sheet, cut tickets, rib sheets, bundle labels, checklist.",
        "Every number in these lists was counted twice: from the plan, and from the order and the markers.",
    )
    told += _lacking(run, packet)
    tables = [garments.upright(), lays, *_bought(packet)]
    left_out = ("Left out of this order, and not in this packet:", *run.garments.left_out)
    yield from list_pages(
        f"Cutting packet: {run.order.title}",
        told,
        tables,
        cautions(run.order.cutting.tool),
        left_out if run.garments.left_out else (),
    )


def _lacking(run: RunPlan, packet: Packet) -> tuple[str, ...]:
    """Plies that no roll there is gives, in a line, if there are any."""
    lacking = sum(sheet.number for sheet in packet.rolls if sheet.lacking)
    if not lacking:
        return ()
    short = ", ".join(f"{one.rest.quantity} of {one.what}" for one in given_rolls(run) if one.rest)
    have = "has" if lacking == 1 else "have"
    return (f"{count_plies(lacking)} {have} no roll yet: see the spreading sheet. Still to buy: {short}.",)


def _bought(packet: Packet) -> list[Listed]:
    """What is bought of each rib, and what it gives."""
    heads = ("rib", "bought", "bands", "parts", "joins")
    rows = tuple((rib.name, rib.bought, str(rib.bands), str(rib.parts), str(rib.joins)) for rib in packet.ribs)
    return [Listed("Rib", heads, rows)] if rows else []


def _cut_words(cut: int, ordered: int) -> str:
    return f"{cut}" if cut == ordered else f"{cut} ({ordered} ordered)"


def _spreading(packet: Packet, title: str, units: Units) -> Iterator[Figure]:
    heads = ("roll", "lay", "plies, from the table up", "number", "each", "together", "spread")
    tables = []
    for key in dict.fromkeys((sheet.part, sheet.cloth) for sheet in packet.rolls):
        own = [sheet for sheet in packet.rolls if (sheet.part, sheet.cloth) == key]
        rows = [row for sheet in own for row in _roll_rows(sheet, units)]
        tables.append(Listed(f"{key[1]} ({key[0]})", heads, tuple(rows)))
    told = (
        "Spread lay by lay. Tick each line, and write the roll's number where none is printed.",
        "Where a ply stands in two lines it is joined of two rolls: overlap them as the order says.",
    )
    is_joined = any(
        (sheet.key, line.ticket, ply) in seen
        for sheet in packet.rolls
        for seen in [_elsewhere(packet, sheet)]
        for line in sheet.lines
        for ply in line.plies
    )
    yield from list_pages(f"Spreading sheet: {title}", told if is_joined else told[:1], tables, ())


def _elsewhere(packet: Packet, own: RollSheet) -> set[tuple[str, int, int]]:
    """Plies that other rolls give a part of."""
    others = (sheet for sheet in packet.rolls if sheet is not own and sheet.part == own.part)
    return {(sheet.key, line.ticket, ply) for sheet in others for line in sheet.lines for ply in line.plies}


def _roll_rows(sheet: RollSheet, units: Units) -> Iterator[tuple[str, ...]]:
    name = sheet.words if sheet.holds is None else f"{sheet.words}, holds {sheet.beside}"
    for line in sheet.lines:
        each, together = write_need(line.each, units), write_need(line.length, units)
        yield name, str(line.ticket), spans(line.plies), str(len(line.plies)), each, together, BOX
        name = ""
    left = "" if sheet.left is None else f"left over: {write_left(sheet.left, units)}"
    yield left, "all", "", str(sheet.number), "", write_need(sheet.length, units), ""


def _labels(packet: Packet, title: str) -> Iterator[Figure]:
    """Labels to cut out, a bundle each."""
    wide, deep = (PAGE_WIDTH - 2 * MARGIN) / ACROSS, (PAGE_HEIGHT - 2 * MARGIN) / DOWN
    numbered = list(enumerate(packet.bundles, 1))
    for first in range(0, len(numbered), ACROSS * DOWN):
        figure, page = new_page()
        for place, (number, bundle) in enumerate(numbered[first : first + ACROSS * DOWN]):
            down, across = divmod(place, ACROSS)
            corner = MARGIN + across * wide, PAGE_HEIGHT - MARGIN - down * deep
            _label(page, bundle, f"bundle {number} of {len(numbered)}", title, corner, (wide, deep))
        yield figure


def _label(
    page: Sheet, bundle: Bundle, which: str, title: str, corner: tuple[float, float], size: tuple[float, float]
) -> None:
    (left, top), (wide, deep) = corner, size
    frame = [(left, top), (left + wide, top), (left + wide, top - deep), (left, top - deep)]
    page.line(frame, 0.4, closed=True, style=DASHED, colour=GREY)
    x, right = left + 12, left + wide - 12
    page.text(x, top - 20, shorten(title, 8, wide - 40 - text_width(which, 8)), 8)
    page.text(right, top - 20, which, 8, side="right")
    key = shorten(bundle.key, 15, wide / 2 - 20, True)
    page.text(right, top - 44, key, 15, bold=True, side="right")
    _big(page, bundle.size, x, top - 52, wide - 36 - max(text_width(key, 15, True), text_width(bundle.rolls, 9)))
    page.text(right, top - 58, bundle.rolls, 9, side="right")
    lines = (
        f"ticket {bundle.ticket}, {bundle.part}",
        f"{'ply' if len(bundle.plies) == 1 else 'plies'} {spans(bundle.plies)}: {count_plies(len(bundle.plies))},"
        f" {bundle.garments} garment{'' if bundle.garments == 1 else 's'}",
        f"{bundle.pieces} pieces",
    )
    for i, words in enumerate(lines):
        is_last = i == len(lines) - 1
        page.text(x, top - 76 - i * 14, shorten(words, 10, wide - 24, is_last), 10, bold=is_last)
    page.text(right, top - 76 - 28, "counted: ______", 9, side="right")


def _big(page: Sheet, words: str, x: float, base: float, room: float) -> None:
    """A size or a client's name, as large as it goes into the room on one line; a longer one on two."""
    for size in LETTERING:
        if text_width(words, size, True) <= room:
            page.text(x, base, words, size, bold=True)
            return
    lines = wrap(words, LETTERING[-1], room, bold=True)
    page.text(x, base + 12, shorten(lines[0], LETTERING[-1], room, True), LETTERING[-1], bold=True)
    page.text(x, base - 3, shorten(" ".join(lines[1:]), LETTERING[-1], room, True), LETTERING[-1], bold=True)


def _checklist(packet: Packet, title: str) -> Iterator[Figure]:
    lays = Listed(
        "Lay by lay",
        ("ticket", "plies", "plies counted", "marker checked", "cut", "bundles", "pieces", "counted", "name"),
        tuple(
            (
                str(sheet.ticket),
                str(sheet.number),
                BOX,
                BOX,
                BOX,
                str(len(packet.bundles_of(sheet.ticket))),
                str(packet.pieces_of(sheet.ticket)),
                BOX,
                NAME,
            )
            for sheet in packet.lays
        ),
    )
    ribs = Listed(
        "Rib",
        ("rib", "rested a day", "bands", "counted", "joined", "name"),
        tuple(
            (rib.name, BOX, str(rib.bands), BOX, f"{BOX} {rib.joins} joins", "______________") for rib in packet.ribs
        ),
    )
    last = Listed("Each lay", ("", ""), tuple((BOX, check) for check in CHECKS))
    tables: Sequence[Listed] = [last, lays, *([ribs] if packet.ribs else [])]
    yield from list_pages(f"Checklist: {title}", (), tables, ())
