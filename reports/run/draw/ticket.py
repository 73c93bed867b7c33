"""A cut ticket: one lay with its marker, its plies by colour, what they give, and checks to tick."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from reports.draw.marker import LEGEND, marker_page
from reports.rows import marker_rows

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from pieces.units import Units
    from reports.run.lay_marker import LayMarker
    from reports.run.tickets import Ticket


def _numbers(ticket: Ticket, lay: LayMarker) -> str:
    """The numbers of each piece: small ones bear their number alone."""
    found: defaultdict[str, list[int]] = defaultdict(list)
    for row in marker_rows(ticket.marker):
        found[row.name].append(row.number)
    return "; ".join(f"{name}: {', '.join(map(str, found[name]))}" for name in lay.size_of if name in found)


def ticket_page(ticket: Ticket, lay: LayMarker, units: Units) -> Figure:
    """One page for the cutting table."""
    return marker_page(
        ticket.marker,
        title=ticket.title,
        subtitle=ticket.subtitle,
        units=units,
        lines=(*ticket.lines, f"On the marker: {_numbers(ticket, lay)}."),
        cells=ticket.cells,
        notes=(LEGEND, *ticket.cautions),
        checks=ticket.checks,
        size_of=lay.size_of,
    )
