"""The rib of a run: all bands of all sizes, cut together of each rib."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from nesting.rib.band import bands_of
from nesting.rib.planning import plan_rib
from nesting.rib.verify import check_rib
from pieces.length import mm
from reports.errors import JobError
from reports.run.planning import rib_from_plain, rib_to_plain

if TYPE_CHECKING:
    from nesting.rib.band import RibBand
    from nesting.rib.plan import RibPlan
    from reports.ask.order.order import Order, RunRib
    from reports.run.garments import Garments, Kinds
    from reports.run.planning import Planning


RIB_EFFORT = 10.0
"""For each rib, in the units of `plan_rib`."""


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


def plan_ribs(order: Order, garments: Garments, cut: Kinds, planning: Planning) -> tuple[RibOf, ...]:
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
            found.append(_planned(order, garments, cut, rib, colours, planning))
    without = [colour for colour in garments.colours if colour not in served]
    if order.rib and without:
        raise JobError(f"{order.name}: {without[0]} has no rib: add a [[rib]] entry, or leave its colour out for all")
    return tuple(found)


def _planned(
    order: Order, garments: Garments, cut: Kinds, rib: RunRib, colours: tuple[str, ...], planning: Planning
) -> RibOf:
    seam, least = order.styled().seam, rib.least_part
    bands, every = {}, []
    for size in garments.sizes:
        number = sum(cut.get((colour, size.name), 0) for colour in colours)
        if number:
            own = bands_of(size.pieces, 1)
            bands[size.name] = tuple(own)
            every += [replace(band, name=f"{band.name} {size.name}", count=band.count * number) for band in own]
    stock = rib.stock()
    asked = every, [band.name for band in every], stock, seam, least, RIB_EFFORT

    def read(plain: Any) -> RibPlan:
        held = rib_from_plain(plain, stock)
        check_rib(held, every, seam=seam, least_part=least)
        return held

    plan = planning.get("rib", asked, read)
    if plan is None:
        effort = planning.effort if planning.stop() else RIB_EFFORT
        plan = plan_rib(every, stock, seam=mm(seam), least_part=mm(least), effort=effort)
        check_rib(plan, every, seam=seam, least_part=least)
        planning.keep("rib", asked, rib_to_plain(plan))
    return RibOf(rib, colours, bands, plan)
