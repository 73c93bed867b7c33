"""One cloth thought through: how it is laid, how short its marker is proved to be, what to buy."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nesting.edit.carry import carry
from nesting.errors import WrongMarkerError
from nesting.marker.marker import Result
from nesting.proof.bounds import lower_bound
from nesting.search.prove import prove_on
from nesting.search.solver import solve
from nesting.verify import verify_asked
from reports.ask.wanted import asked_of
from reports.errors import JobError
from reports.plan.answers import PROVED, FabricPlan, PassedOver, RefusalCause
from reports.plan.problems import spread_problem
from reports.plan.settling import Settling, settle, share

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from nesting.cloth.spread import Spread
    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem
    from pieces import Piece
    from reports.ask.offer import FabricOffer
    from reports.plan.effort import Effort
    from reports.plan.settling import Asked


def _require_same(before: FabricPlan, offer: FabricOffer, pieces: tuple[Piece, ...], garments: int) -> None:
    """Make sure that an answer to go on from is one to what is asked now; JobError says what does not hold."""
    why = "" if before.spread in offer.spreads() else f"it lies {before.spread}"
    depth = offer.depth_of(before.spread, before.depth)
    try:
        verify_asked(before.result.marker, asked_of(offer, before.spread, pieces, garments, depth))
    except WrongMarkerError as error:
        why = error.reason
    if why:
        raise JobError(
            f"the plan before is of another job, by its marker on '{offer.name}': {why}; give a plan of the same job,"
            " or none"
        )


HELD: Mapping[Spread, tuple[Spread, ...]] = {"open": ("folded",), "fold-then-open": ("folded", "open")}
"""Spreads whose layouts, unfolded, are all layouts of another one; but for cloth with a gap between pieces."""

LAID: Mapping[Spread, str] = {"open": "laid open", "fold-then-open": "folded and then opened out"}


class ClothTask:
    """One cloth to be planned: its problems, and what came of their searches.

    Parameters
    ----------
    pieces
        What is cut of it.
    before
        An answer for the same cloth and pieces to go on from.

    Raises
    ------
    NestingError
        The first reason why the pieces do not go on the cloth in any of its spreads.
    """

    def __init__(
        self,
        offer: FabricOffer,
        pieces: tuple[Piece, ...],
        garments: int,
        effort: Effort,
        before: FabricPlan | None = None,
    ) -> None:
        self.settling = Settling(offer, pieces, garments)
        self._before, self.effort = before, effort
        self._results: dict[Spread, Result] = {}
        if before:
            _require_same(before, offer, pieces, garments)
            self.settling.go_on_from(before.spread, before.depth, before.result.marker)
            self._results[before.spread] = before.result

    def search(self, spread: Spread) -> Marker | None:
        """The shortest marker of a spread; None if an interrupt ended what was searched before it."""
        if self._is_interrupted:
            return None
        before, settled = self._results.get(spread), self.settling
        if before is None or before.gap >= PROVED:  # else nothing shorter is to be found
            before = _search(settled.offer, spread, settled.problems[spread], self._shared, before)
            self._results[spread] = before
        return before.marker

    def prove(self) -> bool:
        """Look longer at the spread that takes least: whether less can be bought, and how short its marker can be.

        Returns whether no interrupt came. One that comes here leaves the search whole, and the answer says so.
        """
        spread, effort, offer = self.settling.best, self.effort, self.settling.offer
        known = self._proved(self._result(spread), spread)
        if self._is_interrupted:
            return False
        found = prove_on(
            known,
            effort.to_prove,
            aims=replace(effort, sold=offer).aims(known.marker.problem),
            stop=effort.until,
            listener=effort.listener(offer.name, spread, share=None) if effort.listener else None,
        )
        was_whole = found.stopped_by != "interrupt"
        self._results[spread] = found if was_whole else replace(found, stopped_by=known.stopped_by)
        self.settling.adopt(spread, found.marker)
        return was_whole

    @property
    def _shared(self) -> Effort:
        """The effort for each spread, where several are searched for the one that is named."""
        return replace(self.effort, sold=self.settling.offer)

    @property
    def share(self) -> float:
        """The share of the effort that each of its searches takes."""
        return self._shared.share

    @property
    def _is_interrupted(self) -> bool:
        return any(result.stopped_by == "interrupt" for result in self._results.values())

    def plan(self) -> FabricPlan:
        """The answer, in the simplest of the spreads of which least is bought; once all is settled."""
        settled, before = self.settling, self._before
        best, offer = settled.shown, settled.offer
        bought = settled.bought(best)
        plain = self._plain(best)
        if plain is not None and before and before.plain is not None and before.spread == best:
            plain = min(plain, before.plain)
        return FabricPlan(
            offer,
            best,
            self._whole(self._marked(best)),
            bought,
            offer.cost(bought.buy),
            tuple(self._passed_over(spread) for spread in offer.spreads() if spread != best),
            settled.simplest if len(offer.spreads()) > 1 else None,
            plain,
            settled.depths[best],
            asked=asked_of(offer, best, settled.pieces, settled.garments, settled.depths[best]),
        )

    def _result(self, spread: Spread) -> Result:
        """What came of the search for a spread, with a marker that was carried over to it if that is shorter."""
        marker, own = self.settling.found[spread], self._results.get(spread)
        if own is None:
            return Result(marker, *lower_bound(marker.problem), 0, 0.0, self.effort.seed, "iterations")
        return own if own.marker is marker else replace(own, marker=marker)

    def _marked(self, spread: Spread) -> Result:
        """The result of a spread, its marker as it is marked: not proved the shortest, if the tape made it longer."""
        result, marker = self._bounded(spread), self.settling.marked(spread)
        if marker is result.marker:
            return result
        stopped = "effort" if result.stopped_by == "proved" else result.stopped_by
        return replace(result, marker=marker, stopped_by=stopped)

    def _whole(self, result: Result) -> Result:
        """The result; where an interrupt ended it, but the answer before it was whole, that is whole: none is worse."""
        was_whole = self._before is not None and not self._before.is_interrupted
        return replace(result, stopped_by="effort") if was_whole and result.stopped_by == "interrupt" else result

    def _bounded(self, spread: Spread) -> Result:
        """The result of a spread; what is proved of one that holds all its layouts is proved of it as well."""
        result = self._proved(self._result(spread), spread)
        wider = self.settling.best
        if spread not in HELD.get(wider, ()) or self.settling.offer.gap:
            return result
        other = self._proved(self._result(wider), wider)
        if other.bound <= result.bound:
            return result
        return replace(result, bound=other.bound, bound_held=f"{other.bound_held}, the cloth {LAID[wider]}")

    def _passed_over(self, spread: Spread) -> PassedOver:
        """A spread other than the best: what it takes, if it was searched as the best was; or why it will not do."""
        settled, depth = self.settling, self.settling.depths.get(spread)
        if spread in settled.refused:
            error = settled.refused[spread]
            return PassedOver(spread, reason=str(error), cause=RefusalCause.of(error))
        known = next((way for way in self._before.passed_over if way.spread == spread), None) if self._before else None
        length = settled.length(spread)
        if known and known.length and (spread not in settled.searched or known.length < length):
            return known
        own = self._results.get(spread)
        if spread not in settled.searched or (own and own.stopped_by == "interrupt"):
            return PassedOver(spread, depth=depth)
        return PassedOver(spread, length, settled.bought(spread), depth=depth)

    def _proved(self, result: Result, spread: Spread) -> Result:
        """A result with the sharpest bound known: that of the answer before, if it is sharper."""
        known = self._before.result if self._before and self._before.spread == spread else None
        if known and known.bound > result.bound:
            return replace(result, bound=known.bound, bound_held=known.bound_held)
        return result

    def _plain(self, spread: Spread) -> float | None:
        """Length of the marker if the cloth had no pattern, mm; None if it has none. One on the pattern is one, too."""
        settled = self.settling
        if settled.problems[spread].repeat is None:
            return None
        plain = settled.offer.model_copy(update={"repeat_along": 0.0, "repeat_across": 0.0})
        depth = settled.depths[spread]
        _, problem = spread_problem(plain, plain.fabric(), spread, settled.pieces, settled.garments, depth)
        again = carry(settled.found[spread], problem)
        found = _search(plain, spread, problem, self._shared).marker.length
        return min(found, again.length) if again else found


def settle_cloths(tasks: Sequence[ClothTask], *, prove: bool = False) -> None:
    """Search for the markers of some cloths; what is found on one is carried over to all others that ask for less."""
    of = {task.settling: task for task in tasks}

    def search(asked: Asked) -> Iterator[Marker | None]:
        for number, (settling, spread) in enumerate(asked):
            task = of[settling]
            if task.effort.ahead:
                task.effort.ahead(_ahead(of, asked[number:]))
            yield task.search(spread)

    settle(list(of), search)
    if prove:
        all(task.prove() for task in tasks)  # none after an interrupt
        share(list(of))


def _ahead(of: Mapping[Settling, ClothTask], asked: Asked) -> list[float]:
    """Shares of the effort that will be taken after the first of what is asked: by the rest, and by what follows."""
    begun = {one for one, _ in asked}
    after = [*asked[1:], *((one, spread) for one in of if one not in begun for spread in one.todo())]
    return [of[one].share for one, _ in after]


def _search(
    offer: FabricOffer, spread: Spread, problem: Problem, effort: Effort, before: Result | None = None
) -> Result:
    """Search a problem, from the marker found before on."""
    listener = effort.listener(offer.name, spread, share=effort.share) if effort.listener else None
    return solve(
        problem,
        effort.stop(),
        seed=effort.seed,
        listener=listener,
        workers=effort.workers,
        initial=before.marker if before else None,
        aims=replace(effort, sold=offer).aims(problem),
        proof=effort.proving,
    )
