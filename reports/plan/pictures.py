"""Pictures of a report, each with what it shows in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.units import format_bound, format_need, format_size, percent_reached
from reports.plan.words import SPREAD_WORDS, depths_words, how_cut, width_words
from reports.sheets.report import Lines, Picture

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from matplotlib.figure import Figure

    from nesting.marker.marker import Marker
    from pieces.units import Units
    from reports.plan.answers import FabricPlan, RibAnswer
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


def marker_figure(plan: Plan, fabric: FabricPlan) -> Figure:
    """The marker of a cloth on one page."""
    from reports.draw.marker import marker_page

    units, marker = plan.job.written_in, fabric.result.marker
    nap = ", with nap" if fabric.offer.nap else ""
    return marker_page(
        marker,
        title=f"{plan.job.title}, on {fabric.offer.name}",
        subtitle=f"{width_words(fabric.offer, units)}, {SPREAD_WORDS[fabric.spread]}{nap}",
        units=units,
        nap=fabric.offer.nap is True,
        lines=(
            f"Buy {fabric.purchase.text}",
            f"Marker {format_need(marker.length, units)} long, {percent_reached(marker.density)} of the cloth used;"
            f" no marker can be shorter than {format_bound(fabric.at_least, units)}{depths_words(fabric)}",
        ),
    )


def rib_figure(plan: Plan, rib: RibAnswer) -> Figure:
    """How the bands are cut of a rib, on one page."""
    from reports.draw.rib import rib_page

    lines = (f"Buy {rib.text}", how_cut(rib.plan))
    return rib_page(rib.plan, title=f"{plan.job.title}: {rib.offer.name}", units=plan.job.written_in, lines=lines)


def rib_part(plan: Plan, rib: RibAnswer) -> Picture:
    """How the bands are cut of a rib."""
    bands = ", ".join(dict.fromkeys(cut.band for cut in rib.plan.cuts))
    return Picture(
        lambda: rib_figure(plan, rib), f"How the bands are cut from {rib.offer.name}: {bands}. {how_cut(rib.plan)}."
    )
