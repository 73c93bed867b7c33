"""One cloth thought through: which pieces are cut of it, how it is laid, what to buy."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nesting.errors import NestingError, SpreadError, WrongMarkerError
from nesting.fit.remnant import around_faults
from nesting.folds.depth import MOST_DEPTHS, fold_in_part, folded_at
from nesting.folds.fold_then_open import MOST_MOVED, fold_then_open
from nesting.problem.lay import lay_mix
from nesting.proof.bounds import lower_bound
from nesting.proof.slices import slice_bound
from nesting.search.solver import solve
from nesting.search.stop import AnyOf, MaxIterations
from nesting.verify import verify_asked
from reports.ask.wanted import asked_of
from reports.errors import JobError
from reports.plan.answers import PROVED, FabricPlan, PassedOver, RefusalCause, purchase_of

if TYPE_CHECKING:
    from collections.abc import Iterator
    from concurrent.futures import Executor, Future

    from nesting.cloth.fabric import Fabric
    from nesting.cloth.spread import Spread
    from nesting.marker.marker import Result
    from nesting.problem.problem import Problem
    from nesting.verify import Asked
    from pieces import Piece, PieceSet
    from reports.ask.offer import FabricOffer
    from reports.ask.recipe import Recipe
    from reports.money.yardage import Purchase
    from reports.plan.effort import Effort

TRIAL_LAYOUTS = 3
"""First layouts of each of several spreads: no search, whose making ready would take longer than they do."""

FEW_DEPTHS = 8
"""Depths of cloth folded in part that get a first layout, where other spreads are tried as well."""

NEAR = 0.03
"""How much longer than the best by first layouts a spread may be to be searched, as a share."""

FINALISTS = 2
"""Spreads that are searched at most."""

SIMPLE_ENOUGH = 0.02
"""How much longer than the shortest marker a simpler spread's may be for it to be named, as a share."""


def cut_from(offer: FabricOffer, made: Recipe, pieces: PieceSet) -> tuple[Piece, ...]:
    """The pieces that are cut of one cloth, as drafted.

    Shell pieces that some shell cloth names are cut of that; lining and interfacing are cut again to the same
    outlines as the pieces they name.
    """
    try:
        named = tuple(pieces[name] for name in offer.pieces)
    except KeyError as error:
        raise JobError(f"{made.name}: [[fabric]] {offer.name}: {error.args[0]}") from error
    if not named:
        elsewhere = {n for other in made.fabric if other.material == offer.material for n in other.pieces}
        named = tuple(piece for piece in pieces.of(offer.material) if piece.name not in elsewhere)
    if not named:
        known = [piece.name for piece in pieces.of("shell")]
        raise JobError(
            f"{made.name}: [[fabric]] {offer.name}: no piece is cut from {offer.material}: name the pieces to cut,"
            f' such as pieces = ["{known[0]}"]; there are {", ".join(known)}'
        )
    return tuple(offer.allowed(piece) for piece in named)


def _require_same(before: FabricPlan, offer: FabricOffer, pieces: tuple[Piece, ...], garments: int) -> None:
    """Make sure that an answer to go on from is one to what is asked now; JobError says what does not hold."""
    why = "" if before.spread in offer.spreads() else f"it lies {before.spread}"
    depth = before.depth if offer.fold_depth is None else offer.fold_depth
    try:
        verify_asked(before.result.marker, asked_of(offer, before.spread, pieces, garments, depth))
    except WrongMarkerError as error:
        why = error.reason
    if why:
        raise JobError(
            f"the plan before is of another job, by its marker on '{offer.name}': {why}; give a plan of the same job,"
            " or none"
        )


class ClothTask:
    """One cloth to be planned: its problems, and a proof begun beside whatever else goes on.

    Parameters
    ----------
    pieces
        What is cut of it.
    proofs
        Where proofs are made; CP-SAT needs no Python for them.
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
        proofs: Executor,
        before: FabricPlan | None = None,
    ) -> None:
        self._before = before
        self._offer, self._pieces, self._garments, self._effort = offer, pieces, garments, effort
        self._problems: dict[Spread, tuple[float | None, Problem]] = {}
        self._refused: list[PassedOver] = []
        errors: list[NestingError] = []
        for spread in offer.spreads():
            try:
                self._problems[spread] = spread_problem(offer, offer.fabric(), spread, pieces, garments)
            except NestingError as error:
                errors.append(error)
                self._refused.append(PassedOver(spread, reason=str(error), cause=RefusalCause.of(error)))
        if not self._problems:
            raise errors[0]
        if before:
            _require_same(before, offer, pieces, garments)
            self._problems[before.spread] = before.depth, before.result.marker.problem
        self._first: Spread | None = None
        if len(self._problems) == 1:
            self._first = next(iter(self._problems))
        elif "open" in self._problems and not offer.gap:
            self._first = "open"
        self._proof: Future[tuple[float, str]] | None = None
        if self._first and effort.proving:
            self._proof = proofs.submit(slice_bound, self._problems[self._first][1], effort.proving)

    def plan(self) -> FabricPlan:
        """Lay the pieces, in the spread asked for or the best of all."""
        problems = {spread: problem for spread, (_, problem) in self._problems.items()}
        tried = _Tried(self._offer, problems, self._effort, self._first, self._before)
        best, offer, before = tried.best, self._offer, self._before
        depth, problem = self._problems[best]
        bought = tried.bought(best)
        plain = _plain(offer, best, depth, self._pieces, self._garments, self._effort) if problem.repeat else None
        if plain is not None and before and before.plain is not None and before.spread == best:
            plain = min(plain, before.plain)
        return FabricPlan(
            offer,
            best,
            self._proved(tried.found[best], best),
            bought,
            offer.cost(bought.buy),
            (*map(self._with_depth, tried.passed_over()), *self._refused),
            tried.simplest if len(problems) > 1 else None,
            plain,
            depth,
            asked=asked_of(offer, best, self._pieces, self._garments, depth),
        )

    def _with_depth(self, way: PassedOver) -> PassedOver:
        """The same with the depth of its fold; what was known of it before keeps its own."""
        return way if way.depth is not None else replace(way, depth=self._problems[way.spread][0])

    def _proved(self, result: Result, spread: Spread) -> Result:
        """A result with the sharpest bound to be had; an interrupted search gets none but that of the answer before."""
        known = self._before.result if self._before and self._before.spread == spread else None
        if known and known.bound > result.bound:
            result = replace(result, bound=known.bound, bound_held=known.bound_held)
        if not self._effort.proving or result.stopped_by in ("proved", "interrupt") or result.gap < PROVED:
            return result
        if self._proof and spread == self._first:
            bound, held = self._proof.result()
        else:
            bound, held = slice_bound(result.marker.problem, self._effort.proving)
        return replace(result, bound=bound, bound_held=held) if bound > result.bound else result


class _Tried:
    """Several spreads of one cloth: each laid for a first layout, those that matter searched.

    Without a gap the open cloth is searched first: a layout on folded cloth, its layers unfolded, is one on open cloth
    of the same length, so that no other spread can need less. What is simpler may need no more, and is searched too,
    if by its bound it may do with as much cloth bought.

    Parameters
    ----------
    first
        The spread that is searched before all else, if there is one.
    before
        An answer to go on from: its spread is searched from its marker.

    Attributes
    ----------
    found
        The shortest marker of each spread.
    """

    def __init__(
        self,
        offer: FabricOffer,
        problems: dict[Spread, Problem],
        effort: Effort,
        first: Spread | None,
        before: FabricPlan | None = None,
    ) -> None:
        self._offer, self._problems, self._effort = offer, problems, effort
        self.found: dict[Spread, Result] = {before.spread: before.result} if before else {}
        self._before = {way.spread: way for way in before.passed_over if way.length} if before else {}
        self._searched: list[Spread] = []
        if first:
            self._search(first)
        for spread in problems:
            if spread not in self.found:
                self.found[spread] = _search(offer, spread, problems[spread], effort, first=True)
        for spread in self._worth_a_search()[: FINALISTS - len(self._searched)]:
            self._search(spread)
        if before and before.spread not in self._searched:
            self._search(before.spread)

    @property
    def best(self) -> Spread:
        """The spread that takes least, of several the simplest."""
        return min(self.found, key=self._length)

    @property
    def simplest(self) -> Spread:
        """The simplest spread that takes hardly more than the best, or of which no more is bought."""
        most, buy = self._length(self.best) * (1 + SIMPLE_ENOUGH), self.bought(self.best).buy
        return next(s for s in self._problems if self._length(s) <= most or self.bought(s).buy <= buy)

    def bought(self, spread: Spread) -> Purchase:
        """What to buy for a spread's marker, or for that of the answer before."""
        if (way := self._better_before(spread)) and way.purchase:
            return way.purchase
        return purchase_of(self._offer, self._problems[spread], self.found[spread].marker.length)

    def passed_over(self) -> Iterator[PassedOver]:
        """The spreads other than the best, with what they take."""
        for spread in self.found:
            if spread != self.best:
                own = PassedOver(spread, self._length(spread), self.bought(spread), spread in self._searched)
                yield self._better_before(spread) or own

    def _better_before(self, spread: Spread) -> PassedOver | None:
        """What was known of a spread that was passed over before, if its marker was shorter than what is found now."""
        way, length = self._before.get(spread), self.found[spread].marker.cloth_length
        return way if way and way.length and way.length < length else None

    def _length(self, spread: Spread) -> float:
        way = self._better_before(spread)
        return way.length if way and way.length else self.found[spread].marker.cloth_length

    def _search(self, spread: Spread) -> None:
        before = self.found.get(spread)
        if before and before.gap < PROVED:  # nothing shorter is to be found
            self._searched.append(spread)
            return
        self.found[spread] = _search(self._offer, spread, self._problems[spread], self._effort, before)
        self._searched.append(spread)

    def _worth_a_search(self) -> list[Spread]:
        """Spreads not searched yet that may turn out best, or simpler and as good."""
        best, order = self.best, list(self._problems)
        if self._searched:
            buy = self.bought(best).buy
            return [
                spread
                for spread in order[: order.index(best)]
                if purchase_of(self._offer, self._problems[spread], lower_bound(self._problems[spread])[0]).buy <= buy
            ]
        near = [spread for spread in order if self._length(spread) <= self._length(best) * (1 + NEAR)]
        return sorted(near, key=self._length)


def spread_problem(
    offer: FabricOffer,
    fabric: Fabric,
    spread: Spread,
    pieces: tuple[Piece, ...],
    garments: int,
    found: float | None = None,
) -> tuple[float | None, Problem]:
    """How far the cloth is folded over, if it is in part, and the layout problem.

    Parameters
    ----------
    found
        A depth found before, mm, where none is given.
    """
    waste, depth = offer.waste_twins, offer.fold_depth
    if spread == "part-folded" and depth is None and not offer.faults:
        if found is not None:
            return found, folded_at(found, pieces, fabric, garments=garments, waste_twins=waste)
        most = FEW_DEPTHS if offer.spread == "best" else MOST_DEPTHS
        return fold_in_part(pieces, fabric, garments=garments, waste_twins=waste, most=most)
    if spread == "fold-then-open":
        if offer.faults:
            raise SpreadError(
                f"'{offer.name}' has faults: lay it open, or folded all along, not folded and then opened"
            )
        most = 0 if offer.spread == "best" else MOST_MOVED
        return None, fold_then_open(pieces, fabric, garments=garments, most=most)
    laid = [(pieces, garments)]
    problem = lay_mix(laid, fabric, spread, waste_twins=waste, depth=depth, plies=offer.plies)
    if offer.faults:
        problem = around_faults(problem, fabric, offer.faults, spread)
    return depth, problem


def lay_on(offer: FabricOffer, pieces: tuple[Piece, ...], garments: int) -> tuple[Problem, Asked]:
    """The layout problem of pieces on one cloth, and what its markers have to give.

    Of several spreads it is the one with the shortest first layout.

    Raises
    ------
    NestingError
        The first reason why the pieces do not go on the cloth in any of its spreads.
    """
    problems, errors = [], []
    for spread in offer.spreads():
        try:
            depth, problem = spread_problem(offer, offer.fabric(), spread, pieces, garments)
            problems.append((problem, asked_of(offer, spread, pieces, garments, depth)))
        except NestingError as error:
            errors.append(error)
    if not problems:
        raise errors[0]
    if len(problems) == 1:
        return problems[0]
    return min(problems, key=lambda one: solve(one[0], MaxIterations(0)).marker.cloth_length)


def _search(
    offer: FabricOffer,
    spread: Spread,
    problem: Problem,
    effort: Effort,
    before: Result | None = None,
    *,
    first: bool = False,
) -> Result:
    """Search a problem, from the marker found before on; or lay it for a first layout alone."""
    listener = effort.listener(offer.name, spread) if effort.listener else None
    stop = effort.stop()
    return solve(
        problem,
        AnyOf(stop, MaxIterations(TRIAL_LAYOUTS)) if first else stop,
        seed=effort.seed,
        listener=listener,
        workers=1 if first else effort.workers,
        initial=before.marker if before else None,
    )


def _plain(
    offer: FabricOffer, spread: Spread, depth: float | None, pieces: tuple[Piece, ...], garments: int, effort: Effort
) -> float:
    """Length of the marker if the cloth had no pattern, mm."""
    offer = offer.model_copy(update={"repeat_along": 0.0, "repeat_across": 0.0})
    _, problem = spread_problem(offer, offer.fabric(), spread, pieces, garments, depth)
    return _search(offer, spread, problem, effort).marker.length
