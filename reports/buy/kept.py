"""A plan made again from what was shown of it: each marker is checked before it is believed."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from nesting.errors import CheckError
from nesting.marker.marker import Marker, Placement, Result
from nesting.marker.opinion import check
from nesting.verify import verify_asked
from reports.ask.draft import draft_whole
from reports.ask.wanted import asked_of
from reports.errors import MissingError, StateError
from reports.plan.answers import FabricPlan, PassedOver, Refusal, RefusalCause, purchase_of
from reports.plan.plan import Plan, plan_ribs
from reports.plan.problems import cut_from, spread_problem

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nesting.cloth.spread import Spread
    from nesting.problem.problem import Problem
    from nesting.verify import Asked
    from reports.ask.job import Job
    from reports.ask.offer import FabricOffer

JOBS_KEPT = 8
"""Jobs whose problems are kept, so that a piece can be moved again without delay."""


FLAT = 1
"""The schema of results whose proof stood among the keys of the cloth."""

EARLIER = "this answer is from an earlier version of ellwand: search again"


class Kept:
    """A job whose answers are made again.

    Attributes
    ----------
    job, pieces
        The job, and its pieces as they are drafted.
    """

    def __init__(self, job: Job) -> None:
        self.job, self._drafted = job, draft_whole(job)
        self.pieces = self._drafted.pieces
        self._problems: dict[Any, Problem] = {}

    def plan(self, result: Mapping[str, Any]) -> Plan:
        """The plan that a result shows; StateError if it is of an earlier version, and does not fit the job."""
        try:
            return self._plan(result)
        except (CheckError, LookupError, TypeError, ValueError, AttributeError) as error:
            raise StateError(EARLIER) from error

    def _plan(self, result: Mapping[str, Any]) -> Plan:
        result = _as_now(result)
        markers = {marker["fabric"]: marker for marker in result["markers"]}
        fabrics: list[FabricPlan | Refusal] = []
        for number, plain in enumerate(result["plan"]["fabrics"]):
            if "refused" in plain:
                fabrics.append(Refusal(self.job.fabric[number], plain["refused"], _cause(plain)))
            else:
                fabrics.append(self._fabric(plain, markers[number], result["plan"]["seed"]))
        ribs, seed = plan_ribs(self.job, self._drafted), result["plan"]["seed"]
        return Plan(self.job, self.pieces, tuple(fabrics), ribs, seed, members=self._drafted.members)

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
            opened = tuple(shown.get("opened") or ()) or None  # earlier versions chose the pieces anew
            how = plain["spread"], plain["fold_depth_mm"], opened
            problem = self._problem(shown["fabric"], how, shown["start"], ends)
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
        self,
        fabric: int,
        how: tuple[Spread, float | None, tuple[str, ...] | None],
        start: float | None,
        ends: tuple[Any, ...],
    ) -> Problem:
        """The layout problem of a marker, the same object each time; `how` are spread, depth and the opened pieces."""
        key = fabric, how, start
        if key not in self._problems:
            offer = self.job.fabric[fabric]
            pieces = cut_from(offer, self.job, self.pieces)
            spread, depth, opened = how
            problem = spread_problem(offer, offer.fabric(), spread, pieces, self.job.garments, depth, opened)[1]
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
                0,
                plain["seconds"],
                seed,
                plain["stopped_by"],
                work=plain.get("effort", 0.0),
            ),
            bought,
            offer.cost(bought.buy),
            tuple(_passed_over(offer, passed, marker.problem) for passed in plain["other_ways"]),
            plain["simplest_spread"],
            plain["plain_mm"],
            plain["fold_depth_mm"],
            asked=self._asked(shown["fabric"], plain),
        )


def kept_of(job: Job) -> Kept:
    """What is kept of a job, the same object each time."""
    return _kept_of(_Same(repr(job), job))


class _Same:
    """A job, the same as another that says the same."""

    def __init__(self, said: str, job: Job) -> None:
        self.said, self.job = said, job

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and self.said == other.said

    def __hash__(self) -> int:
        return hash(self.said)


@lru_cache(maxsize=JOBS_KEPT)
def _kept_of(same: _Same) -> Kept:
    return Kept(same.job)


def _as_now(result: Mapping[str, Any]) -> Mapping[str, Any]:
    """A result with what it is made again from in its present places."""
    if result["plan"]["schema"] > FLAT:
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
    return {**result, "plan": result["plan"] | {"fabrics": fabrics}}


def _passed_over(offer: FabricOffer, passed: dict[str, Any], problem: Problem) -> PassedOver:
    if "mm" not in passed:
        return PassedOver(passed["spread"], reason=passed["reason"], cause=_cause(passed))
    if not passed["searched"]:  # earlier versions told of a first layout
        return PassedOver(passed["spread"], depth=passed.get("fold_depth_mm"))
    lengths = 2 if passed["spread"] == "crosswise" else 1
    bought = offer.purchase(passed["mm"] / lengths, lengths, on_pattern=problem.repeat is not None)
    return PassedOver(passed["spread"], passed["mm"], bought, depth=passed.get("fold_depth_mm"))


def _cause(plain: dict[str, Any]) -> RefusalCause:
    """Why it will not do, as data; answers of earlier versions have none."""
    told = plain.get("cause")
    return RefusalCause(told["kind"], told["piece"], told["needed_mm"], told["given_mm"]) if told else RefusalCause()
