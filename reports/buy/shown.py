"""What the page shows of an answer, and the answer is later made again from: what ``json.dumps`` takes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from nesting.cloth.spread import laid_width
from nesting.folds.fold_then_open import opened_in
from reports.plan.best import best_of
from reports.plan.plain import layout_to_plain, plan_to_plain
from reports.plan.words import (
    SPREAD_WORDS,
    answer_lines,
    asked_words,
    best_lines,
    pattern_words,
    proof_words,
    way_words,
)

if TYPE_CHECKING:
    from nesting.cloth.spread import Spread
    from nesting.marker.marker import Marker
    from pieces.units import Units
    from reports.plan.answers import FabricPlan
    from reports.plan.cut_cloth import CutCloth
    from reports.plan.plan import Plan


def plan_shown(plan: Plan) -> dict[str, Any]:
    """A plan: what ``buy --json`` prints, the answer in words, and each marker with how its cloth lies."""
    return {
        "plan": plan_to_plain(plan),
        "words": list(answer_lines(plan)),
        "best_words": list(best_lines(best_of(plan))),
        "markers": [_marker_shown(number - 1, fabric, plan.job.written_in) for number, fabric in plan.markers],
    }


def _marker_shown(fabric: int, plan: FabricPlan, units: Units) -> dict[str, Any]:
    """A marker; `fabric` counts the job's cloths from 0. It is made again from ``placed``, ``start``, ``opened``."""
    marker = plan.result.marker
    repeat = marker.problem.repeat
    return {
        "fabric": fabric,
        **laid_shown(plan),
        "said": {
            "proof": proof_words(plan, units),
            "asked": asked_words(plan),
            "pattern": pattern_words(plan, units),
            "other_ways": [way_words(plan, way, units) for way in plan.passed_over],
        },
        "placed": placed_of(marker),
        "start": repeat.start if repeat else None,
        "opened": list(opened_in(marker.problem) or ()),
    }


def laid_shown(cut: CutCloth, marker: Marker | None = None) -> dict[str, Any]:
    """A cloth with its marker, or with another one of the same problem, as it is drawn on the page's table.

    ``turns`` are the ways in which each piece may be turned.
    """
    marker, offer = marker or cut.marker, cut.offer
    layout = layout_to_plain(marker)
    for placed, grain in zip(layout["placements"], grains_of(marker), strict=True):
        placed["grain"] = grain
    return {
        **layout,
        "cloth": {
            "name": offer.name,
            "width": laid_width(offer.fabric(), cut.spread, cut.depth),
            "full_width": offer.width,
            "usable_width": marker.problem.cloth_width,
            "nap": offer.nap,
            "spread": cut.spread,
            "words": SPREAD_WORDS[cut.spread],
            "stages": _stages(marker, cut.spread),
        },
        "turns": [sorted({way.turn % 360 for way in item.variants}) for _, item, _, _ in marker.outlines()],
    }


def placed_of(marker: Marker) -> list[list[float]]:
    """What a marker of a known problem is made again from."""
    return [[p.item, p.copy, p.variant, p.x, p.y] for p in marker.placements]


def grains_of(marker: Marker) -> list[list[list[float]] | None]:
    """The grainline of each placement, in its place; none of a bare outline."""
    found: list[list[list[float]] | None] = []
    for at, item, way, _ in marker.outlines():
        if item.piece is None or way.transform is None:
            found.append(None)
        else:
            found.append(way.transform.moved(at.x, at.y)(item.piece.grain).tolist())
    return found


def _stages(marker: Marker, spread: Spread) -> list[dict[str, Any]]:
    """Pieces that are cut while the cloth lies in one way: along the cloth, several layers before a single one."""
    pieces: dict[tuple[float, bool], list[int]] = {}
    for number, (_, _, variant, _) in enumerate(marker.outlines()):
        band = marker.problem.bands[variant.band]
        pieces.setdefault((band.start, band.layers == 1), []).append(number)
    stages = []
    for (start, single), numbers in sorted(pieces.items()):
        lies = ("open" if single else "folded") if spread == "fold-then-open" else spread
        stages.append({"words": SPREAD_WORDS[lies], "single": single, "start": start, "pieces": numbers})
    return stages
