"""Boxes beside outlines, for machines; every length in mm."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reports.boxes.words import boxes_lines
from reports.plan.answers import FabricPlan, Refusal
from reports.plan.plain import layout_to_plain

if TYPE_CHECKING:
    from reports.boxes.boxes import BoxedCloth, Boxes

BOXES_SCHEMA = 1


def boxes_to_plain(found: Boxes) -> dict[str, Any]:
    """The answer: what `boxes --json` prints."""
    job = found.task.job
    return {
        "schema": BOXES_SCHEMA,
        "job": job.name,
        "units": job.units,
        "seed": found.seed,
        "unit": "mm",
        "cut_short": found.is_interrupted,
        "cloths": [_cloth(cloth, job.garments) for cloth in found.cloths],
        "words": list(boxes_lines(found)),
    }


def _cloth(cloth: BoxedCloth, garments: int) -> dict[str, Any]:
    return {
        "fabric": cloth.offer.name,
        "boxes": [
            {"holds": box.holds, "boxes": box.piece.cut * garments, "length": box.length, "width": box.width}
            for box in cloth.boxes
        ],
        "by_boxes": _laid(cloth.by_boxes),
        "by_outlines": _laid(cloth.by_outlines),
        "more_mm": cloth.more,
        "more_cost": None if cloth.more_cost is None else float(cloth.more_cost),
    }


def _laid(plan: FabricPlan | Refusal) -> dict[str, Any]:
    if isinstance(plan, Refusal):
        keys = ("spread", "buy", "buy_mm", "cost", "at_least_mm", "layout")
        return {"refused": plan.reason, **dict.fromkeys(keys)}
    return {
        "refused": None,
        "spread": plan.spread,
        "buy": plan.purchase.text,
        "buy_mm": plan.purchase.buy,
        "cost": None if plan.cost is None else float(plan.cost),
        "at_least_mm": plan.at_least,
        "layout": layout_to_plain(plan.result.marker),
    }
