"""Answers for machines: plain objects that ``json.dumps`` takes; every length in mm."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Any

from nesting.cloth.spread import STACKS, laid_width
from reports.plan.answers import FabricPlan, Refusal
from reports.plan.best import best_of
from reports.plan.costing import costing_to_plain
from reports.plan.marks import marker_marks
from reports.plan.shopping import shopping_to_plain
from reports.plan.together import together_to_plain
from reports.stock.on_hand import on_hand_to_plain

if TYPE_CHECKING:
    from nesting.marker.marker import Marker
    from nesting.rib.plan import RibPlan
    from pieces.units import Units
    from reports.money.yardage import Purchase
    from reports.plan.answers import PassedOver, RefusalCause, RibAnswer
    from reports.plan.best import Best
    from reports.plan.cut_cloth import CutCloth
    from reports.plan.plan import Plan

SCHEMA = 1

PLAN_SCHEMA = 7
"""Of a job's answer; 1 had neither ``best`` nor ``proof`` nor ``other_ways``, 2 no ``tied_with``, no ``cause`` and no
kinds of additions, 3 no ``spread_asked``, and lengths of what was not searched, 4 no ``shopping``, 5 no
``costing``, 6 no ``together``."""


def plan_to_plain(plan: Plan) -> dict[str, Any]:
    """The whole answer of a job: what ``buy --json`` prints."""
    return {
        "schema": PLAN_SCHEMA,
        "job": plan.job.name,
        "units": plan.job.units,
        "seed": plan.seed,
        "best": [_best(best) for best in best_of(plan)],
        "fabrics": [_refused(f) if isinstance(f, Refusal) else _fabric(f, plan.job.written_in) for f in plan.fabrics],
        "ribs": [_refused(r) if isinstance(r, Refusal) else _rib(r) for r in plan.ribs],
        "shopping": shopping_to_plain(plan),
        "costing": costing_to_plain(plan),
        "together": together_to_plain(plan),
        "remarks": plan.remarks,
    } | ({} if plan.on_hand is None else {"on_hand": on_hand_to_plain(plan.on_hand)})


def lay_to_plain(plan: Plan) -> dict[str, Any]:
    """The markers of a job, and what is to be said of each cloth: what ``lay --json`` prints."""
    plain = plan_to_plain(plan)
    for key in ("ribs", "shopping", "costing", "together", "on_hand"):
        plain.pop(key, None)
    return plain | {"markers": [marker_to_plain(fabric) for _, fabric in plan.markers]}


def _refused(refusal: Refusal) -> dict[str, Any]:
    return {
        "name": refusal.offer.name,
        "width_mm": refusal.offer.width,
        "refused": refusal.reason,
        "cause": _cause(refusal.cause),
        "checked": False,
    }


def _cause(cause: RefusalCause) -> dict[str, Any]:
    return {"kind": cause.kind, "piece": cause.piece, "needed_mm": cause.needed, "given_mm": cause.given}


def _additions(purchase: Purchase) -> list[dict[str, Any]]:
    return [
        {
            "kind": more.kind,
            "what": more.what,
            "mm": more.mm,
            "percent": more.percent,
            "step_mm": more.step,
            "repeat_mm": more.repeat,
        }
        for more in purchase.additions
    ]


def _lines(purchase: Purchase, units: Units) -> list[dict[str, Any]]:
    kinds = ["marker", *(more.kind for more in purchase.additions)]
    return [
        {"kind": kind, "what": line.what, "shown": line.text, "shown_mm": line.mm}
        for kind, line in zip(kinds, purchase.lines("marker", units), strict=True)
    ]


def _fabric(plan: FabricPlan, units: Units) -> dict[str, Any]:
    marker, result = plan.result.marker, plan.result
    return {
        "name": plan.offer.name,
        "width_mm": plan.offer.width,
        "selvedge_mm": plan.offer.selvedge,
        "selvedge_given": plan.offer.says_selvedge,
        "usable_width_mm": marker.problem.cloth_width,
        "part": plan.offer.part,
        "spread": plan.spread,
        "spread_asked": plan.offer.spread,
        "fold_depth_mm": plan.depth,
        "lengths_of_cloth": marker.problem.lengths,
        "simplest_spread": plan.simplest or plan.spread,
        "marker_mm": marker.length,
        "plain_mm": plan.plain,
        "proof": _proof(plan),
        "density_percent": 100 * marker.density,
        "additions": _additions(plan.purchase),
        "lines": _lines(plan.purchase, units),
        "buy_mm": plan.purchase.buy,
        "buy": plan.purchase.text,
        "kilograms": plan.kilograms,
        "cost": None if plan.cost is None else float(plan.cost),
        "currency": plan.offer.price.currency if plan.offer.price else "",
        "other_ways": [_other_way(way, plan) for way in plan.passed_over],
        "stopped_by": result.stopped_by,
        "effort": round(result.work, 3),
        "seconds": round(result.seconds, 3),
        "checked": True,
    }


def _best(best: Best) -> dict[str, Any]:
    """The best offer for a part; ``number`` counts the cloths or the ribs of the job from 1, as files do."""
    return {
        "part": best.part,
        "kind": best.kind,
        "number": best.number,
        "name": best.answer.offer.name,
        "by": best.by,
        "tied_with": [{"number": number, "name": answer.offer.name} for number, answer in best.tied],
        "against": best.against.offer.name if best.against else None,
        "saved": None if best.saved is None else float(best.saved),
    }


def _proof(plan: FabricPlan) -> dict[str, Any]:
    """How far the marker is from the best possible: the bound, what holds it, and what buying less would take."""
    return {
        "bound_mm": plan.result.bound,
        "held": plan.result.bound_held,
        "fold_depths": plan.fold_depths,
        "proved": plan.is_proved,
        "gap_percent": 100 * plan.result.gap,
        "least_buy_mm": plan.least.enough,
        "least_buy": plan.offer.sold_by.write(plan.least.enough),
        "buys_least": plan.buys_least,
        "costs_least": plan.costs_least,
        "less_needs_mm": plan.less_needs,
    }


def _other_way(way: PassedOver, plan: FabricPlan) -> dict[str, Any]:
    """Another spread; without ``mm`` it will not do, for the ``reason``; what was not searched has null for figures."""
    if way.reason:
        return {"spread": way.spread, "reason": way.reason, "cause": _cause(way.cause)}
    return {
        "spread": way.spread,
        "mm": way.length,
        "fold_depth_mm": way.depth,
        "buy_mm": way.purchase.buy if way.purchase else None,
        "buy": way.purchase.text if way.purchase else None,
        "searched": way.is_searched,
        "simplest": way.spread == plan.simplest,
        "shortest": way.spread == plan.shortest,
    }


def _rib(answer: RibAnswer) -> dict[str, Any]:
    bought: dict[str, Any]
    if answer.purchase is None:
        bought = {"count": answer.plan.count}
    else:
        additions = _additions(answer.purchase)
        bought = {"need_mm": answer.purchase.need, "additions": additions, "buy_mm": answer.purchase.buy}
    return {
        "name": answer.offer.name,
        "form": answer.offer.form,
        "width_mm": answer.offer.width,
        "selvedge_mm": answer.offer.selvedge,
        "selvedge_given": answer.offer.says_selvedge,
        **bought,
        "buy": answer.text,
        "cost": None if answer.cost is None else float(answer.cost),
        **rib_cuts_to_plain(answer.plan),
    }


def rib_cuts_to_plain(plan: RibPlan) -> dict[str, Any]:
    """How bands are joined, and what is cut of each row."""
    return {
        "joins": plan.joins,
        "joined_at": [
            {
                "band": join.band,
                "copy": join.copy + 1,
                "after_part": join.part + 1,
                "at_mm": join.at,
                "place": join.place,
            }
            for join in plan.seams
        ],
        "most_at_places": plan.most_at_places,
        "optimal": plan.optimal,
        "cuts": [
            {
                "band": cut.band,
                "copy": cut.copy + 1,
                "from": cut.source,
                "offset_mm": cut.offset,
                "rise_mm": cut.rise,
                "length_mm": cut.length,
                "depth_mm": cut.depth,
                "joins": cut.joins,
                "part": cut.part + 1,
                "closed": cut.closed,
            }
            for cut in plan.cuts
        ],
    }


def marker_to_plain(cut: CutCloth) -> dict[str, Any]:
    """A marker that anyone can check with a geometry library: true cut lines in place, x along the length.

    So can ``ellwand check``: it is all that a marker says of itself.
    """
    marker, repeat = cut.marker, cut.marker.problem.repeat
    layout = layout_to_plain(marker)
    for placed, marks in zip(layout["placements"], marker_marks(marker), strict=True):
        placed.update(marks)
    return {
        "schema": SCHEMA,
        "unit": "mm",
        "fabric": cut.offer.name,
        "spread": cut.spread,
        "width": laid_width(cut.offer.fabric(), cut.spread, cut.depth),
        "fold_depth": cut.depth,
        "plies": cut.offer.plies if cut.spread in STACKS else 1,
        "garments": sum(number for _, number in cut.asked.sets),
        "pattern_start": repeat.start if repeat and repeat.along else None,
        **layout,
    }


def layout_to_plain(marker: Marker) -> dict[str, Any]:
    """The layout alone: its length, its bands, and every placement."""
    return {
        "length": marker.length,
        "gap": marker.problem.gap,
        "density_percent": 100 * marker.density,
        "bands": [
            {
                "name": band.name,
                "x0": band.start,
                "x1": min(band.end, marker.length),
                "y0": band.low,
                "y1": band.high,
                "layers": band.layers,
                "mirrored": band.mirrored,
                "low_edge": band.low_edge,
                "high_edge": band.high_edge,
            }
            for band in marker.problem.bands
        ],
        "placements": _placements(marker),
    }


def _placements(marker: Marker) -> list[dict[str, Any]]:
    """Every placement; copies of a piece are numbered through, left and right hands alike."""
    copies: Counter[str] = Counter()
    placements = []
    for _, item, variant, outline in marker.outlines():
        piece = item.piece.name if item.piece else item.name
        copies[piece] += 1
        placements.append(
            {
                "piece": piece,
                "item": item.name,
                "copy": copies[piece],
                "yields": item.yields,
                "band": marker.problem.bands[variant.band].name,
                "turn": variant.turn,
                "mirrored": variant.mirrored,
                "on_fold": variant.on_fold,
                "outline": outline.tolist(),
            }
        )
    return placements
