"""The rib of a run by ticket: which band of which garment is cut of which row or strip, and how it is joined."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nesting.errors import LayPlanError
from pieces.units import format_size

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from nesting.rib.plan import RibCut, RibJoin, RibPlan
    from pieces.units import Units
    from reports.run.each import CutGarment
    from reports.run.ribs import RibOf


@dataclass(frozen=True)
class TicketBand:
    """A band of a garment.

    Parameters
    ----------
    band
        Its name, with its size.
    copy
        Which of the bands of that name, from 1.
    cuts
        The numbers of its parts on the rib sheets, in the order in which they are joined.
    joins
        Where it is joined, as it is said.
    """

    garment: CutGarment
    band: str
    copy: int
    cuts: tuple[int, ...]
    sources: tuple[str, ...]
    joins: tuple[str, ...]


def number_cuts(plan: RibPlan) -> dict[tuple[str, int, int], int]:
    """The number of each part on the rib sheets, by band, copy and part (from 0)."""
    return {(cut.band, cut.copy, cut.part): number for number, cut in enumerate(in_order(plan).cuts, 1)}


def in_order(plan: RibPlan) -> RibPlan:
    """The plan with its parts in the order of cutting: row by row from the start, in each from the left."""
    return replace(plan, cuts=tuple(sorted(plan.cuts, key=lambda cut: (cut.row, cut.offset, cut.rise))))


def bands_by_ticket(of: RibOf, garments: Iterable[CutGarment], units: Units) -> list[TicketBand]:
    """Each band of each garment whose colour a rib is for, in the order of the tickets.

    Bands of one name are alike: the first garment gets the first, and so on.

    Raises
    ------
    LayPlanError
        If there are fewer bands than garments need, or more.
    """
    numbers = number_cuts(of.plan)
    parts: defaultdict[tuple[str, int], list[RibCut]] = defaultdict(list)
    for cut in of.plan.cuts:
        parts[cut.band, cut.copy].append(cut)
    seams: defaultdict[tuple[str, int], list[RibJoin]] = defaultdict(list)
    for join in of.plan.seams:
        seams[join.band, join.copy].append(join)
    given: Counter[str] = Counter()
    found = []
    for garment in garments:
        if garment.colour in of.colours:
            for name, number in _bands(of, garment.size):
                for _ in range(number):
                    own = sorted(parts.get((name, given[name]), ()), key=lambda cut: cut.part)
                    if not own:
                        raise LayPlanError(f"the rib '{of.rib.name}' has no {name} left for ticket {garment.ticket}")
                    cuts = tuple(numbers[cut.band, cut.copy, cut.part] for cut in own)
                    sources = tuple(dict.fromkeys(cut.source for cut in own))
                    joins = tuple(_joins(seams[own[0].band, own[0].copy], units))
                    given[name] += 1
                    found.append(TicketBand(garment, name, given[name], cuts, sources, joins))
    if sum(len(band.cuts) for band in found) != len(of.plan.cuts):
        raise LayPlanError(f"the rib '{of.rib.name}' gives more bands than the garments of the run have")
    return found


def _bands(of: RibOf, size: str) -> Iterator[tuple[str, int]]:
    for band in of.bands[size]:
        yield f"{band.name} {size}", band.count


def _joins(seams: Iterable[RibJoin], units: Units) -> Iterator[str]:
    """Where a band is joined: at a seam, or how far from its start."""
    for join in seams:
        yield join.place or f"{format_size(join.at, units)} from its start"


def ticket_lines(bands: Iterable[TicketBand]) -> Iterator[str]:
    """The bands in words: a line for each ticket, colour and size, and each name of a band."""
    groups: defaultdict[tuple[int, str, str], list[TicketBand]] = defaultdict(list)
    for band in bands:
        groups[band.garment.ticket, band.garment.colour, band.band].append(band)
    for (ticket, colour, name), some in groups.items():
        cuts = sorted(number for band in some for number in band.cuts)
        plies = sorted({band.garment.ply for band in some})
        joined = Counter(" and ".join(band.joins) for band in some if band.joins)
        told = "".join(f"; {times} joined at {where}" for where, times in joined.items())
        where = f"ticket {ticket}, {colour}, {_named('ply', 'plies', plies)}"
        yield f"{where}: {len(some)} × {name}: {_named('part', 'parts', cuts)}{told}"


def _named(one: str, several: str, numbers: Sequence[int]) -> str:
    return f"{one if len(numbers) == 1 else several} {spans(numbers)}"


def spans(numbers: Sequence[int]) -> str:
    """Sorted numbers as they are written: ``1-3, 7``."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]}-{run[-1]}" if len(run) > 1 else f"{run[0]}" for run in runs)
