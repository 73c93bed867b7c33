"""Markers as they lie on the page's table: those of what to buy, or one for each lay of a run."""

from __future__ import annotations

import json
from abc import ABC, abstractmethod
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from nesting.edit.by_hand import with_places
from nesting.errors import CheckError
from nesting.verify import verify_asked
from pieces.units import speaking
from reports.asking.question import KEPT_BESIDE
from reports.buy.shown import laid_shown, placed_of, plan_shown
from reports.errors import MissingError, StateError
from reports.page.answers.kept import kept_of_payload, moved, with_layout
from reports.page.errors import LayoutError
from reports.page.searches.files import Answered, laid_again
from reports.page.searches.work import task_of
from reports.page.work_folder import markers_of
from reports.run.by_hand import hand_words, laid_by_hand, why_too_long, with_hand
from reports.run.plan import RunPlan

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nesting.edit.by_hand import Place
    from nesting.marker.marker import Marker
    from reports.buy.kept import Kept
    from reports.page.search import Search
    from reports.plan.answers import FabricPlan
    from reports.plan.plan import Plan
    from reports.run.lay_marker import LayMarker

RUNS_KEPT = 4
"""Runs that are kept, so that a piece can be moved again without delay."""

BY_HAND = "by_hand"
"""Of a run's result: the lays that were laid by hand, by their tickets."""


class OnTable(ABC):
    """The markers of an answer, counted from 0; MissingError where there is no such marker."""

    @abstractmethod
    def shown(self, number: int) -> dict[str, Any]:
        """A marker, as it is drawn."""

    @abstractmethod
    def moved(self, number: int, piece: int, to: Place, places: Sequence[Place] | None) -> dict[str, Any]:
        """Where a piece comes to lie that was let go, all others lying at `places`."""

    @abstractmethod
    def kept(self, number: int, places: Sequence[Place]) -> dict[str, Any]:
        """The answer with a marker laid by hand; LayoutError if it cannot be cut so."""


def on_table(search: Search) -> OnTable:
    """The markers of an answer.

    Raises
    ------
    StateError
        If the search has not ended with a result, or its answer has no markers to be worked on.
    """
    if search.kind not in ("buy", "run"):
        raise StateError("only the markers of what to buy, and of the lays of a run, can be opened on the table")
    if not search.has_ended or search.result is None:
        raise StateError("this search has no result yet: wait for it, or stop it")
    if search.kind == "buy":
        return BoughtOnTable(kept_of_payload(search.payload), search.result)
    return LaysOnTable(run_of(search.payload, search.result), search.result)


@dataclass(frozen=True, eq=False)
class BoughtOnTable(OnTable):
    """Those of what to buy."""

    kept_job: Kept
    result: dict[str, Any]

    @property
    def plan(self) -> Plan:
        """The answer made again."""
        return self.kept_job.plan(self.result)

    def marker(self, number: int) -> Marker:
        """A marker, checked."""
        return self.kept_job.marker(self.result, number)

    def cloth(self, number: int) -> FabricPlan:
        """The cloth that a marker is for."""
        self.marker(number)
        return self.plan.markers[number][1]

    def shown(self, number: int) -> dict[str, Any]:
        """A marker, as it is drawn."""
        return laid_shown(self.cloth(number))

    def moved(self, number: int, piece: int, to: Place, places: Sequence[Place] | None) -> dict[str, Any]:
        """Where a piece comes to lie."""
        marker = _placed(self.marker(number), places)
        return moved(marker, piece, *to, self.kept_job.asked(self.result, number))

    def kept(self, number: int, places: Sequence[Place]) -> dict[str, Any]:
        """The answer with a marker laid by hand."""
        self.marker(number)
        return plan_shown(with_layout(self.plan, number, places))


@dataclass(frozen=True, eq=False)
class LaysOnTable(OnTable):
    """Those of the lays of a run, in the order of its tickets."""

    run: RunPlan
    result: dict[str, Any]

    def planned(self, number: int) -> LayMarker:
        """A lay as the run has it."""
        if not 0 <= number < len(self.run.lays):
            raise MissingError(f"this run has {len(self.run.lays)} lays, counted from 0: there is no {number}")
        return self.run.lays[number]

    def lay(self, number: int) -> LayMarker:
        """A lay as it is to be cut: as it was laid by hand, if it was."""
        planned = self.planned(number)
        return self.run.by_hand.get(planned.ticket, planned)

    def shown(self, number: int) -> dict[str, Any]:
        """A lay's marker, as it is drawn, with the size of each piece."""
        lay, units = self.lay(number), self.run.order.written_in
        is_by_hand = lay is not self.planned(number)
        layout = laid_shown(lay)
        return {
            **layout,
            "sizes": [lay.size_of[placed["piece"]] for placed in layout["placements"]],
            "lay": {"ticket": lay.ticket, "title": lay.lay.title, "garments": lay.garments, "plies": dict(lay.plies)},
            "by_hand": hand_words(self.planned(number), lay, units) if is_by_hand else "",
        }

    def moved(self, number: int, piece: int, to: Place, places: Sequence[Place] | None) -> dict[str, Any]:
        """Where a piece comes to lie; a ply must not become longer than the table."""
        lay, order = self.lay(number), self.run.order
        marker = _placed(lay.marker, places)
        return moved(marker, piece, *to, lay.asked, lambda length: why_too_long(order, lay, length))

    def kept(self, number: int, places: Sequence[Place]) -> dict[str, Any]:
        """What was shown of the run, with a lay laid by hand beside its own."""
        planned = self.planned(number)
        marker = with_places(self.lay(number).marker, places)
        if why := why_too_long(self.run.order, planned, marker.length):
            raise LayoutError(why)
        try:
            made = laid_by_hand(planned, marker)
        except CheckError as error:
            raise LayoutError(str(error)) from error
        told = {str(planned.ticket): {"placed": placed_of(made.marker), "length": made.marker.length}}
        return self.result | {BY_HAND: self.result.get(BY_HAND, {}) | told}


def _placed(marker: Marker, places: Sequence[Place] | None) -> Marker:
    return marker if places is None else with_places(marker, places)


def run_of(payload: dict[str, Any], result: Mapping[str, Any]) -> RunPlan:
    """A run made again of the markers that are kept, with its lays that were laid by hand; StateError if they are not.

    The same run is made once, however often its lays are changed.
    """
    shown = {key: value for key, value in result.items() if key not in KEPT_BESIDE}
    return with_hand(_run_of(Answered.of("run", payload, shown)), result.get(BY_HAND, {}))


@lru_cache(maxsize=RUNS_KEPT)
def _run_of(answered: Answered) -> RunPlan:
    payload = json.loads(answered.payload)
    task = task_of(answered.kind, payload)
    with speaking(task.subject.written_in):
        run = laid_again(task, json.loads(answered.result), markers_of(payload))
    assert isinstance(run, RunPlan)
    for lay in run.lays:
        verify_asked(lay.marker, lay.asked)
    return run
