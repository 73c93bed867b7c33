"""All that a person needs beside the cloth: the marker as it is chalked, step by step, and as it was found."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from nesting.left.bare import bare_cloth
from nesting.left.rectangles import largest_rectangles
from nesting.verify import LaidMarker
from nesting.verify.free import check_free
from pieces.units import format_sizes
from reports.buy.shown import laid_shown
from reports.cautions import cautions
from reports.chalk.tape import write_on_tape
from reports.draw.repeat import line_places
from reports.guide.guide import guide_of
from reports.guide.words import (
    finish_texts,
    guide_title,
    lead_texts,
    prepare_texts,
    rule_lines,
    stage_title,
    step_texts,
    step_title,
)
from reports.left.left import LEAST_SIDE, cut_length, on_steps
from reports.page.table.on_table import BoughtOnTable, LaysOnTable, on_table
from reports.plan.answers import FabricPlan
from reports.plan.marks import marker_marks

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nesting.marker.marker import Marker
    from pieces.units import Units
    from reports.ask.job import Job
    from reports.ask.order.order import Order
    from reports.cautions import Tool
    from reports.guide.guide import Guide, Step
    from reports.page.search import Search
    from reports.plan.cut_cloth import CutCloth

MOST_SPARE = 4
"""Rectangles of spare cloth that are shown."""


def cutting(search: Search, number: int) -> dict[str, Any]:
    """What the cutting view shows of one of an answer's markers, counted from 0.

    Raises
    ------
    StateError, MissingError
        If there is no such marker.
    """
    table = on_table(search)
    if isinstance(table, LaysOnTable):
        lay, order = table.lay(number), table.run.order
        shown = cut_shown(lay, order, order.cutting.tool)
        return shown | {"sizes": [lay.size_of[placed["piece"]] for placed in shown["chalked"]["placements"]]}
    assert isinstance(table, BoughtOnTable)
    return cut_shown(table.cloth(number), table.kept_job.job) | {"sizes": []}


def cut_shown(cut: CutCloth, made: Job | Order, *tools: Tool) -> dict[str, Any]:
    """A cloth with its marker: ``found`` as it was laid, ``chalked`` on the steps of the tape, as the steps tell it."""
    guide = guide_of(cut, made.written_in, *tools)
    return {
        "title": guide_title(made, guide),
        "units": guide.units.value,
        "found": _drawn(cut, cut.marker),
        "chalked": _drawn(cut, guide.chalked.marker),
        "rules": list(rule_lines(guide)),
        "steps": list(_steps(guide)),
        "spare": _spare(cut, guide.chalked.marker, guide.units),
        "cautions": list(cautions(*tools)),
    }


def _drawn(cut: CutCloth, marker: Marker) -> dict[str, Any]:
    """A marker with the marks on its pieces, and the lines of the cloth's pattern."""
    layout = laid_shown(cut, marker)
    for placed, marks in zip(layout["placements"], marker_marks(marker), strict=True):
        placed["notches"] = marks.get("notches", [])
    problem = marker.problem
    low = min(band.low for band in problem.bands)
    repeat, high = problem.repeat, low + problem.width
    return layout | {
        "pattern": {
            "along": line_places(repeat.start, repeat.along, 0.0, marker.length) if repeat else [],
            "across": line_places(repeat.low, repeat.across, low, high) if repeat else [],
            "border": problem.border or None,
        },
        "selvedge": max(band.selvedge for band in problem.bands),
    }


def _steps(guide: Guide) -> Iterator[dict[str, Any]]:
    """The steps of the guide: what is done, and the piece that it is done with, counted among the placements."""
    places = {(place.item, place.copy): i for i, place in enumerate(guide.chalked.marker.placements)}
    for number, text in enumerate(prepare_texts(guide), 1):
        yield _plain_step(number, "Before the cloth is laid", text, 0)
    for stage in guide.stages:
        title = stage_title(guide, stage)
        for number, text in zip(stage.lead, lead_texts(guide, stage), strict=True):
            yield _plain_step(number, f"The cloth: {title}", text, stage.number)
        for step in stage.steps:
            yield {
                "number": step.number,
                "stage": stage.number,
                "title": step_title(step),
                "lines": list(step_texts(step, guide.units, guide.chalked.step)),
                "piece": places[step.row.placement.item, step.row.placement.copy],
                "side": step.side,
                "figures": list(_figures(step, guide.units, guide.chalked.step)),
            }
    for number, text in enumerate(finish_texts(guide), guide.steps[-1].number + 1):
        yield _plain_step(number, "Look it over, and cut", text, guide.stages[-1].number)


def _plain_step(number: int, title: str, text: str, stage: int) -> dict[str, Any]:
    return {"number": number, "stage": stage, "title": title, "lines": [text], "piece": None, "side": "", "figures": []}


def _figures(step: Step, units: Units, tape: float) -> Iterator[list[str]]:
    """What is read large: where the piece begins, and how far from its edge it and its grainline lie."""
    yield ["From the start", write_on_tape(step.start[0], units, tape)]
    near = f"on the {step.edge}" if step.row.variant.on_fold else write_on_tape(step.across[0], units, tape)
    yield [f"From the {step.edge}", near]
    if step.grain:
        ends = dict.fromkeys(write_on_tape(spot.edge, units, tape) for spot in step.grain)
        yield [f"Grainline from the {step.edge}", " and ".join(ends)]


def _spare(cut: CutCloth, marker: Marker, units: Units) -> list[dict[str, Any]]:
    """Rectangles of bare cloth on whole steps of the tape, checked; of a lay, of each of its plies."""
    there = cut_length(cut) if isinstance(cut, FabricPlan) else 0.0
    length = max(there, marker.length)
    found = [
        on_steps(one, marker, units) for one in largest_rectangles(bare_cloth(marker, length), MOST_SPARE, LEAST_SIDE)
    ]
    spare = [one for one in found if one]
    check_free(LaidMarker.of(marker), cut.asked, length, [one.zone for one in spare])
    return [
        {
            "x0": one.zone.start,
            "x1": one.zone.end,
            "y0": one.zone.low,
            "y1": one.zone.high,
            "words": format_sizes((one.zone.end - one.zone.start, one.zone.high - one.zone.low), units, " × "),
            "layers": one.layers,
        }
        for one in spare
    ]
