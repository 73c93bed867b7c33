"""Each of several garments searched by itself, to see what laying them together saves."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nesting.errors import NestingError
from pieces.garments.together import labelled
from reports.plan.alone import Alone, AloneGarment
from reports.plan.answers import FabricPlan
from reports.plan.best import best_of
from reports.plan.one_cloth import ClothTask, settle_cloths
from reports.plan.piecing import ClothAcross
from reports.plan.problems import whole_from

if TYPE_CHECKING:
    from reports.plan.effort import Effort
    from reports.plan.plan import Plan

FEW = 3
"""So many garments are each searched alone without being asked for.

Measured: 20 s of processor time for each, most of it the proof (two jackets on open cloth, with the usual effort; both
together take 14 s). Twelve would take minutes.
"""


def with_alone(plan: Plan, effort: Effort) -> Plan:
    """A plan of several garments with what each takes alone of the cloths to buy; nothing after an interrupt.

    Few garments are compared so where the job does not say otherwise.
    """
    members, asked = plan.members, plan.job.alone
    if not plan.job.together or plan.made < 2 or any(fabric.is_interrupted for _, fabric in plan.markers):
        return plan
    if not (len(members) <= FEW if asked is None else asked):
        return plan
    effort = replace(effort, prove=False)
    bought = [(best.number, best.answer) for best in best_of(plan)]
    return replace(
        plan,
        alone=tuple(
            _alone(plan, number, fabric, effort) for number, fabric in bought if isinstance(fabric, FabricPlan)
        ),
    )


def _alone(plan: Plan, number: int, fabric: FabricPlan, effort: Effort) -> Alone:
    """Every garment that has pieces on a cloth, by itself; those that are drafted alike are searched once."""
    across = ClothAcross.of_offer(fabric.offer)
    cut = {piece.name for piece in whole_from(fabric.offer, plan.job, plan.pieces)}
    known: dict[tuple[object, ...], FabricPlan] = {}
    each: list[AloneGarment] = []
    for member in plan.members:
        names = [(piece, labelled(member.label, piece.name)) for piece in member.pieces]
        own = tuple(fabric.offer.allowed(piece, name) for piece, name in names if name in cut)
        if not own:
            continue
        try:
            task = ClothTask(fabric.offer, across.pieced(own), 1, effort)
        except NestingError as error:
            each.append(AloneGarment(member, None, str(error)))
            continue
        drafted = task.settling.drafted
        if drafted not in known:
            settle_cloths([task])
            known[drafted] = task.plan()
        each.append(AloneGarment(member, known[drafted]))
    return Alone(number, fabric, tuple(each))
