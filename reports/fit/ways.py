"""Ways out of a remnant on which no layout was found, each really laid and checked, until one fits."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nesting.errors import NestingError
from nesting.fit.fitting import fit_pieces
from pieces.units import format_need
from reports.ask.job import Job
from reports.change.ways_out import MOST_STEPS, ways_out

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nesting.fit.fitting import Fitting
    from nesting.fit.remnant import Remnant, RemnantSpread
    from reports.change.ways_out import WayOut
    from reports.fit.remnant import RemnantTask
    from reports.plan.effort import Effort
    from reports.plan.piecing import ClothAcross

SHARE = 0.25
"""Of the effort of the question, for each way out."""


@dataclass(frozen=True)
class TriedWayOut:
    """A way out and what came of it; of one that could not be tried there is no fitting."""

    way: WayOut
    fitting: Fitting | None = None
    refused: str = ""

    @property
    def answer(self) -> str:
        """``"yes"``, ``"no"``, ``"not found"`` or ``"not tried"``."""
        return self.fitting.answer if self.fitting else "not tried"


def try_ways_out(
    task: RemnantTask,
    remnant: Remnant,
    spreads: Sequence[RemnantSpread],
    across: ClothAcross,
    least_seam: float,
    effort: Effort,
) -> tuple[TriedWayOut, ...]:
    """Lay each way out, the least bad first, until one fits or someone asks to stop."""
    brief = replace(effort, amount=effort.amount * SHARE, seconds=effort.seconds and effort.seconds * SHARE)
    tried: list[TriedWayOut] = []
    assert isinstance(task.job, Job)
    garments = task.job.garments
    ways = ways_out(task.job, task.cloth, task.whole, least_seam, has_nap=bool(remnant.nap), steps=MOST_STEPS)
    for way in ways:
        if way.refused:
            tried.append(TriedWayOut(way, refused=way.refused))
            continue
        try:
            fitting = fit_pieces(
                across.pieced(way.pieces),
                remnant,
                spreads,
                brief.criteria,
                seed=brief.seed,
                workers=brief.workers,
                garments=garments,
                waste_twins=task.waste_twins,
                aims=brief.aims,
            )
        except NestingError as error:
            tried.append(TriedWayOut(way, refused=str(error)))
            continue
        tried.append(TriedWayOut(way, fitting))
        if fitting.answer == "yes" or was_interrupted(fitting):
            break
    return tuple(tried)


def was_interrupted(fitting: Fitting) -> bool:
    """Whether someone asked to stop."""
    return any(one.result and one.result.stopped_by == "interrupt" for one in fitting.tried)


def way_out_lines(tried: Sequence[TriedWayOut], task: RemnantTask) -> Iterator[str]:
    """What was tried, and what fits."""
    if not tried:
        return
    units = task.units
    yield "Ways out tried, the least bad first:"
    for one in tried:
        said = {"yes": "it fits", "no": "does not fit, proved", "not found": "no layout found"}.get(one.answer)
        yield f"  {one.way.name}: {said or f'not tried: {one.refused}'}"
    last = tried[-1]
    if last.answer != "yes":
        yield "  None of them was found to fit, which does not prove that none does."
        return
    for piece in last.way.elsewhere:
        size = f"{format_need(piece.length, units)} × {format_need(piece.width, units)}"
        yield f"  Of other cloth: {piece.name}, cut {piece.cut * task.garments}, {size} each."
    yield "  Changes that are worse were not tried, because this one fits."
