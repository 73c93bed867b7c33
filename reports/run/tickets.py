"""Cut tickets: what goes to the cutting table, a lay each, and what is cut by them, counted once more."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from pieces.units import format_bound, format_need, format_size
from reports.cautions import cautions
from reports.money.lengths import write_need
from reports.run.use import ply_length

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from nesting.lays.order import ColourSize
    from nesting.lays.plan import Lay
    from nesting.marker.marker import Marker
    from pieces.units import Units
    from reports.ask.order.order import Cutting, Order
    from reports.run.lot_plan import LotPlan

CHECKS = (
    "cloth rested and its faults marked",
    "width measured: no narrower than the marker",
    "right side and nap as drawn",
    "plies counted by colour",
    "ends and one edge aligned, that of a border if there is one",
    "marker and grain true",
    "pieces counted, bundled, labelled by size",
)
"""To be ticked on each ticket: usual practice of the trade, no source."""


SPREADS = {
    "face-up": "plies face up",
    "face-to-face": "plies face to face",
    "folded": "each ply folded lengthwise, right sides together",
    "tube": "each ply a tube, laid flat",
}


@dataclass(frozen=True, eq=False)
class Ticket:
    """One lay on paper.

    Parameters
    ----------
    number, of
        Which ticket of how many.
    part, cloth
        What is cut, and of which cloths.
    marker
        What lies on each ply.
    garments
        On the marker, by size.
    plies
        By colour, as the cloth is called in the plan.
    gives
        Garments cut, by colour of the cloth and size.
    title, subtitle, lines, cells
        The ticket in words.
    table
        Length of the table that it is spread on, mm.
    """

    number: int
    of: int
    part: str
    marker: Marker
    length: float
    garments: dict[str, int]
    plies: dict[str, int]
    title: str
    subtitle: str
    lines: tuple[str, ...]
    cells: tuple[tuple[str, ...], ...]
    table: float
    checks: tuple[str, ...]
    cautions: tuple[str, ...]

    @property
    def gives(self) -> dict[ColourSize, int]:
        """Garments that it cuts, by cloth and size."""
        return {(key, size): n * plies for key, plies in self.plies.items() for size, n in self.garments.items()}


def tickets_of(order: Order, plans: Iterable[LotPlan]) -> list[Ticket]:
    """A ticket for each lay of each lot, numbered through."""
    laid = [(plan, lay) for plan in plans for lay in plan.plan.lays]
    return [_ticket(order, plan, lay, number, len(laid)) for number, (plan, lay) in enumerate(laid, 1)]


def _ticket(order: Order, plan: LotPlan, lay: Lay, number: int, of: int) -> Ticket:
    units, lot = order.written_in, plan.lot
    garments = {size: n for size, n in zip(lot.pieces, lay.mix, strict=True) if n}
    plies = {key: n for key, n in lay.plies.items() if n}
    ply = ply_length(lay, lot.cloth.end_allowance)
    layers = f", {lot.cloth.layers} layers each" if lot.cloth.layers > 1 else ""
    heads = ("garments", "on the marker", *(f"{key}: {count_plies(n)}" for key, n in plies.items()), "cut")
    cells = [heads]
    for size, times in garments.items():
        cut = [times * n for n in plies.values()]
        cells.append((size, str(times), *map(str, cut), str(sum(cut))))
    each, total = sum(garments.values()), sum(plies.values())
    cells.append(("all", str(each), *(str(each * n) for n in plies.values()), str(each * total)))
    cloths = ", ".join(dict.fromkeys(lot.cloths[key].name for key in plies))
    return Ticket(
        number,
        of,
        lot.part,
        plan.markers[lay.mix],
        lay.length,
        garments,
        plies,
        f"Cut ticket {number} of {of}: {lot.part}",
        f"{order.title}, on {cloths}; {format_size(lot.cloth.width, units)} wide, {SPREADS[lot.cloth.spread]}"
        f"{', with nap' if lot.cloth.nap else ''}; cut with: {order.cutting.tool}",
        (
            count_plies(total),
            f"Spread {', '.join(f'{n} × {key}' for key, n in plies.items())}{layers}; each ply"
            f" {write_need(ply, units)}: marker {format_need(lay.length, units)}, and"
            f" {format_need(lot.cloth.end_allowance, units)} at both ends.",
            *_on_table(order.cutting, ply, units),
        ),
        tuple(cells),
        order.cutting.table_for(ply),
        CHECKS,
        cautions(order.cutting.tool),
    )


def _on_table(cutting: Cutting, ply: float, units: Units) -> Iterator[str]:
    if len(cutting.tables) > 1:
        yield f"On the table of {format_bound(cutting.table_for(ply), units)}."


def count_plies(number: int) -> str:
    """A number of plies in words."""
    return f"{number} {'ply' if number == 1 else 'plies'}"


def count_tickets(tickets: Iterable[Ticket], part: str) -> Counter[ColourSize]:
    """Garments of a part that the tickets cut, by cloth and size: from what is printed on them alone."""
    cut: Counter[ColourSize] = Counter()
    for ticket in tickets:
        if ticket.part == part:
            cut.update(ticket.gives)
    return cut
