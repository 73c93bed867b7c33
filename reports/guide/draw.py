"""A stage of the guide: the cloth as it lies, and its pieces under the numbers of their steps."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.units import format_size
from reports.chalk.tape import write_on_tape
from reports.draw.endview import end_view
from reports.draw.marker import marker_page
from reports.guide.words import laid_edges, lead_texts, rule_lines, side_up, stage_title, top_words
from reports.rows import beyond

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from pieces.units import Units
    from reports.draw.endview import EndView
    from reports.guide.guide import Guide, Stage, Step


def stage_page(guide: Guide, stage: Stage, *, title: str) -> Figure:
    """One page for a stage: how to lay the cloth, the drawing, and a table of distances; other pieces in broken line.

    Parameters
    ----------
    title
        What is cut, and of which cloth.
    """
    head = f"Stage {stage.number} of {len(guide.stages)}"
    leads = [f"{number}. {text}" for number, text in zip(stage.lead, lead_texts(guide, stage), strict=True)]
    others = " Broken outlines: pieces of the other stage." if len(guide.stages) > 1 else ""
    return marker_page(
        guide.chalked.marker,
        title=title,
        subtitle=f"{head}: {stage_title(guide, stage)}",
        units=guide.units,
        lines=(f"Steps {stage.lead[0]} to {stage.steps[-1].number}", *leads, list(rule_lines(guide))[2] + others),
        rows=[step.row for step in stage.steps],
        cells=stage_cells(stage, guide.units, guide.chalked.step),
        view=stage_view(stage, guide.units),
        nap=guide.plan.offer.nap is True,
    )


def stage_view(stage: Stage, units: Units) -> EndView:
    """The cloth of a stage, seen from its end."""
    low, high = laid_edges(stage.bands)
    spans = [(band.low - beyond(band, "low") - low, band.high + beyond(band, "high") - low) for band in stage.bands]
    size = f"{format_size(high - low, units)} across"
    if stage.spread == "crosswise":
        size = f"{format_size(high - low, units)} from selvedges to selvedges"
    if stage.spread == "part-folded":
        size = f"folded over {format_size(spans[0][1], units)}, {size} in all"
    return end_view(stage.spread, spans, size, stage.bands[0].layers)


def stage_cells(stage: Stage, units: Units, tape: float | None = None) -> list[tuple[str, ...]]:
    """The table: headings, then a line for each step, in order."""
    heads = ("step", "piece", "gives", "layers", "from start", "from edge", "grain from it", "printed side, top")
    return [heads, *(_cells(step, units, tape) for step in stage.steps)]


def _cells(step: Step, units: Units, tape: float | None) -> tuple[str, ...]:
    row = step.row
    edge = f"{step.edge} {_span(step.across, units, tape)}"
    if row.variant.on_fold:
        edge = f"on the {step.edge}, to {write_on_tape(step.across[1], units, tape)}"
    grain = " and ".join(dict.fromkeys(write_on_tape(spot.edge, units, tape) for spot in step.grain))
    lies = f"{side_up(step)}, {top_words(step)}"
    return (
        str(step.number),
        row.name,
        row.gives,
        str(row.band.layers * step.plies),
        _span(step.start, units, tape),
        edge,
        grain,
        lies,
    )


def _span(ends: tuple[float, float], units: Units, tape: float | None) -> str:
    """Two distances, the unit written once."""
    first, last = (write_on_tape(mm, units, tape) for mm in ends)
    return f"{first.rpartition(' ')[0]} to {last}"
