"""What stands on a cutting packet: every number of it, as plain data that is counted again before it is drawn."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from reports.run.each import plies_of
from reports.run.lay_marker import ply_length_of
from reports.run.rib_tickets import bands_by_ticket
from reports.run.words import roll_words

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nesting.lays.rolls import RollCut
    from reports.run.lay_marker import LayMarker
    from reports.run.lot_plan import LotPlan
    from reports.run.plan import RunPlan


class CutLine(NamedTuple):
    """Garments of a colour and size: how many are ordered, and how many are cut."""

    colour: str
    size: str
    ordered: int
    cut: int


@dataclass(frozen=True)
class LaySheet:
    """A lay: its plies by cloth, garments and pieces of a ply by size, lengths in mm."""

    ticket: int
    part: str
    plies: Mapping[str, int]
    garments: Mapping[str, int]
    pieces: Mapping[str, int]
    marker: float
    ply: float

    @property
    def number(self) -> int:
        """Plies in all."""
        return sum(self.plies.values())


class RollLine(NamedTuple):
    """What is cut of a roll for a lay: which of its plies, from the table up, and how much for each, mm."""

    ticket: int
    plies: tuple[int, ...]
    each: float

    @property
    def length(self) -> float:
        """All of them together, mm."""
        return len(self.plies) * self.each


@dataclass(frozen=True)
class RollSheet:
    """What is cut of one roll of a cloth; `roll` counts from 1, 0 is cloth of which no rolls are told.

    `lacking` says that no roll was found for these plies. `holds` and `left` are None where no roll is told.
    `beside` says what else is known of it: its shade lot, its width, its flaws.
    """

    key: str
    cloth: str
    part: str
    roll: int
    lines: tuple[RollLine, ...]
    holds: float | None = None
    left: float | None = None
    lacking: bool = False
    beside: str = ""

    @property
    def length(self) -> float:
        """All that is cut of it, mm."""
        return sum(line.length for line in self.lines)

    @property
    def number(self) -> int:
        """Cuts in all."""
        return sum(len(line.plies) for line in self.lines)

    @property
    def words(self) -> str:
        """Which roll it is."""
        return "no roll yet" if self.lacking else f"roll {self.roll}" if self.roll else "roll: ______"


class Bundle(NamedTuple):
    """Pieces that are tied together: one size of one cloth and roll, of plies of one lay."""

    ticket: int
    part: str
    key: str
    size: str
    plies: tuple[int, ...]
    rolls: str
    garments: int
    pieces: int


class RibCount(NamedTuple):
    """A rib: what is bought, how many bands it gives, of how many parts, and the joins."""

    name: str
    bought: str
    bands: int
    parts: int
    joins: int


@dataclass(frozen=True)
class Packet:
    """All that a packet says in numbers."""

    lines: tuple[CutLine, ...]
    lays: tuple[LaySheet, ...]
    rolls: tuple[RollSheet, ...]
    bundles: tuple[Bundle, ...]
    ribs: tuple[RibCount, ...]
    ordered: int
    cut: int
    plies: int
    pieces: int
    cloth: float

    def cut_of(self, colour: str | None = None, size: str | None = None) -> tuple[int, int]:
        """Garments cut and ordered of a colour, of a size, or of all."""
        own = [line for line in self.lines if colour in (None, line.colour) and size in (None, line.size)]
        return sum(line.cut for line in own), sum(line.ordered for line in own)

    def pieces_of(self, ticket: int) -> int:
        """Pieces in the bundles of a lay."""
        return sum(bundle.pieces for bundle in self.bundles_of(ticket))

    def bundles_of(self, ticket: int) -> list[Bundle]:
        """The bundles of a lay."""
        return [bundle for bundle in self.bundles if bundle.ticket == ticket]


def packet_of(run: RunPlan) -> Packet:
    """The packet of a run, not yet counted again."""
    lays = tuple(_sheet(lay) for lay in run.lays)
    rolls = tuple(sheet for plan in run.lots for sheet in _rolls(run, plan))
    bundles = tuple(bundle for lay in run.lays for bundle in _bundles(lay, rolls))
    lines = tuple(
        CutLine(colour, size, ordered, run.cut.get((colour, size), 0))
        for (colour, size), ordered in run.garments.ordered.items()
        if ordered or run.cut.get((colour, size), 0)
    )
    return Packet(
        lines,
        lays,
        rolls,
        bundles,
        tuple(_ribs(run)),
        sum(line.ordered for line in lines),
        sum(line.cut for line in lines),
        sum(sheet.number for sheet in lays),
        sum(bundle.pieces for bundle in bundles),
        sum(sheet.number * sheet.ply for sheet in lays),
    )


def _sheet(lay: LayMarker) -> LaySheet:
    pieces = {size: n * sum(piece.cut for piece in lay.lot.pieces[size]) for size, n in lay.garments.items()}
    return LaySheet(
        lay.ticket, lay.lot.part, dict(lay.plies), lay.garments, pieces, lay.marker.length, ply_length_of(lay)
    )


def _rolls(run: RunPlan, plan: LotPlan) -> Iterator[RollSheet]:
    """Each roll of each cloth of a lot; cloth without rolls as one."""
    lays = [lay for lay in run.lays if lay.lot is plan.lot]
    for key, cloth in plan.lot.cloths.items():
        places = [(lay, ply) for lay in lays for ply, own in enumerate(plies_of(lay), 1) if own == key]
        if key not in plan.rolls:
            if places:
                cuts = [(lay.ticket, ply, ply_length_of(lay)) for lay, ply in places]
                yield RollSheet(key, cloth.name, plan.lot.part, 0, _lines(cuts))
            continue
        dealt, told = plan.rolls[key], (key, cloth.name, plan.lot.part)
        by_roll: dict[int, list[RollCut]] = {}
        for cut in dealt.cuts:
            by_roll.setdefault(cut.roll, []).append(cut)
        for roll, own_cuts in sorted(by_roll.items()):
            cuts = [(places[cut.ply][0].ticket, places[cut.ply][1], cut.length) for cut in own_cuts]
            beside = roll_words(cloth, dealt, roll, run.order.written_in)
            sizes = dealt.rolls[roll], dealt.remnants[roll]
            yield RollSheet(*told, roll + 1, _lines(cuts), *sizes, beside=beside)
        if dealt.missing:
            cuts = [(lay.ticket, ply, ply_length_of(lay)) for lay, ply in (places[ply] for ply in dealt.missing)]
            yield RollSheet(*told, 0, _lines(cuts), lacking=True)


def _lines(cuts: list[tuple[int, int, float]]) -> tuple[RollLine, ...]:
    """Plies of one lay that take as much stand in one line."""
    groups: dict[tuple[int, float], list[int]] = {}
    for ticket, ply, length in sorted(cuts):
        groups.setdefault((ticket, length), []).append(ply)
    return tuple(RollLine(ticket, tuple(plies), length) for (ticket, length), plies in groups.items())


def _bundles(lay: LayMarker, rolls: tuple[RollSheet, ...]) -> Iterator[Bundle]:
    """Bundles of a lay: each size apart, of each cloth and roll."""
    groups: dict[tuple[str, str], list[int]] = {}
    for ply, key in enumerate(plies_of(lay), 1):
        own = [
            sheet.words
            for sheet in rolls
            if (sheet.key, sheet.part) == (key, lay.lot.part)
            and any(line.ticket == lay.ticket and ply in line.plies for line in sheet.lines)
        ]
        groups.setdefault((key, " and ".join(own)), []).append(ply)
    for (key, words), plies in groups.items():
        for size, number in lay.garments.items():
            each = number * sum(piece.cut for piece in lay.lot.pieces[size])
            made = len(plies)
            yield Bundle(lay.ticket, lay.lot.part, key, size, tuple(plies), words, number * made, each * made)


def _ribs(run: RunPlan) -> Iterator[RibCount]:
    for of in run.ribs:
        bands = bands_by_ticket(of, run.each, run.order.written_in)
        bought = next(one.quantity for one in run.bought if one.part == "rib" and one.what == of.rib.name)
        yield RibCount(of.rib.name, bought, len(bands), sum(len(band.cuts) for band in bands), of.plan.joins)
