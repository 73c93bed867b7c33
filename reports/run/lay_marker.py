"""The marker of a lay: what lies on each of its plies, by size, as print, guide, export and check take it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from reports.plan.cut_cloth import LayFacts
from reports.plan.plain import marker_to_plain
from reports.run.use import ply_length

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nesting.cloth.spread import Spread
    from nesting.lays.order import Mix
    from nesting.lays.plan import Lay
    from nesting.marker.marker import Marker
    from nesting.verify import Asked
    from reports.ask.order.order import Order, RunFabric
    from reports.run.lot_plan import LotPlan
    from reports.run.lots import Lot


@dataclass(frozen=True, eq=False)
class LayMarker:
    """A lay with its marker, which gives what one ply of it is to give: that is looked at whenever one is made.

    Parameters
    ----------
    ticket
        The number of its cut ticket.
    mix
        Garments of each size on the marker, in the order of the lot's sizes.
    plies
        By colour, as the cloth is called in the plan.
    """

    ticket: int
    lot: Lot
    mix: Mix
    plies: Mapping[str, int]
    marker: Marker

    def __post_init__(self) -> None:
        self.lot.verify(self.marker, self.mix)

    @property
    def offer(self) -> RunFabric:
        """The cloth of its first ply: all its cloths are laid alike."""
        return self.lot.cloths[next(iter(self.plies))]

    @property
    def spread(self) -> Spread:
        """How a ply of it lies."""
        return self.offer.laid

    @property
    def depth(self) -> None:
        """Plies of a run are not folded in part."""
        return

    @property
    def asked(self) -> Asked:
        """What a ply has to give."""
        return self.lot.asked(self.mix, self.offer)

    @property
    def garments(self) -> dict[str, int]:
        """On the marker, by size."""
        return {size: n for size, n in zip(self.lot.pieces, self.mix, strict=True) if n}

    @property
    def number(self) -> int:
        """Plies in all."""
        return sum(self.plies.values())

    @property
    def lay(self) -> LayFacts:
        """What it is made of."""
        return LayFacts(
            self.ticket, f"lay {self.ticket}, {self.lot.part}, on {self.cloths}", self.plies, self.offer.spread
        )

    @property
    def cloths(self) -> str:
        """The names of the cloths of its plies."""
        return ", ".join(dict.fromkeys(self.lot.cloths[key].name for key in self.plies))

    @property
    def size_of(self) -> dict[str, str]:
        """The size of each piece, by its name."""
        return {piece.name: size for size in self.garments for piece in self.lot.pieces[size]}


def lays_of(plans: tuple[LotPlan, ...]) -> Iterator[LayMarker]:
    """The lays of all lots, numbered through as their tickets are."""
    laid: list[tuple[LotPlan, Lay]] = [(plan, lay) for plan in plans for lay in plan.plan.lays]
    for number, (plan, lay) in enumerate(laid, 1):
        plies = {key: n for key, n in lay.plies.items() if n}
        yield LayMarker(number, plan.lot, lay.mix, plies, plan.markers[lay.mix])


def lay_to_plain(lay: LayMarker, order: Order) -> dict[str, Any]:
    """A lay's file: the marker of one ply, and what the lay is made of."""
    return marker_to_plain(lay) | {
        "lay": {
            "ticket": lay.ticket,
            "order": order.name,
            "part": lay.lot.part,
            "stack": lay.offer.spread,
            "garments": lay.garments,
            "plies": dict(lay.plies),
            "ply_mm": ply_length_of(lay),
            "cut": {key: {size: n * plies for size, n in lay.garments.items()} for key, plies in lay.plies.items()},
        }
    }


def ply_length_of(lay: LayMarker) -> float:
    """Length of cloth of one ply, its ends included, mm."""
    return ply_length(lay.marker, lay.offer.end_allowance)
