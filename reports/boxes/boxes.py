"""What cutting boxes first costs: the purchase for boxes beside that for outlines, on each cloth of a job."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from nesting.edit.carry import carry
from nesting.errors import NestingError
from reports.ask.draft import draft_job
from reports.boxes.box import BoxAsked, ClothBox, boxes_of
from reports.errors import JobError
from reports.plan.answers import FabricPlan, Refusal, RefusalCause
from reports.plan.one_cloth import ClothTask, settle_cloths
from reports.plan.problems import cut_from
from reports.plan.settling import share

if TYPE_CHECKING:
    from collections.abc import Sequence
    from decimal import Decimal

    from pieces import Piece
    from pieces.units import Units
    from reports.ask.job import Job
    from reports.ask.offer import FabricOffer
    from reports.plan.effort import Effort


class BoxesAsked(NamedTuple):
    """A job, and the boxes that are asked for."""

    job: Job
    boxes: tuple[BoxAsked, ...]


@dataclass(frozen=True, eq=False)
class BoxedCloth:
    """One cloth laid both ways; a plan is a refusal where it cannot be laid so."""

    offer: FabricOffer
    boxes: tuple[ClothBox, ...]
    by_boxes: FabricPlan | Refusal
    by_outlines: FabricPlan | Refusal

    @property
    def more(self) -> float | None:
        """How much more is bought for boxes, mm; None where one of the two is not laid."""
        if isinstance(self.by_boxes, Refusal) or isinstance(self.by_outlines, Refusal):
            return None
        return self.by_boxes.purchase.buy - self.by_outlines.purchase.buy

    @property
    def more_cost(self) -> Decimal | None:
        """How much more the boxes cost; None where that is not known."""
        if isinstance(self.by_boxes, Refusal) or isinstance(self.by_outlines, Refusal):
            return None
        if self.by_boxes.cost is None or self.by_outlines.cost is None:
            return None
        return self.by_boxes.cost - self.by_outlines.cost


@dataclass(frozen=True, eq=False)
class Boxes:
    """All cloths of a job, in its order."""

    task: BoxesAsked
    cloths: tuple[BoxedCloth, ...]
    seed: int

    @property
    def units(self) -> Units:
        """How lengths are written."""
        return self.task.job.written_in

    @property
    def is_interrupted(self) -> bool:
        """Whether an interrupt ended a search."""
        plans = [plan for cloth in self.cloths for plan in (cloth.by_boxes, cloth.by_outlines)]
        return any(isinstance(plan, FabricPlan) and plan.is_interrupted for plan in plans)


def compare_boxes(task: BoxesAsked, effort: Effort) -> Boxes:
    """Lay boxes and outlines on each cloth with the same effort.

    Where each box holds one piece, the pieces are tried where their boxes lie as well.

    Raises
    ------
    JobError
        If a box holds none of the job's pieces, or does not hold those that it names.
    NestingError
        If not one cloth takes the outlines.
    """
    drafted = draft_job(task.job)
    cut = [(offer, cut_from(offer, task.job, drafted)) for offer in task.job.fabric]
    known = list(dict.fromkeys(piece.name for _, pieces in cut for piece in pieces))
    for box in task.boxes:
        box.numbers(known)
    made = [tuple(boxes_of(pieces, task.boxes, offer, effort, task.job.written_in)) for offer, pieces in cut]
    outlines = [_task(offer, pieces, task.job, effort) for offer, pieces in cut]
    refused = [found for found in outlines if isinstance(found, NestingError)]
    if len(refused) == len(outlines):
        raise refused[0] if refused else JobError(f"{task.job.name} offers no cloth: add a [[fabric]] entry")
    boxed = [
        _task(offer, tuple(box.piece for box in boxes), task.job, effort)
        for (offer, _), boxes in zip(cut, made, strict=True)
    ]
    for tasks in (outlines, boxed):
        settle_cloths([one for one in tasks if isinstance(one, ClothTask)], prove=effort.prove)
    for whole, by_boxes in zip(outlines, boxed, strict=True):
        _take_over(whole, by_boxes)
    share([one.settling for one in outlines if isinstance(one, ClothTask)])
    rows = [
        BoxedCloth(offer, boxes, _plan(offer, by_boxes), _plan(offer, whole))
        for (offer, _), boxes, by_boxes, whole in zip(cut, made, boxed, outlines, strict=True)
    ]
    return Boxes(task, tuple(rows), effort.seed)


def _task(offer: FabricOffer, pieces: Sequence[Piece], job: Job, effort: Effort) -> ClothTask | NestingError:
    try:
        return ClothTask(offer, tuple(pieces), job.garments, effort)
    except NestingError as error:
        return error


def _take_over(outlines: ClothTask | NestingError, boxes: ClothTask | NestingError) -> None:
    """Lay each piece where its box lies, where that is shorter than what was found for outlines."""
    if isinstance(outlines, NestingError) or isinstance(boxes, NestingError):
        return
    for spread in set(outlines.settling.found) & set(boxes.settling.found):
        again = carry(boxes.settling.found[spread], outlines.settling.problems[spread])
        if again is not None:
            outlines.settling.adopt(spread, again)


def _plan(offer: FabricOffer, task: ClothTask | NestingError) -> FabricPlan | Refusal:
    return Refusal(offer, str(task), RefusalCause.of(task)) if isinstance(task, NestingError) else task.plan()
