"""The plan: a job thought through, from measurements to what to buy. Every face renders a Plan."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, TypeVar

from nesting.errors import NestingError
from nesting.lay import lay_pieces
from nesting.partfold import fold_in_part
from nesting.remnant import around_faults
from nesting.slices import slice_bound
from nesting.solver import solve
from nesting.stop import MaxIterations
from nesting.strips import bands_of, check_rib, plan_rib
from pieces.errors import DraftError
from reports.errors import JobError
from reports.yardage import purchase

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from decimal import Decimal

    from nesting.fabric import Fabric
    from nesting.listener import Listener
    from nesting.marker import Result
    from nesting.problem import Problem
    from nesting.spread import Spread
    from nesting.stop import StopCriterion
    from nesting.strips import RibPlan
    from pieces import Piece, PieceSet
    from reports.job import Job
    from reports.offer import FabricOffer, RibOffer
    from reports.yardage import Purchase

TRIAL = 0.1
"""Share of the search that each of several spreads gets on trial, before those near the best are gone on with."""

NEAR = 0.2
"""How much longer than the best on trial a spread may be to be gone on with, as a share."""

SIMPLE_ENOUGH = 0.02
"""How much longer than the shortest marker one on simpler spread cloth may be to be named, as a share."""

Offer = TypeVar("Offer", "FabricOffer", "RibOffer")
Answer = TypeVar("Answer", "FabricPlan", "RibAnswer")


@dataclass(frozen=True)
class Effort:
    """How hard to search: a fresh stop criterion for each marker, the seed, and the searches side by side.

    `stop` is called with the share of the search that it is to last. `proof` is the effort that a sharper bound on
    the chosen marker may take, in the units of `slice_bound`.
    """

    stop: Callable[[float], StopCriterion]
    seed: int = 0
    workers: int = 1
    listener: Callable[[str], Listener] | None = None
    proof: float = 0.0


@dataclass(frozen=True)
class FabricPlan:
    """One cloth offered: its marker in the spread chosen, and what to buy of it.

    `passed_over` has each other spread tried, with the length it needs, mm, or why it will not do; `simplest` is the
    simplest spread that needs hardly more than the shortest; `plain` the length of the marker without the cloth's
    pattern, mm, where it has one; `depth` how far the cloth is folded over, where it is in part.
    """

    offer: FabricOffer
    spread: Spread
    result: Result
    purchase: Purchase
    cost: Decimal | None
    passed_over: tuple[tuple[Spread, float | str], ...] = ()
    simplest: Spread | None = None
    plain: float | None = None
    depth: float | None = None

    @property
    def least(self) -> Purchase:
        """What would be bought if the marker were as short as its bound: no layout in this spread needs less."""
        return _purchase(self.offer, self.result.marker.problem, self.result.bound)

    @property
    def kilograms(self) -> float | None:
        """Weight of what is bought, where the cloth's own is known."""
        return self.offer.kilograms(self.purchase.buy)

    @property
    def usual_extra(self) -> float:
        """What is usually allowed for a pattern, mm: a repeat for each larger piece (sewing blogs, 2010 and 2011)."""
        matched = {item.piece.name for item in self.result.marker.problem.items if item.piece and item.piece.match}
        return len(matched) * self.offer.repeat_along


@dataclass(frozen=True)
class RibAnswer:
    """One rib offered: how the bands are cut of it, and what to buy.

    `purchase` is None for strips, which are bought by number.
    """

    offer: RibOffer
    plan: RibPlan
    purchase: Purchase | None
    cost: Decimal | None

    @property
    def text(self) -> str:
        """What to buy, in words."""
        if self.purchase is not None:
            return self.purchase.text
        return f"{self.plan.count} {self.offer.step}{'' if self.plan.count == 1 else 's'}"


@dataclass(frozen=True)
class Refusal:
    """An offer that will not do, and why."""

    offer: FabricOffer | RibOffer
    reason: str


@dataclass(frozen=True)
class Plan:
    """A job with all its answers; offers that will not do stand beside those that do."""

    job: Job
    pieces: PieceSet
    fabrics: tuple[FabricPlan | Refusal, ...]
    ribs: tuple[RibAnswer | Refusal, ...]
    seed: int

    @property
    def markers(self) -> list[tuple[int, FabricPlan]]:
        """Number in the job, from 1, and plan of every cloth that will do."""
        return [(i, fabric) for i, fabric in enumerate(self.fabrics, 1) if isinstance(fabric, FabricPlan)]

    @property
    def rib_plans(self) -> list[tuple[int, RibAnswer]]:
        """Number in the job, from 1, and plan of every rib that will do."""
        return [(i, rib) for i, rib in enumerate(self.ribs, 1) if isinstance(rib, RibAnswer)]

    @property
    def remarks(self) -> list[str]:
        """What the maker should know: measurements out of the ordinary, rules used."""
        return [*self.job.measured().remarks(self.job.written_in), *self.pieces.notes]


def draft_job(job: Job) -> PieceSet:
    """The job's pattern pieces; DraftError says what does not go together, and which measurement is odd."""
    body = job.measured()
    try:
        return job.model().draft(body, job.styled())
    except DraftError as error:
        odd = body.remarks(job.written_in)
        if not odd:
            raise
        raise DraftError(f"{error} ({odd[0]})") from error


def plan_job(job: Job, effort: Effort, *, rib: bool = True) -> Plan:
    """Lay the job's pieces on every cloth and cut its bands of every rib it offers.

    Parameters
    ----------
    rib
        Whether to plan the rib as well.

    Raises
    ------
    JobError
        If the job offers no fabric.
    PieceError, NestingError
        If the garment cannot be drafted, or not one of the fabrics (or of the ribs) will do: the first reason.
    """
    pieces = draft_job(job)
    if not job.fabric:
        raise JobError(f"{job.name} offers no cloth: add a [[fabric]] entry with at least a width")
    seam = job.styled().seam
    # Cloth first: CP-SAT, which cuts the rib, leaves no handler for Ctrl-C behind.
    fabrics = _each(job.fabric, lambda offer: _plan_fabric(offer, cut_from(offer, job, pieces), job.garments, effort))
    ribs = (
        _each(job.rib, lambda offer: _plan_rib(offer, pieces, job.garments, seam)) if rib and pieces.of("rib") else ()
    )
    return Plan(job, pieces, fabrics, ribs, effort.seed)


def _each(offers: Sequence[Offer], plan: Callable[[Offer], Answer]) -> tuple[Answer | Refusal, ...]:
    """Plan every offer; one that will not do is refused, unless not a single one will."""
    answers: list[Answer | Refusal] = []
    errors: list[NestingError] = []
    for offer in offers:
        try:
            answers.append(plan(offer))
        except NestingError as error:
            errors.append(error)
            answers.append(Refusal(offer, str(error)))
    if errors and len(errors) == len(answers):
        raise errors[0]
    return tuple(answers)


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


def _plan_fabric(offer: FabricOffer, pieces: tuple[Piece, ...], garments: int, effort: Effort) -> FabricPlan:
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
    best = min(found, key=lambda spread: _cloth(found[spread]))
    (depth, problem), result = problems[best], found[best]
    simplest = next((s for s in found if _cloth(found[s]) <= _cloth(result) * (1 + SIMPLE_ENOUGH)), None)
    passed_over += [(spread, _cloth(other)) for spread, other in found.items() if spread != best]
    result = _proved(result, effort.proof)
    bought = _purchase(offer, problem, result.marker.length)
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
    """Each spread's marker: all of them on trial, then those that came near the best, which share the search."""
    if len(problems) == 1:
        return {spread: _search(offer, spread, problem, effort, 1.0) for spread, problem in problems.items()}
    found = {spread: _search(offer, spread, problem, effort, TRIAL) for spread, problem in problems.items()}
    least = min(map(_cloth, found.values()))
    near = [spread for spread in found if _cloth(found[spread]) <= least * (1 + NEAR)]
    for spread in near:
        found[spread] = _search(offer, spread, problems[spread], effort, 1.0 / len(near), found[spread])
    return found


def _problem(
    offer: FabricOffer, fabric: Fabric, spread: Spread, pieces: tuple[Piece, ...], garments: int
) -> tuple[float | None, Problem]:
    """How far the cloth is folded over, if it is in part, and the layout problem."""
    waste, depth = offer.waste_twins, offer.fold_depth
    if spread == "part-folded" and depth is None and not offer.faults:
        return fold_in_part(pieces, fabric, garments=garments, waste_twins=waste)
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
    return min(problems, key=lambda problem: _cloth(solve(problem, MaxIterations(0))))


def _search(
    offer: FabricOffer, spread: Spread, problem: Problem, effort: Effort, share: float, before: Result | None = None
) -> Result:
    listener = effort.listener(f"{offer.name}, {spread}") if effort.listener else None
    return solve(
        problem,
        effort.stop(share),
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


def _cloth(result: Result) -> float:
    """Length of cloth that a marker takes, mm: more than its own where several lengths lie on one another."""
    return result.marker.length * result.marker.problem.lengths


def _purchase(offer: FabricOffer, problem: Problem, length: float) -> Purchase:
    return offer.purchase(length, problem.lengths, on_pattern=problem.repeat is not None)


def _proved(result: Result, effort: float) -> Result:
    """The result with the sharpest bound that can be had for some effort; an interrupted search is left as it is."""
    if effort <= 0 or result.stopped_by in ("proved", "interrupt"):
        return result
    bound, held = slice_bound(result.marker.problem, effort)
    return replace(result, bound=bound, bound_held=held) if bound > result.bound else result


def _plan_rib(offer: RibOffer, pieces: PieceSet, garments: int, seam: float) -> RibAnswer:
    """Cut the rib bands of one rib: the least rib, then the fewest joins."""
    bands = bands_of(pieces, garments)
    cut = plan_rib(bands, offer.stock(), seam=seam, least_part=offer.least_part)
    check_rib(cut, bands, seam=seam, least_part=offer.least_part)
    step = offer.step
    if isinstance(step, str):  # sold by number
        return RibAnswer(offer, cut, None, offer.cost(cut.count))
    bought = purchase(cut.length, step, ends=offer.end_allowance, shrinkage=0.0, margin=0.0)
    return RibAnswer(offer, cut, bought, offer.cost(bought.buy))
