"""Which of the cloths on hand hold the pieces: each laid as long and as wide as it is, the smallest first."""

from __future__ import annotations

import time
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from nesting.errors import NestingError
from nesting.fit.fitting import FitTerms, fit_sets
from pieces.errors import PieceError
from reports.ask.draft import draft_job
from reports.fit.remnant import RemnantTask, parse_remnant
from reports.fit.ways import was_interrupted
from reports.plan.piecing import ClothAcross

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from nesting.fit.fitting import Fitting
    from nesting.fit.remnant import Remnant, RemnantSpread
    from nesting.marker.marker import Marker
    from pieces import PieceSet
    from reports.ask.job import Job
    from reports.ask.offer import FabricOffer
    from reports.plan.effort import Effort
    from reports.stock.item import StockItem

ClothAnswer = Literal["yes", "not found", "not looked at", "no", "refused"]

ORDER: tuple[ClothAnswer, ...] = ("yes", "not found", "not looked at", "refused", "no")
"""How answers are listed."""

SPREADS: tuple[RemnantSpread, ...] = ("open",)
"""What lies on cloth folded lies on it open as well."""


@dataclass(frozen=True)
class ClothTried:
    """A cloth on hand, and what came of it.

    Parameters
    ----------
    like
        The cloth of the job that it was laid as; None where the job has none.
    fitting
        What was tried; None where nothing was.
    task
        What is cut of it.
    refused
        Why it cannot be laid at all.
    """

    item: StockItem
    like: FabricOffer | None
    fitting: Fitting | None = None
    task: RemnantTask | None = None
    refused: str = ""

    @property
    def answer(self) -> ClothAnswer:
        """Yes with a layout that was checked, no with a proof, or neither."""
        if self.refused:
            return "refused"
        if self.fitting is None or (self.fitting.answer == "not found" and was_interrupted(self.fitting)):
            return "not looked at"
        return self.fitting.answer

    @property
    def marker(self) -> Marker | None:
        """The layout that fits."""
        found = self.fitting.layout if self.fitting else None
        return found.result.marker if found and found.result else None


@dataclass(frozen=True)
class WhichFound:
    """All cloths that were asked about: those that will do first, of each answer the smallest first."""

    job: Job
    base: FabricOffer | None
    tried: tuple[ClothTried, ...]
    seconds: float
    seed: int

    @property
    def best(self) -> ClothTried | None:
        """The smallest that will do."""
        return next((one for one in self.tried if one.answer == "yes"), None)

    @property
    def was_stopped(self) -> bool:
        """Whether some were not looked at."""
        return any(one.answer == "not looked at" for one in self.tried)


def cloths_on_hand(items: Sequence[StockItem]) -> list[StockItem]:
    """Rolls and remnants of which something is left, the smallest first."""
    cloths = [item for item in items if item.kind in ("roll", "remnant") and item.width and item.left > 0]
    return sorted(cloths, key=lambda item: (_area(item), item.number))


def _area(item: StockItem) -> float:
    return (item.width or 0.0) * float(item.left)


def like_of(item: StockItem, job: Job, base: FabricOffer | None) -> FabricOffer | None:
    """The cloth of the job that a cloth on hand is laid as: of its name if it is for the same part, or else `base`."""
    if base is None:
        return None
    same = (offer for offer in job.fabric if offer.part == base.part and _plain(offer.name) == _plain(item.name))
    return next(same, base)


def _plain(name: str) -> str:
    return " ".join(name.split()).casefold()


def which_will_do(
    job: Job, base: FabricOffer | None, items: Sequence[StockItem], effort: Effort, told: Callable[[int, int], None]
) -> WhichFound:
    """Try each cloth on hand.

    A layout that was found goes on every cloth that is as long and as wide, if it may lie there as it lies. A stop ends
    the search: what was not looked at by then is named.

    Parameters
    ----------
    base
        The job's cloth whose pieces are laid.
    told
        Hears how many are done, of how many.
    """
    begun = time.monotonic()
    drafted, cloths = draft_job(job), cloths_on_hand(items)
    tried: list[ClothTried] = []
    known: list[tuple[FabricOffer | None, Marker]] = []
    for number, item in enumerate(cloths):
        told(number, len(cloths))
        like = like_of(item, job, base)
        if any(one.fitting and was_interrupted(one.fitting) for one in tried):
            tried.append(ClothTried(item, like))
            continue
        marker = next((marker for other, marker in known if other == like), None)
        one = _tried(job, item, like, drafted, effort, marker)
        tried.append(one)
        if one.marker:
            known.append((like, one.marker))
    told(len(cloths), len(cloths))
    tried.sort(key=lambda one: ORDER.index(one.answer))
    return WhichFound(job, base, tuple(tried), time.monotonic() - begun, effort.seed)


def _tried(
    job: Job,
    item: StockItem,
    like: FabricOffer | None,
    drafted: PieceSet,
    effort: Effort,
    known: Marker | None,
) -> ClothTried:
    remnant = remnant_of(item, like)
    try:
        across = ClothAcross.of_remnant(remnant, SPREADS, like.tilt if like else 0.0)
        task = RemnantTask.of(job, like, drafted, across)
        usual = replace(effort, sold=task.cloth, listener=None)
        terms = FitTerms(
            usual.criteria,
            usual.seed,
            usual.workers,
            usual.proof_in_all,
            None,
            usual.aims,
            usual.proving,
            usual.interrupt,
        )
        fitting = fit_sets(task.sets, remnant, SPREADS, terms, waste_twins=task.waste_twins, known=known)
    except (NestingError, PieceError) as error:  # shapes that cannot be pieced so, or cloth that cannot lie so
        return ClothTried(item, like, refused=str(error))
    return ClothTried(item, like, fitting, task)


def remnant_of(item: StockItem, like: FabricOffer | None) -> Remnant:
    """A cloth on hand as a remnant: as wide and as long as the ledger says."""
    return parse_remnant(f"{item.width:.3f} mm x {float(item.left):.3f} mm", cloth=like)
