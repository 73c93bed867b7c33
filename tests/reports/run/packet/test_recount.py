"""The packet's second count: every number of it is forged in turn, and each forgery is seen."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, Any

import pytest
from pypdf import PdfReader

from reports.draw.kit.listed import Listed, list_pages
from reports.draw.kit.sheet import PAGE_HEIGHT
from reports.errors import CountError
from reports.run.draw.lays import lays_pages
from reports.run.draw.rib import rib_sheets
from reports.run.packet.book import write_packet
from reports.run.packet.packet import Bundle, Packet, packet_of
from reports.run.packet.pages import _labels
from reports.run.packet.recount import recount
from reports.run.rib_tickets import bands_by_ticket
from tests.make.drawn import overlapping, texts
from tests.make.orders import planned

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from reports.run.plan import RunPlan

ROLLS = 'supplier = "mill agent"\nrolls = ["8 yd", "3 yd", "3 yd"]'


@pytest.fixture(scope="module")
def run() -> RunPlan:
    """Eight jackets in two sizes and two colours; of one cloth there are rolls."""
    return planned((r'^supplier = "mill agent"', ROLLS))


def counted(packet: Packet, run: RunPlan) -> None:
    """Count a packet of a run again."""
    recount(packet, run.order, run.garments, run.lays, run.ribs)


def test_sound(run: RunPlan) -> None:
    """What a plan says is what is counted: eight jackets of seven pieces, and four bands of rib each."""
    packet = packet_of(run)
    counted(packet, run)
    assert (packet.ordered, packet.cut, packet.pieces) == (8, 8, 56)
    assert [(rib.bands, rib.parts - rib.joins) for rib in packet.ribs] == [(32, 32)]
    assert sum(bundle.garments for bundle in packet.bundles) == 8
    assert {sheet.roll for sheet in packet.rolls} >= {0, 1}


def test_what_the_search_says_is_not_asked(run: RunPlan) -> None:
    """Whatever a search says that an outline gives: what it gives is counted from the draft and the spread."""
    lay = run.lays[0]
    items = tuple(replace(item, yields=item.yields + 4) for item in lay.marker.problem.items)
    wrong = replace(lay.marker, problem=replace(lay.marker.problem, items=items))
    packet = packet_of(run)
    object.__setattr__(lay, "marker", wrong)
    try:
        counted(packet, run)
    finally:
        object.__setattr__(lay, "marker", run.tickets[0].marker)


def test_folded() -> None:
    """Of a folded ply a pair is one outline and a half on the fold one piece: seven pieces a jacket all the same."""
    folded = 'spread = "folded"'
    packet = packet_of(
        made := planned(
            (r'^spread = "face-up".*$', folded), (r'^name = "navy canvas"', f'name = "navy canvas"\n{folded}')
        )
    )
    counted(packet, made)
    assert (packet.cut, packet.pieces) == (8, 56)


def first(part: tuple[Any, ...], **changes: Any) -> tuple[Any, ...]:
    """A list with its first entry changed."""
    one = part[0]
    return (one._replace(**changes) if hasattr(one, "_replace") else replace(one, **changes), *part[1:])


def exchanged(packet: Packet) -> tuple[Bundle, ...]:
    """The bundles, a piece of the first told with the second of the same lay: no sum tells."""
    one, other, *rest = packet.bundles
    assert one.ticket == other.ticket
    return (one._replace(pieces=one.pieces - 1), other._replace(pieces=other.pieces + 1), *rest)


FORGED: dict[str, Callable[[Packet], dict[str, Any]]] = {
    "ordered": lambda p: {"ordered": p.ordered + 1},
    "cut": lambda p: {"cut": p.cut + 1},
    "plies": lambda p: {"plies": p.plies + 1},
    "pieces": lambda p: {"pieces": p.pieces - 1},
    "cloth": lambda p: {"cloth": p.cloth + 1.0},
    "a line ordered": lambda p: {"lines": first(p.lines, ordered=p.lines[0].ordered + 1)},
    "a line cut": lambda p: {"lines": first(p.lines, cut=p.lines[0].cut + 1), "cut": p.cut + 1},
    "a line left out": lambda p: {"lines": p.lines[1:]},
    "a ticket's number": lambda p: {"lays": first(p.lays, ticket=9)},
    "plies of a lay": lambda p: {"lays": first(p.lays, plies={key: n + 1 for key, n in p.lays[0].plies.items()})},
    "garments of a lay": lambda p: {"lays": first(p.lays, garments={s: n + 1 for s, n in p.lays[0].garments.items()})},
    "pieces of a lay": lambda p: {"lays": first(p.lays, pieces={s: n + 1 for s, n in p.lays[0].pieces.items()})},
    "a marker": lambda p: {"lays": first(p.lays, marker=p.lays[0].marker - 1.0)},
    "a ply": lambda p: {"lays": first(p.lays, ply=p.lays[0].ply - 1.0)},
    "a lay left out": lambda p: {"lays": p.lays[1:]},
    "a roll's length": lambda p: {"rolls": first(p.rolls, holds=(p.rolls[0].holds or 0.0) + 100.0)},
    "a roll's rest": lambda p: {"rolls": first(p.rolls, left=(p.rolls[0].left or 0.0) + 1.0)},
    "a roll's number": lambda p: {"rolls": first(p.rolls, roll=9)},
    "a cut": lambda p: {"rolls": first(p.rolls, lines=first(p.rolls[0].lines, each=p.rolls[0].lines[0].each - 1.0))},
    "a ply not cut": lambda p: {"rolls": first(p.rolls, lines=p.rolls[0].lines[1:])},
    "a ply too many": lambda p: {"rolls": first(p.rolls, lines=first(p.rolls[0].lines, plies=(1, 99)))},
    "a bundle's pieces": lambda p: {"bundles": first(p.bundles, pieces=p.bundles[0].pieces + 1)},
    "a piece in another bundle": lambda p: {"bundles": exchanged(p)},
    "a bundle's garments": lambda p: {"bundles": first(p.bundles, garments=p.bundles[0].garments + 1)},
    "a bundle's size": lambda p: {"bundles": first(p.bundles, size="XXL")},
    "a bundle's plies": lambda p: {"bundles": first(p.bundles, plies=(*p.bundles[0].plies, 99))},
    "a bundle's cloth": lambda p: {"bundles": first(p.bundles, key="green")},
    "a bundle's roll": lambda p: {"bundles": first(p.bundles, rolls="roll 7")},
    "a bundle's lay": lambda p: {"bundles": first(p.bundles, ticket=9)},
    "a bundle left out": lambda p: {"bundles": p.bundles[1:]},
    "a bundle twice": lambda p: {"bundles": (*p.bundles, p.bundles[0])},
    "bands": lambda p: {"ribs": first(p.ribs, bands=p.ribs[0].bands + 1)},
    "parts": lambda p: {"ribs": first(p.ribs, parts=p.ribs[0].parts + 1)},
    "joins": lambda p: {"ribs": first(p.ribs, joins=p.ribs[0].joins + 1)},
}


@pytest.mark.parametrize("what", FORGED)
def test_forged(run: RunPlan, what: str) -> None:
    """A number that is not so is seen."""
    packet = packet_of(run)
    with pytest.raises(CountError, match=r"packet|bundle"):
        counted(replace(packet, **FORGED[what](packet)), run)


def test_an_outline_taken_away(run: RunPlan) -> None:
    """The count begins from the placements: without one of them a lay has no whole sets of pieces."""
    lay = run.lays[0]
    fewer = replace(lay.marker, placements=lay.marker.placements[1:])
    object.__setattr__(lay, "marker", fewer)
    try:
        with pytest.raises(CountError, match="no whole sets"):
            recount(packet_of(run), run.order, run.garments, run.lays, run.ribs)
    finally:
        object.__setattr__(lay, "marker", run.tickets[0].marker)


def test_printed(run: RunPlan, tmp_path: Path) -> None:
    """The pages, read back: the day, 8 garments, a ticket for each lay, a label for each bundle, 56 pieces."""
    write_packet(run, tmp_path / "packet.pdf", date(2026, 11, 29))
    pages = [page.extract_text() for page in PdfReader(tmp_path / "packet.pdf").pages]
    assert "29 November 2026" in pages[0] and "8 garments ordered, 8 to cut" in pages[0]
    assert "Spreading sheet" in pages[1] and "left over" in pages[1]
    tickets = [page for page in pages if "Cut ticket" in page]
    assert len(tickets) == len(run.tickets) and all("Rotary cutter" in page for page in tickets)
    labels = next(page for page in pages if "bundle 1 of" in page)
    assert labels.count("counted:") == len(packet_of(run).bundles)
    assert sum(int(number) for number in re.findall(r"(\d+) pieces", labels)) == 56
    assert any("sheet 1 of" in page and "ticket 1, rust" in page for page in pages)
    assert "Checklist" in pages[-1]


def test_names_are_not_cut_off(run: RunPlan) -> None:
    """A client's whole name stands on the label, and no words stand on others; many names stand one a row."""
    name = "Wilhelmina Archibald-Featherstone"
    packet = packet_of(run)
    bundles = tuple(bundle._replace(size=name) for bundle in packet.bundles)
    (page, *_) = _labels(replace(packet, bundles=bundles), "order.toml: Jacket")
    assert overlapping(page) == []
    assert name in " ".join(texts(page))
    wide = Listed("To cut", ("colour", *(f"{name} {i}" for i in range(9))), (("rust", *"123456789"),))
    assert wide.upright().heads == ("colour", "rust") and wide.upright().rows[8] == (f"{name} 8", "9")
    narrow = Listed("To cut", ("colour", "S"), (("rust", "1"),))
    assert narrow.upright() is narrow


def test_a_table_over_two_pages(run: RunPlan) -> None:
    """On a new page the first line says again of which roll it is."""
    rows = (("roll 7", "1"), *(("", str(i)) for i in range(2, 60)))
    second = list(list_pages("Sheet", (), [Listed("cloth", ("roll", "lay"), rows)], ()))[1]
    assert "roll 7" in texts(second)


def test_rib_sheets_are_legible(run: RunPlan) -> None:
    """Their numbers do not stand on one another, and each sheet says where it lies along the rib."""
    for of, rib in zip(run.ribs, packet_of(run).ribs, strict=True):
        bands = bands_by_ticket(of, run.each, run.order.written_in)
        for page in rib_sheets(of, bands, rib.bought, "Jacket", run.order.written_in):
            assert overlapping(page) == []


def test_lays_on_pages_to_print(run: RunPlan) -> None:
    """No page is taller than A4 on its side, and together they have all lays."""
    pages = list(lays_pages(run))
    assert all(page.get_size_inches()[1] * 72 == pytest.approx(PAGE_HEIGHT) for page in pages)
    told = " ".join(words for page in pages for words in texts(page))
    assert all(f"{lay.ticket}  shell" in told for lay in run.lays)
