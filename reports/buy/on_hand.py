"""What there is of a job's cloths and ribs by the ledger; on narrower cloth the pieces are laid for its width."""

from __future__ import annotations

import shlex
from collections import defaultdict
from dataclasses import replace
from typing import TYPE_CHECKING

from nesting.errors import NestingError
from nesting.fit.fitting import fit_pieces
from pieces.errors import PieceError
from pieces.units import INCH, YARD, Units
from reports.ask.draft import draft_job
from reports.fit.remnant import RemnantTask, parse_remnant
from reports.ledger.standing import stock_in
from reports.plan.answers import FabricPlan
from reports.plan.piecing import ClothAcross
from reports.stock.cover import NeedGroup, StockNeed, cover
from reports.stock.on_hand import FittedRemnant, OnHand

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nesting.fit.remnant import RemnantSpread
    from reports.ask.job import Job
    from reports.ask.offer import FabricOffer
    from reports.ledger.journal import Journal
    from reports.plan.answers import RibAnswer
    from reports.plan.effort import Effort
    from reports.plan.plan import Plan
    from reports.stock.cover import Cover
    from reports.stock.item import StockItem

WIDER_WILL_DO = ("open", "folded", "face-up", "face-to-face")
"""Spreads in which a layout lies on wider cloth as it is: from one edge, or from the fold. Others change with it."""

MOST_LAID = 2
"""Narrower things of one cloth that are laid, the longest first: each takes a search."""


def with_on_hand(plan: Plan, journal: Journal, effort: Effort) -> Plan:
    """A plan with what there is of each cloth and rib: offers for one part each by itself, as only one is bought."""
    items = stock_in(journal)
    parts: dict[str, list[FabricPlan | RibAnswer]] = defaultdict(list)
    for _, fabric in plan.markers:
        parts[fabric.offer.part].append(fabric)
    for _, rib in plan.rib_plans:
        parts["rib"].append(rib)
    taken: dict[str, float] = defaultdict(float)
    found: list[OnHand] = []
    for answers in parts.values():
        most: dict[str, float] = defaultdict(float)
        for answer in answers:
            one = cover(_need(answer), items, taken)
            for take in one.takes:
                most[take.item.id] = max(most[take.item.id], take.amount)
            found.append(_said(plan, answer, one, taken, effort))
            if (fitted := found[-1].fitted) is not None:
                most[fitted.item.id] = float(fitted.item.left)
        for id_, amount in most.items():
            taken[id_] += amount
    return replace(plan, on_hand=tuple(found))


def _need(answer: FabricPlan | RibAnswer) -> StockNeed:
    """What a cloth or a rib takes: lengths of cloth on one another are of one lot."""
    offer = answer.offer
    if not isinstance(answer, FabricPlan):
        if answer.purchase is None:
            return StockNeed(offer.name, "rib", (NeedGroup("", (float(answer.plan.count),)),), by_length=False)
        return StockNeed(offer.name, "rib", (NeedGroup("", (answer.purchase.needed,)),), width=offer.width)
    lengths = answer.marker.problem.lengths
    group = NeedGroup("", (answer.purchase.needed / lengths,) * lengths)
    wider = not _has_pattern(answer.offer) and answer.spread in WIDER_WILL_DO
    return StockNeed(offer.name, "cloth", (group,), width=offer.width, wider=wider)


def _has_pattern(offer: FabricOffer) -> bool:
    """Whether it matters where across the cloth a piece lies."""
    return bool(offer.repeat_along or offer.repeat_across or offer.border)


def _said(plan: Plan, answer: FabricPlan | RibAnswer, found: Cover, taken: dict[str, float], effort: Effort) -> OnHand:
    """What is said of a cloth or a rib; narrower cloth is laid where nothing else was found."""
    if found.is_whole:
        return OnHand(found)
    if not isinstance(answer, FabricPlan):
        return OnHand(found, answer.text, answer.purchase.buy if answer.purchase else None, answer.cost)
    tried: list[StockItem] = []
    for item in _worth_laying(answer, found, taken):
        if _fits(plan.job, answer, item, effort):
            return OnHand(found, fitted=FittedRemnant(item, _command(plan.job, answer.offer, item)))
        tried.append(item)
    return OnHand(found, answer.purchase.text, answer.purchase.buy, answer.cost, tried=tuple(tried))


def _worth_laying(answer: FabricPlan, found: Cover, taken: dict[str, float]) -> Iterator[StockItem]:
    """Narrower things that hold the area of the pieces, and that nobody else takes of; of a pattern none is laid."""
    marker, offer = answer.marker, answer.offer
    if _has_pattern(offer) or marker.problem.lengths > 1 or offer.faults:
        return
    area = marker.length * marker.density * marker.problem.cloth_width
    narrow = [item for item in found.narrower if item.width and item.width < offer.width and not taken.get(item.id)]
    for item in narrow[:MOST_LAID]:
        if item.width and float(item.left) * item.width >= area:
            yield item


def _fits(job: Job, answer: FabricPlan, item: StockItem, effort: Effort) -> bool:
    """Whether a layout was found on a thing as long and as wide as it is; it has passed the check of any marker."""
    size, offer = f"{item.width:.3f} mm x {float(item.left):.3f} mm", answer.offer
    remnant = parse_remnant(size, cloth=offer)
    spreads = _spreads(answer)
    try:
        across = ClothAcross.of_remnant(remnant, spreads, offer.tilt)
        task = RemnantTask.of(job, offer, draft_job(job), across)
        effort = replace(effort, sold=offer)
        found = fit_pieces(
            task.pieces, remnant, spreads, effort.criteria, seed=effort.seed, workers=effort.workers,
            garments=job.garments, waste_twins=offer.waste_twins, aims=effort.aims, listener=effort.listener,
        )  # fmt: skip
    except (NestingError, PieceError):  # a piece is wider than that, or the cloth cannot lie so
        return False
    return found.answer == "yes"


def _spreads(answer: FabricPlan) -> Sequence[RemnantSpread]:
    """Folded where the cloth lies folded; laid open all pieces of it lie as well."""
    return ("folded", "open") if answer.spread == "folded" else ("open",)


def _command(job: Job, offer: FabricOffer, item: StockItem) -> str:
    """The command that lays it again and draws it."""
    size = f"{_exact(item.width or 0.0, item.units, INCH, 'in')} x {_exact(float(item.left), item.units, YARD, 'yd')}"
    asked = ["--remnant", size, "--cloth", offer.name, "--spread", "best", "--out", "cut"]
    return shlex.join(["ellwand", "fits", job.name, *asked])


def _exact(mm: float, units: Units, unit: float, called: str) -> str:
    """A length rounded down, so that what is drawn is there."""
    if units is Units.METRIC:
        return f"{int(mm + 1e-6) / 10:g} cm"
    return f"{int(mm / unit * 10_000 + 1e-6) / 10_000:g} {called}"
