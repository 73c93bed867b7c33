"""A guide for machines: every length in mm, beside the words a person reads."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reports.cautions import cautions
from reports.guide.words import (
    finish_texts,
    lead_texts,
    ply_of,
    prepare_texts,
    purchase_of,
    rule_lines,
    side_up,
    stage_title,
    step_texts,
    step_title,
)

if TYPE_CHECKING:
    from reports.guide.guide import Guide, MarkSpot, Stage, Step


GUIDE_SCHEMA = 3
"""Of the answer; 1 did not say so."""


def guide_to_plain(guide: Guide) -> dict[str, Any]:
    """One cloth's guide, in the order of its steps."""
    plan, chalked = guide.plan, guide.chalked
    last = guide.steps[-1].number
    return {
        "fabric": plan.offer.name,
        "spread": plan.spread,
        "width_mm": plan.offer.width,
        "found_mm": plan.marker.length,
        "marker_mm": chalked.marker.length,
        "tape_step_mm": chalked.step,
        "tolerance_mm": chalked.tolerance,
        **_taken(guide),
        "rules": list(rule_lines(guide)),
        "prepare": _texts(prepare_texts(guide), 1),
        "stages": [_stage(guide, stage) for stage in guide.stages],
        "finish": _texts(finish_texts(guide), last + 1),
        "cautions": list(cautions(*guide.tools)),
        "checked": True,
    }


def _taken(guide: Guide) -> dict[str, Any]:
    """What is bought for the marker; of a lay how long a ply is, and how many there are."""
    if guide.plan.lay:
        return {"ply_mm": ply_of(guide), "plies": dict(guide.plan.lay.plies)}
    return {"buy_mm": purchase_of(guide).buy, "buy": purchase_of(guide).text}


def _texts(texts: tuple[str, ...], first: int) -> list[dict[str, Any]]:
    return [{"step": number, "text": text} for number, text in enumerate(texts, first)]


def _stage(guide: Guide, stage: Stage) -> dict[str, Any]:
    return {
        "stage": stage.number,
        "title": stage_title(guide, stage),
        "spread": stage.spread,
        "from_start_mm": stage.start,
        "lay": _texts(lead_texts(guide, stage), stage.lead[0]),
        "pieces": [_step(guide, step) for step in stage.steps],
    }


def _step(guide: Guide, step: Step) -> dict[str, Any]:
    row = step.row
    return {
        "step": step.number,
        "piece": row.name,
        "copy": step.copy,
        "item": row.item.name,
        "item_copy": row.placement.copy + 1,
        "gives": row.gives,
        "band": row.band.name,
        "layers": row.band.layers * step.plies,
        "on_fold": row.variant.on_fold,
        "printed_side": side_up(step),
        "mirrored": row.variant.mirrored,
        "turn": row.variant.turn,
        "edge": step.edge,
        "from_start_mm": list(step.start),
        "from_edge_mm": list(step.across),
        "grain": _spots(step.grain),
        "fold": _spots(step.fold),
        "notches": _spots(step.notches),
        "notch_edges": _spots(step.notch_edges),
        "drill_points": _spots(step.drill_points),
        "match": _spots(step.match),
        "text": [f"{step_title(step)}", *step_texts(step, guide.units, guide.chalked.step)],
    }


def _spots(spots: tuple[MarkSpot, ...]) -> list[dict[str, Any]]:
    return [{"name": spot.name, "from_start_mm": spot.start, "from_edge_mm": spot.edge} for spot in spots]
