"""Rib sheets: how the bands of a run are cut, each part with the ticket and the colour of its garment."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from pieces.units import format_size
from reports.draw.rib import RibLabel, rib_page
from reports.run.rib_tickets import in_order, number_cuts

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from matplotlib.figure import Figure

    from nesting.rib.plan import RibPlan
    from pieces.units import Units
    from reports.draw.rib import RibLabels
    from reports.run.rib_tickets import TicketBand
    from reports.run.ribs import RibOf

MOST_PARTS = 36
"""Parts on one sheet, so that its table can be read; a row is never divided."""


def rib_sheets(of: RibOf, bands: Sequence[TicketBand], bought: str, title: str, units: Units) -> Iterator[Figure]:
    """The sheets of one rib, rows in their order; parts have the numbers that the tickets name.

    Parameters
    ----------
    bought
        What is bought of it.
    title
        What is made.
    """
    labels = labels_of(of.plan, bands)
    parts = list(divide(in_order(of.plan)))
    for number, part in enumerate(parts, 1):
        which = f"sheet {number} of {len(parts)}"
        lines = (which, f"{of.rib.name}, {bought} bought, for {', '.join(of.colours)}. {_where(of.plan, part, units)}")
        yield rib_page(
            part, title=f"Rib: {title}", units=units, lines=lines, labels=labels, before=_first(of.plan, part)
        )


def labels_of(plan: RibPlan, bands: Sequence[TicketBand]) -> RibLabels:
    """What is said of each part."""
    numbers = number_cuts(plan)
    whom = {(band.band, band.copy - 1): f"ticket {band.garment.ticket}, {band.garment.colour}" for band in bands}
    return {key: RibLabel(number, f"{key[0]} {key[1] + 1}", whom[key[0], key[1]]) for key, number in numbers.items()}


def divide(plan: RibPlan) -> Iterator[RibPlan]:
    """The plan in parts of some whole rows, each of which is drawn on its own."""
    rows: list[int] = []
    held = 0
    for row in range(len(plan.rows)):
        own = sum(cut.row == row for cut in plan.cuts)
        if rows and held + own > MOST_PARTS and not _is_bound(plan, row):
            yield _part(plan, rows)
            rows, held = [], 0
        rows.append(row)
        held += own
    yield _part(plan, rows)


def _is_bound(plan: RibPlan, row: int) -> bool:
    """Whether a row lies on the same strip as the one before it."""
    return plan.stock.depth is not None and plan.rows[row].source == plan.rows[row - 1].source


def _part(plan: RibPlan, rows: Sequence[int]) -> RibPlan:
    start = plan.rows[rows[0]].start if plan.stock.depth is None else 0.0
    own = [replace(plan.rows[row], start=plan.rows[row].start - start) for row in rows]
    cuts = [replace(cut, row=rows.index(cut.row)) for cut in plan.cuts if cut.row in rows]
    length = max(row.start + row.depth for row in own) if plan.stock.depth is None else plan.length
    return replace(plan, rows=tuple(own), cuts=tuple(cuts), length=length)


def _where(plan: RibPlan, part: RibPlan, units: Units) -> str:
    """Which stretch of the rib a sheet shows."""
    if plan.stock.depth is not None:
        return ""
    first = _first(plan, part)
    ends = format_size(first, units), format_size(first + part.length, units)
    return f"This sheet: {ends[0]} to {ends[1]} of its length."


def _first(plan: RibPlan, part: RibPlan) -> float:
    """Where a sheet's rib begins along all of it, mm; strips have no such place."""
    if plan.stock.depth is not None:
        return 0.0
    return next(row for row in plan.rows if row.source == part.rows[0].source).start
