"""A plan made again from what was kept of it, and changed by hand: each marker is checked before it is believed."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from nesting.edit.by_hand import laid_again, put, snap, with_places
from nesting.errors import CheckError
from nesting.marker.marker import Marker, Placement, Result
from nesting.marker.opinion import check
from nesting.verify import verify_asked
from reports.ask.draft import draft_job
from reports.ask.wanted import asked_of
from reports.page.answers.fields import job_of
from reports.page.answers.shown import plan_shown
from reports.page.errors import LayoutError, MissingError, StateError
from reports.page.work_folder import uploads_of
from reports.plan.answers import FabricPlan, PassedOver, Refusal, purchase_of
from reports.plan.one_cloth import cut_from, spread_problem
from reports.plan.plain import PLAN_SCHEMA
from reports.plan.plan import Plan, plan_ribs

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from nesting.cloth.spread import Spread
    from nesting.problem.problem import Problem
    from nesting.verify import Asked
    from reports.ask.job import Job
    from reports.ask.offer import FabricOffer

JOBS_KEPT = 8
"""Jobs whose problems are kept, so that a piece can be moved again without delay."""


EARLIER = "this answer is of an earlier version of ellwand: search once more"

LEAST_SHARED, SLACK = 1.0, 0.01
"""Less area of one piece over another, mm², and less sticking out, mm, is not worth a word."""


class Kept:
    """A job whose answers are made again.

    Attributes
    ----------
    job, pieces
        The job, and its pieces as they are drafted.
    """

    def __init__(self, job: Job) -> None:
        self.job, self.pieces = job, draft_job(job)
        self._problems: dict[Any, Problem] = {}

    def plan(self, result: dict[str, Any]) -> Plan:
        """The plan that a result shows; StateError if it is of an earlier version, and does not fit the job."""
        try:
            return self._plan(result)
        except (CheckError, LookupError, TypeError, ValueError, AttributeError) as error:
            raise StateError(EARLIER) from error

    def _plan(self, result: dict[str, Any]) -> Plan:
        result = _as_now(result)
        markers = {marker["fabric"]: marker for marker in result["markers"]}
        fabrics: list[FabricPlan | Refusal] = []
        for number, plain in enumerate(result["plan"]["fabrics"]):
            if "refused" in plain:
                fabrics.append(Refusal(self.job.fabric[number], plain["refused"]))
            else:
                fabrics.append(self._fabric(plain, markers[number], result["plan"]["seed"]))
        return Plan(self.job, self.pieces, tuple(fabrics), plan_ribs(self.job, self.pieces), result["plan"]["seed"])

    def marker(self, result: dict[str, Any], number: int) -> Marker:
        """One of a result's markers, counted from 0; MissingError if it has no such marker."""
        if not 0 <= number < len(result["markers"]):
            raise MissingError(
                f"this answer has {len(result['markers'])} markers, counted from 0: there is no {number}"
            )
        shown = result["markers"][number]
        marker = self._marker(shown, result["plan"]["fabrics"][shown["fabric"]])
        verify_asked(marker, self.asked(result, number))
        return marker

    def asked(self, result: dict[str, Any], number: int) -> Asked:
        """What one of a result's markers has to give."""
        fabric = result["markers"][number]["fabric"]
        return self._asked(fabric, result["plan"]["fabrics"][fabric])

    def _asked(self, fabric: int, plain: dict[str, Any]) -> Asked:
        offer = self.job.fabric[fabric]
        pieces = cut_from(offer, self.job, self.pieces)
        return asked_of(offer, plain["spread"], pieces, self.job.garments, plain["fold_depth_mm"])

    def _marker(self, shown: dict[str, Any], plain: dict[str, Any]) -> Marker:
        ends = tuple((band["x0"], band["x1"]) for band in shown["bands"])
        try:
            problem = self._problem(shown["fabric"], plain["spread"], plain["fold_depth_mm"], shown["start"], ends)
            placements = tuple(
                Placement(int(item), int(copy), int(variant), float(x), float(y))
                for item, copy, variant, x, y in shown["placed"]
            )
            marker = Marker(problem, placements, float(shown["length"]))
            check(marker)
        except (CheckError, IndexError, ValueError, TypeError) as error:
            raise StateError(EARLIER) from error
        return marker

    def _problem(
        self, fabric: int, spread: Spread, depth: float | None, start: float | None, ends: tuple[Any, ...]
    ) -> Problem:
        """The layout problem of a marker, the same object each time."""
        key = fabric, spread, depth, start
        if key not in self._problems:
            offer = self.job.fabric[fabric]
            pieces = cut_from(offer, self.job, self.pieces)
            problem = spread_problem(offer, offer.fabric(), spread, pieces, self.job.garments, depth)[1]
            if problem.repeat is not None and start is not None:
                problem = replace(problem, repeat=replace(problem.repeat, start=start))
            if problem.stretches:
                own = zip(problem.bands, ends, strict=True)
                problem = replace(problem, bands=tuple(replace(band, start=x0, end=x1) for band, (x0, x1) in own))
            self._problems[key] = problem
        return self._problems[key]

    def _fabric(self, plain: dict[str, Any], shown: dict[str, Any], seed: int) -> FabricPlan:
        offer, marker = self.job.fabric[shown["fabric"]], self._marker(shown, plain)
        bought = purchase_of(offer, marker.problem, marker.length)
        return FabricPlan(
            offer,
            plain["spread"],
            Result(
                marker,
                plain["proof"]["bound_mm"],
                plain["proof"]["held"],
                plain["iterations"],
                plain["seconds"],
                seed,
                plain["stopped_by"],
            ),
            bought,
            offer.cost(bought.buy),
            tuple(_passed_over(offer, passed, marker.problem) for passed in plain["other_ways"]),
            plain["simplest_spread"],
            plain["plain_mm"],
            plain["fold_depth_mm"],
            asked=self._asked(shown["fabric"], plain),
        )


def kept_of_payload(payload: dict[str, Any]) -> Kept:
    """What is kept of the job that a search was asked for, the same object each time."""
    return _kept_of(json.dumps(payload["job"]), uploads_of(payload))


@lru_cache(maxsize=JOBS_KEPT)
def _kept_of(text: str, uploads: Path | None) -> Kept:
    return Kept(job_of(json.loads(text), uploads))


def as_shown_now(payload: dict[str, Any], result: dict[str, Any]) -> dict[str, Any]:
    """What a search for what to buy found, as the page shows it now; one kept by an earlier version is made again."""
    plan = result.get("plan")
    if not isinstance(plan, dict) or plan.get("schema") == PLAN_SCHEMA:
        return result
    return plan_shown(kept_of_payload(payload).plan(result))


def _as_now(result: dict[str, Any]) -> dict[str, Any]:
    """A result with what it is made again from in its present places."""
    if result["plan"]["schema"] == PLAN_SCHEMA:
        return result
    fabrics = [
        plain
        if "refused" in plain
        else plain
        | {
            "proof": {"bound_mm": plain["bound_mm"], "held": plain["bound_held"]},
            "other_ways": plain["passed_over"],
        }
        for plain in result["plan"]["fabrics"]
    ]
    return result | {"plan": result["plan"] | {"fabrics": fabrics}}


def _passed_over(offer: FabricOffer, passed: dict[str, Any], problem: Problem) -> PassedOver:
    if "mm" not in passed:
        return PassedOver(passed["spread"], reason=passed["reason"])
    lengths = 2 if passed["spread"] == "crosswise" else 1
    bought = offer.purchase(passed["mm"] / lengths, lengths, on_pattern=problem.repeat is not None)
    return PassedOver(passed["spread"], passed["mm"], bought, passed["searched"])


def moved(
    marker: Marker, piece: int, x: float, y: float, turn: float | None = None, asked: Asked | None = None
) -> dict[str, Any]:
    """Where a piece that was let go comes to lie, and what that makes of the marker, which has to give what is `asked`.

    Where it may not lie, and no place is near at which it may, it stays where it was let go: not legal, and why.
    """
    if not 0 <= piece < len(marker.placements):
        raise MissingError(f"{len(marker.placements)} pieces lie on the cloth, counted from 0: there is no {piece}")
    found = snap(marker, piece, x, y, turn)
    place = found or put(marker, piece, x, y, turn)
    after = laid_again(marker, [*marker.placements[:piece], place, *marker.placements[piece + 1 :]])
    why = ""
    try:
        check(after)
    except CheckError as error:
        why = _why_not(after, piece) or str(error)
    if asked and not why:
        verify_asked(after, asked)
    _, _, variant, outline = list(after.outlines())[piece]
    return {
        "x": place.x,
        "y": place.y,
        "turn": variant.turn,
        "outline": outline.tolist(),
        "band": after.problem.bands[variant.band].name,
        "legal": not why,
        "why": why,
        "length_mm": after.length,
        "density": after.density,
    }


def _why_not(marker: Marker, piece: int) -> str:
    """Why a piece may not lie where it does, if it is the piece's own fault."""
    import shapely

    outlines = list(marker.outlines())
    _, item, variant, outline = outlines[piece]
    shape, band = shapely.Polygon(outline), marker.problem.bands[variant.band]
    under = [
        f"'{other.name}'"
        for number, (_, other, _, points) in enumerate(outlines)
        if number != piece and shape.intersection(shapely.Polygon(points)).area > LEAST_SHARED
    ]
    if under:
        return f"'{item.name}' lies over {' and '.join(dict.fromkeys(under))}"
    (left, low), (right, high) = outline.min(axis=0), outline.max(axis=0)
    if left < band.start - SLACK or right > band.end + SLACK or low < band.low - SLACK or high > band.high + SLACK:
        return f"'{item.name}' sticks out of the cloth it is cut from"
    return ""


def with_layout(plan: Plan, number: int, places: Sequence[tuple[float, float, float | None]]) -> Plan:
    """The plan with the pieces of one of its markers laid by hand.

    Raises
    ------
    LayoutError
        If it cannot be cut so: the first reason.
    """
    chosen, fabric = plan.markers[number]
    marker = with_places(fabric.result.marker, places)
    try:
        check(marker)
    except CheckError as error:
        raise LayoutError(str(error)) from error
    bought = purchase_of(fabric.offer, marker.problem, marker.length)
    after = replace(
        fabric,
        result=replace(fabric.result, marker=marker, stopped_by="hand"),
        purchase=bought,
        cost=fabric.offer.cost(bought.buy),
    )
    return replace(plan, fabrics=(*plan.fabrics[: chosen - 1], after, *plan.fabrics[chosen:]))
