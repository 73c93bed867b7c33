"""Pictures of a report, each with what it shows in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.units import format_need, format_size
from reports.plan.words import how_cut
from reports.sheets.report import Lines, Picture

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from matplotlib.figure import Figure

    from nesting.marker.marker import Marker
    from pieces.units import Units
    from reports.plan.answers import RibAnswer
    from reports.plan.plan import Plan
    from reports.sheets.report import PagePart


def marker_part(marker: Marker, units: Units, title: str, notes: Sequence[str] = ()) -> Iterator[PagePart]:
    """A marker, and what there is to note; by default the usual cautions."""

    def draw() -> Figure:
        from reports.draw.marker import marker_picture

        return marker_picture(marker, units=units)

    from reports.draw.marker import LEGEND, NOTES

    size = f"{format_need(marker.length, units)} long, {format_size(marker.problem.width, units)} across"
    names = ", ".join(dict.fromkeys(item.name for _, item, _, _ in marker.outlines()))
    told = f"Drawing to scale, {size}: {len(marker.placements)} outlines in place, of these pieces: {names}."
    yield Picture(draw, f"{title}. {told}", LEGEND)
    yield Lines(tuple(notes) or NOTES[1:])


def rib_part(plan: Plan, rib: RibAnswer) -> Picture:
    """How the bands are cut of a rib."""

    def draw() -> Figure:
        from reports.draw.rib import rib_page

        title = f"{plan.job.title}: {rib.offer.name}"
        return rib_page(rib.plan, title=title, units=plan.job.written_in, lines=(f"Buy {rib.text}", how_cut(rib.plan)))

    bands = ", ".join(dict.fromkeys(cut.band for cut in rib.plan.cuts))
    return Picture(draw, f"How the bands are cut from {rib.offer.name}: {bands}. {how_cut(rib.plan)}.")
