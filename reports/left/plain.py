"""What is left of the cloth bought: the answer for machines; every length in mm."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reports.left.words import left_lines, name_of
from reports.plan.plain import layout_to_plain

if TYPE_CHECKING:
    from nesting.left.rectangles import Rectangle
    from reports.left.left import Left

LEFT_SCHEMA = 1


def left_to_plain(found: Left) -> dict[str, Any]:
    """The answer: what `left --json` prints."""
    job, plan, beside = found.task.job, found.plan, found.beside
    along, across = found.bought
    return {
        "schema": LEFT_SCHEMA,
        "job": job.name,
        "units": job.units,
        "seed": plan.result.seed,
        "unit": "mm",
        "fabric": plan.offer.name,
        "spread": found.spread,
        "buy_mm": plan.purchase.buy,
        "marker_mm": plan.result.marker.length,
        "laid_mm": found.length,
        "gap": plan.offer.gap,
        "free_mm2": found.free,
        "free_as_bought_mm2": found.free * along * across,
        "rectangles": [_to_plain(one, name_of(i), found) for i, one in enumerate(found.rectangles)],
        "strips": [_to_plain(one, f"S{i}", found) for i, one in enumerate(found.strips, 1)],
        "bias": _bias(found) if found.task.bias else None,
        "other": {
            "job": beside.job.name,
            "pieces": beside.pieces,
            "answer": "yes" if beside.spread else "no place found",
            "tried": [{"spread": tried.spread, "reason": tried.reason or None} for tried in beside.tried],
            "piecing": list(beside.piecing),
            "layout": layout_to_plain(found.marker) if beside.spread else None,
        }
        if beside
        else None,
        "words": list(left_lines(found)),
    }


def _to_plain(one: Rectangle, name: str, found: Left) -> dict[str, Any]:
    start, end, low, high = one.zone
    along, across = found.bought
    return {
        "name": name,
        "start": start,
        "end": end,
        "low": low,
        "high": high,
        "layers": one.layers,
        "band": found.marker.problem.bands[one.band].name,
        "length_as_bought": (end - start) * along,
        "width_as_bought": (high - low) * across,
    }


def _bias(found: Left) -> dict[str, Any]:
    total = sum(strip.length for strip in found.bias)
    return {
        "width": found.task.bias,
        "layers": found.rectangles[0].layers if found.rectangles else 0,
        "total_of_a_layer": total,
        "strips": [{"length": strip.length, "corners": list(map(list, strip.corners))} for strip in found.bias],
    }
