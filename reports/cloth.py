"""One cloth thought through: which pieces are cut of it, how it is laid, what to buy."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nesting.errors import NestingError
from nesting.lay import lay_pieces
from nesting.partfold import MOST_DEPTHS, fold_in_part
from nesting.remnant import around_faults
from nesting.slices import slice_bound
from nesting.solver import solve
from nesting.stop import AnyOf, MaxIterations
from reports.answers import FabricPlan, purchase_of
from reports.errors import JobError

if TYPE_CHECKING:
    from nesting.fabric import Fabric
    from nesting.marker import Result
    from nesting.problem import Problem
    from nesting.spread import Spread
    from pieces import Piece, PieceSet
    from reports.answers import Effort
    from reports.job import Job
    from reports.offer import FabricOffer

TRIAL = 0.1
"""Share of the search that each of several spreads gets on trial, before those near the best are gone on with."""

TRIAL_LAYOUTS = 8
"""First layouts of each spread on trial: no search, whose making ready would take longer than they do."""

QUICK_DEPTHS = 1
"""Depths of a fold in part that are tried where it is one spread of several."""

NEAR = 0.03
"""How much longer than the best on trial a spread may be to be gone on with, as a share."""

FINALISTS = 2
"""Spreads that are gone on with at most."""

SIMPLE_ENOUGH = 0.02
"""How much longer than the shortest marker a simpler spread's may be for it to be named, as a share."""


def cut_from(offer: FabricOffer, job: Job, pieces: PieceSet) -> tuple[Piece, ...]:
    """The pieces that are cut of one cloth, as large as they are cut.

    Shell pieces that some shell cloth names are cut of that; lining and interfacing are cut again to the same
    outlines as the pieces they name.
    """
    try:
        named = tuple(pieces[name] for name in offer.pieces)
    except KeyError as error:
        raise JobError(f"{job.name}: [[fabric]] {offer.name}: {error.args[0]}") from error
    if not named:
        elsewhere = {n for other in job.fabric if other.material == offer.material for n in other.pieces}
        named = tuple(piece for piece in pieces.of(offer.material) if piece.name not in elsewhere)
    if not named:
        known = ", ".join(piece.name for piece in pieces.of("shell"))
        raise JobError(
            f"{job.name}: [[fabric]] {offer.name}: no piece is cut of {offer.material}: name those to cut, such as"
            f' pieces = ["{known.split(", ")[0]}"]; there are {known}'
        )
    return tuple(offer.enlarged(piece) for piece in named)


def plan_fabric(offer: FabricOffer, pieces: tuple[Piece, ...], garments: int, effort: Effort) -> FabricPlan:
    """Lay pieces on one cloth, in the spread asked for or the best of all."""
    problems: dict[Spread, tuple[float | None, Problem]] = {}
    passed_over: list[tuple[Spread, float | str]] = []
    errors: list[NestingError] = []
    for spread in offer.spreads():
        try:
            problems[spread] = _problem(offer, offer.fabric(), spread, pieces, garments)
        except NestingError as error:
            errors.append(error)
            passed_over.append((spread, str(error)))
    if not problems:
        raise errors[0]
    found = _searched(offer, {spread: problem for spread, (_, problem) in problems.items()}, effort)
    best = min(found, key=lambda spread: found[spread].marker.cloth_length)
    (depth, problem), result = problems[best], found[best]
    most = result.marker.cloth_length * (1 + SIMPLE_ENOUGH)
    simplest = next((spread for spread in found if found[spread].marker.cloth_length <= most), None)
    passed_over += [(spread, other.marker.cloth_length) for spread, other in found.items() if spread != best]
    result = _proved(result, effort.proof)
    bought = purchase_of(offer, problem, result.marker.length)
    return FabricPlan(
        offer,
        best,
        result,
        bought,
        offer.cost(bought.buy),
        tuple(passed_over),
        simplest if len(found) > 1 else None,
        _plain(offer, best, depth, pieces, garments, effort) if problem.repeat else None,
        depth,
    )


def _searched(offer: FabricOffer, problems: dict[Spread, Problem], effort: Effort) -> dict[Spread, Result]:
    """Each spread's marker: all of them on trial, then the two best of those near the best in earnest."""
    if len(problems) == 1:
        return {spread: _search(offer, spread, problem, effort, 1.0) for spread, problem in problems.items()}
    found = {spread: _search(offer, spread, problem, effort, TRIAL) for spread, problem in problems.items()}
    least = min(result.marker.cloth_length for result in found.values())
    near = [spread for spread in found if found[spread].marker.cloth_length <= least * (1 + NEAR)]
    for spread in sorted(near, key=lambda spread: found[spread].marker.cloth_length)[:FINALISTS]:
        found[spread] = _search(offer, spread, problems[spread], effort, 1.0, found[spread])
    return found


def _problem(
    offer: FabricOffer, fabric: Fabric, spread: Spread, pieces: tuple[Piece, ...], garments: int
) -> tuple[float | None, Problem]:
    """How far the cloth is folded over, if it is in part, and the layout problem."""
    waste, depth = offer.waste_twins, offer.fold_depth
    if spread == "part-folded" and depth is None and not offer.faults:
        most = QUICK_DEPTHS if offer.spread == "best" else MOST_DEPTHS
        return fold_in_part(pieces, fabric, garments=garments, waste_twins=waste, most=most)
    problem = lay_pieces(pieces, fabric, spread, garments=garments, waste_twins=waste, depth=depth, plies=offer.plies)
    if offer.faults:
        problem = around_faults(problem, fabric, offer.faults, spread)
    return depth, problem


def lay_on(offer: FabricOffer, pieces: tuple[Piece, ...], garments: int) -> Problem:
    """The layout problem of pieces on one cloth; of several spreads the one with the shortest first layout.

    Raises
    ------
    NestingError
        The first reason why the pieces do not go on the cloth in any of its spreads.
    """
    problems, errors = [], []
    for spread in offer.spreads():
        try:
            problems.append(_problem(offer, offer.fabric(), spread, pieces, garments)[1])
        except NestingError as error:
            errors.append(error)
    if not problems:
        raise errors[0]
    if len(problems) == 1:
        return problems[0]
    return min(problems, key=lambda problem: solve(problem, MaxIterations(0)).marker.cloth_length)


def _search(
    offer: FabricOffer, spread: Spread, problem: Problem, effort: Effort, share: float, before: Result | None = None
) -> Result:
    listener = effort.listener(f"{offer.name}, {spread}") if effort.listener else None
    stop = effort.stop(share)
    return solve(
        problem,
        stop if share == 1 else AnyOf(stop, MaxIterations(TRIAL_LAYOUTS)),
        seed=effort.seed,
        listener=listener,
        workers=effort.workers if share > TRIAL else 1,
        initial=before.marker if before else None,
    )


def _plain(
    offer: FabricOffer, spread: Spread, depth: float | None, pieces: tuple[Piece, ...], garments: int, effort: Effort
) -> float:
    """Length of the marker if the cloth had no pattern, mm."""
    offer = offer.model_copy(update={"repeat_along": 0.0, "repeat_across": 0.0, "fold_depth": depth})
    _, problem = _problem(offer, offer.fabric(), spread, pieces, garments)
    return _search(offer, spread, problem, effort, 1.0).marker.length


def _proved(result: Result, effort: float) -> Result:
    """The result with the sharpest bound that can be had for some effort; an interrupted search is left as it is."""
    if effort <= 0 or result.stopped_by in ("proved", "interrupt"):
        return result
    bound, held = slice_bound(result.marker.problem, effort)
    return replace(result, bound=bound, bound_held=held) if bound > result.bound else result
