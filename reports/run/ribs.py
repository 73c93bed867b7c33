"""The rib of a run: all bands of all sizes, cut together of each rib."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nesting.rib.band import bands_of
from nesting.rib.planning import plan_rib
from nesting.rib.verify import check_rib
from pieces.length import mm
from reports.errors import JobError

if TYPE_CHECKING:
    from nesting.rib.band import RibBand
    from nesting.rib.plan import RibPlan
    from reports.ask.order.order import Order, RunRib
    from reports.run.garments import Garments, Kinds


@dataclass(frozen=True, eq=False)
class RibOf:
    """A rib planned: the colours it is for, the bands by size, and how they are cut."""

    rib: RunRib
    colours: tuple[str, ...]
    bands: dict[str, tuple[RibBand, ...]]
    plan: RibPlan

    def shares(self) -> dict[str, float]:
        """Area of the bands of one garment of each size, mm²."""
        return {
            size: sum(band.length * band.depth * band.count for band in bands) for size, bands in self.bands.items()
        }


def plan_ribs(order: Order, garments: Garments, cut: Kinds) -> tuple[RibOf, ...]:
    """Cut all bands of the garments that are cut.

    Raises
    ------
    JobError
        If a colour has two ribs, or garments have bands and there is no rib for a colour.
    NestingError
        If a rib cannot give a band.
    """
    if not any(size.pieces.of("rib") for size in garments.sizes):
        return ()
    found, served = [], set()
    for rib in order.rib:
        colours = tuple(c for c in garments.colours if rib.colour in (None, c))
        for colour in colours:
            if colour in served:
                raise JobError(f"{order.name}: {colour} garments have two [[rib]] entries: leave one out")
            served.add(colour)
        if colours:
            found.append(_planned(order, garments, cut, rib, colours))
    without = [colour for colour in garments.colours if colour not in served]
    if order.rib and without:
        raise JobError(f"{order.name}: {without[0]} has no rib: add a [[rib]] entry, or leave its colour out for all")
    return tuple(found)


def _planned(order: Order, garments: Garments, cut: Kinds, rib: RunRib, colours: tuple[str, ...]) -> RibOf:
    seam, least = order.styled().seam, rib.least_part
    bands, every = {}, []
    for size in garments.sizes:
        number = sum(cut.get((colour, size.name), 0) for colour in colours)
        if number:
            own = bands_of(size.pieces, 1)
            bands[size.name] = tuple(own)
            every += [replace(band, name=f"{band.name} {size.name}", count=band.count * number) for band in own]
    plan = plan_rib(every, rib.stock(), seam=mm(seam), least_part=mm(least))
    check_rib(plan, every, seam=seam, least_part=least)
    return RibOf(rib, colours, bands, plan)
