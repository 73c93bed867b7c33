"""The plan: a job thought through, from measurements to what to buy. Every face renders a Plan."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, TypeVar

from nesting.errors import NestingError
from nesting.lay import lay_pieces
from nesting.slices import slice_bound
from nesting.solver import solve
from nesting.strips import RibBand, check_rib, plan_rib
from pieces.errors import DraftError
from reports.errors import JobError
from reports.yardage import purchase

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from decimal import Decimal

    from nesting.listener import Listener
    from nesting.marker import Result
    from nesting.spread import Spread
    from nesting.stop import StopCriterion
    from nesting.strips import RibPlan
    from pieces import PieceSet
    from reports.job import FabricOffer, Job, RibOffer
    from reports.yardage import Purchase

Offer = TypeVar("Offer", "FabricOffer", "RibOffer")
Answer = TypeVar("Answer", "FabricPlan", "RibAnswer")


@dataclass(frozen=True)
class Effort:
    """How hard to search: a fresh stop criterion for each marker, the seed, and the searches side by side.

    `proof` is the effort that a sharper bound on the chosen marker may take, in the units of `slice_bound`.
    """

    stop: Callable[[], StopCriterion]
    seed: int = 0
    workers: int = 1
    listener: Callable[[str], Listener] | None = None
    proof: float = 0.0


@dataclass(frozen=True)
class FabricPlan:
    """One cloth offered: its marker in the spread chosen, and what to buy of it.

    `passed_over` has each other spread tried, with the length it needs, mm, or why it will not do.
    """

    offer: FabricOffer
    spread: Spread
    result: Result
    purchase: Purchase
    cost: Decimal | None
    passed_over: tuple[tuple[Spread, float | str], ...] = ()

    @property
    def least(self) -> Purchase:
        """What would be bought if the marker were as short as its bound: no layout in this spread needs less."""
        return self.offer.purchase(self.result.bound)


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
        return f"{self.plan.count} strip{'' if self.plan.count == 1 else 's'}"


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
    fabrics = _each(job.fabric, lambda offer: _plan_fabric(offer, pieces, effort))
    ribs = _each(job.rib, lambda offer: _plan_rib(offer, pieces, seam)) if rib and pieces.of("rib") else ()
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


def _plan_fabric(offer: FabricOffer, pieces: PieceSet, effort: Effort) -> FabricPlan:
    """Lay the shell pieces on one cloth, in the spread asked for or the best of all."""
    fabric = offer.fabric()
    found: dict[Spread, Result] = {}
    passed_over: list[tuple[Spread, float | str]] = []
    errors: list[NestingError] = []
    for spread in offer.spreads():
        try:
            problem = lay_pieces(pieces.of("shell"), fabric, spread, waste_twins=offer.waste_twins)
        except NestingError as error:
            errors.append(error)
            passed_over.append((spread, str(error)))
            continue
        listener = effort.listener(f"{offer.name}, {spread}") if effort.listener else None
        found[spread] = solve(problem, effort.stop(), seed=effort.seed, listener=listener, workers=effort.workers)
    if not found:
        raise errors[0]
    best = min(found, key=lambda spread: found[spread].marker.length)
    result = _proved(found[best], effort.proof)
    passed_over += [(spread, result.marker.length) for spread, result in found.items() if spread != best]
    bought = offer.purchase(result.marker.length)
    cost = offer.price.of(bought.buy) if offer.price else None
    return FabricPlan(offer, best, result, bought, cost, tuple(passed_over))


def _proved(result: Result, effort: float) -> Result:
    """The result with the sharpest bound that can be had for some effort; an interrupted search is left as it is."""
    if effort <= 0 or result.stopped_by in ("proved", "interrupt"):
        return result
    bound, held = slice_bound(result.marker.problem, effort)
    return replace(result, bound=bound, bound_held=held) if bound > result.bound else result


def _plan_rib(offer: RibOffer, pieces: PieceSet, seam: float) -> RibAnswer:
    """Cut the rib bands of one rib: the least rib, then the fewest joins."""
    bands = [RibBand(piece.name, piece.width, piece.length, piece.cut) for piece in pieces.of("rib")]
    cut = plan_rib(bands, offer.stock(), seam=seam, least_part=offer.least_part)
    check_rib(cut, bands, seam=seam, least_part=offer.least_part)
    step = offer.step
    if step == "strip":
        return RibAnswer(offer, cut, None, offer.price.of(cut.count) if offer.price else None)
    bought = purchase(cut.length, step, ends=offer.end_allowance, shrinkage=0.0, margin=0.0)
    return RibAnswer(offer, cut, bought, offer.price.of(bought.buy) if offer.price else None)
