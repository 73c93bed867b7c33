"""The plan: a job thought through, from measurements to what to buy. Every face renders a Plan."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, TypeVar

from nesting.errors import NestingError
from nesting.rib.band import bands_of
from nesting.rib.planning import plan_rib
from nesting.rib.verify import check_rib
from pieces.length import mm
from pieces.require import require
from pieces.units import speaking
from reports.ask.draft import draft_whole, hole_notes
from reports.ask.job import Job
from reports.ask.members import rib_seam
from reports.ask.offer import unsaid
from reports.ask.shape import SHAPES
from reports.errors import JobError, NothingWillDoError
from reports.money.yardage import purchase
from reports.plan.answers import FabricPlan, Refusal, RefusalCause, RibAnswer
from reports.plan.border import border_lines, refuse_knit
from reports.plan.effort import Effort
from reports.plan.one_cloth import ClothTask, settle_cloths
from reports.plan.piecing import ClothAcross
from reports.plan.problems import cut_from, reason_alone, whole_from
from reports.sheets.shown import Shown

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from pieces import PieceSet
    from pieces.summary import UnitsAsked
    from reports.ask.draft import Drafted
    from reports.ask.members import Member
    from reports.ask.offer import FabricOffer, RibOffer
    from reports.plan.alone import Alone
    from reports.stock.on_hand import OnHand

Offer = TypeVar("Offer", "FabricOffer", "RibOffer")
AnyAnswer = TypeVar("AnyAnswer", "ClothTask", "RibAnswer")


@dataclass(frozen=True)
class Plan(Shown):
    """A job with all its answers; offers that will not do stand beside those that do.

    `members` are its garments. `alone` says of each cloth to buy what they take one at a time, where that was searched.
    `on_hand` says what there is of each cloth and rib, where the ledger was asked.
    """

    job: Job
    pieces: PieceSet
    fabrics: tuple[FabricPlan | Refusal, ...]
    ribs: tuple[RibAnswer | Refusal, ...]
    seed: int
    members: tuple[Member, ...] = field(kw_only=True)
    alone: tuple[Alone, ...] = ()
    on_hand: tuple[OnHand, ...] | None = None

    def __repr__(self) -> str:
        return f"<Plan: {self.job.name}, {len(self.markers)} markers, {len(self.rib_plans)} ribs>"

    @property
    def markers(self) -> list[tuple[int, FabricPlan]]:
        """Number in the job, from 1, and plan of every cloth that will do."""
        return [(i, fabric) for i, fabric in enumerate(self.fabrics, 1) if isinstance(fabric, FabricPlan)]

    @property
    def rib_plans(self) -> list[tuple[int, RibAnswer]]:
        """Number in the job, from 1, and plan of every rib that will do."""
        return [(i, rib) for i, rib in enumerate(self.ribs, 1) if isinstance(rib, RibAnswer)]

    @property
    def made(self) -> int:
        """How many garments there are in all; shapes beside several are none."""
        beside = [member for member in self.members if self.job.together and member.job.garment == SHAPES]
        return self.job.garments * sum(member.quantity for member in self.members if member not in beside)

    def summary(self, units: UnitsAsked | None = None) -> str:
        """Aligned lines for a person on each cloth and each rib, in the job's units unless others are asked for."""
        written = self.job.written_in if units is None else units
        return "\n\n".join(answer.summary(written) for answer in (*self.fabrics, *self.ribs))

    @property
    def remarks(self) -> list[str]:
        """What the maker should know: measurements out of the ordinary, rules used, selvedges that are not given."""
        job, units = self.job, self.job.written_in
        told = [remark for member in self.members for remark in member.remarks(units)]
        told += [*self.pieces.notes, *unsaid(job.fabric, units), *unsaid(job.rib, units)]
        told += [
            f"{offer.name}: on cloth with a nap all pieces keep to the grain, so lies changes nothing"
            for offer in job.fabric
            if offer.lies and offer.nap
        ]
        for offer in job.fabric:
            cut = whole_from(offer, job, self.pieces)
            told += ClothAcross.of_offer(offer).lines(cut, offer.name, units)
            told += border_lines(offer, cut, units)
            if (offer.repeat_along or offer.repeat_across) and not any(piece.match for piece in cut):
                told.append(f"{offer.name}: its pieces have no match points, so nothing is matched on its pattern")
        told += hole_notes(self.pieces)
        if job.rib and not self.pieces.of("rib"):
            told.append("rib: none is needed with these options, so the ribs of the job are not compared")
        return told


def plan_job(job: Job, effort: Effort | None = None, *, rib: bool = True, before: Plan | None = None) -> Plan:
    """Lay the job's pieces on every cloth and cut its bands of every rib it offers.

    Parameters
    ----------
    effort
        How hard to search for each marker; by default as hard as the command does.
    rib
        Whether to plan the rib as well.
    before
        A plan of the same job to go on from: each cloth's search starts from its marker, and no marker gets longer,
        no bound lower.

    Raises
    ------
    JobError
        If the job offers no fabric.
    PieceError, NestingError
        If the garment cannot be drafted, or not one of the fabrics (or of the ribs) will do: every reason.
    """
    require(job, Job, "the job of plan_job", "a Job, such as read_job gives")
    require(effort, Effort | None, "the effort of plan_job", "an Effort")
    require(before, Plan | None, "the plan before", "a Plan")
    require(rib, bool, "the rib of plan_job", "True or False")
    with speaking(job.written_in):
        return _planned(job, effort or Effort(), before, rib=rib)


def _planned(job: Job, effort: Effort, before: Plan | None, *, rib: bool) -> Plan:
    drafted = draft_whole(job)
    pieces = drafted.pieces
    if not job.fabric:
        raise JobError(f"{job.name} offers no cloth: add a [[fabric]] entry with at least a width")
    for offer in job.fabric:
        for member in drafted.members:
            refuse_knit(offer, member.job, member.pieces)
    found = {fabric.offer.name: fabric for _, fabric in before.markers} if before else {}
    tasks = _each(
        job.fabric,
        lambda offer: ClothTask(offer, cut_from(offer, job, pieces), job.garments, effort, found.get(offer.name)),
    )
    settle_cloths([task for task in tasks if isinstance(task, ClothTask)], prove=effort.prove)
    fabrics = tuple(task if isinstance(task, Refusal) else _pieced_otherwise(task, job, pieces) for task in tasks)
    ribs = plan_ribs(job, drafted) if rib else ()
    return Plan(job, pieces, fabrics, ribs, effort.seed, members=drafted.members)


def _pieced_otherwise(task: ClothTask, job: Job, pieces: PieceSet) -> FabricPlan:
    """The answer for a cloth; of a spread that would take shapes in more parts it says that, not that they are wide."""
    found, refused = task.plan(), task.settling.refused
    whole = whole_from(found.offer, job, pieces)
    told = tuple(
        replace(way, reason=reason_alone(found.offer, way.spread, whole, job.garments, refused[way.spread]))
        if way.spread in refused
        else way
        for way in found.passed_over
    )
    return found if told == found.passed_over else replace(found, passed_over=told)


def plan_ribs(job: Job, drafted: Drafted) -> tuple[RibAnswer | Refusal, ...]:
    """Cut the job's bands of every rib it offers; NestingError, with every reason, if not one will do."""
    pieces = drafted.pieces
    if not pieces.of("rib"):
        return ()
    seam = rib_seam(drafted.members, job.written_in)
    return _each(job.rib, lambda offer: _plan_rib(offer, pieces, job.garments, seam))


def _each(offers: Sequence[Offer], plan: Callable[[Offer], AnyAnswer]) -> tuple[AnyAnswer | Refusal, ...]:
    """Plan every offer; one that will not do is refused, unless not a single one will."""
    answers: list[AnyAnswer | Refusal] = []
    errors: list[NestingError] = []
    for offer in offers:
        try:
            answers.append(plan(offer))
        except NestingError as error:
            errors.append(error)
            answers.append(Refusal(offer, str(error), RefusalCause.of(error)))
    if errors and len(errors) == len(answers):
        raise errors[0] if len(errors) == 1 else NothingWillDoError([offer.name for offer in offers], errors)
    return tuple(answers)


def _plan_rib(offer: RibOffer, pieces: PieceSet, garments: int, seam: float) -> RibAnswer:
    """Cut the rib bands of one rib: the least rib, then the fewest joins."""
    bands = bands_of(pieces, garments)
    cut = plan_rib(bands, offer.stock(), seam=mm(seam), least_part=mm(offer.least_part))
    check_rib(cut, bands, seam=seam, least_part=offer.least_part)
    step = offer.step
    if isinstance(step, str):  # sold by number
        return RibAnswer(offer, cut, None, offer.cost(cut.count))
    bought = purchase(cut.length, step, ends=offer.end_allowance, shrinkage=0.0, margin=0.0)
    return RibAnswer(offer, cut, bought, offer.cost(bought.buy))
