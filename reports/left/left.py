"""What is left of the cloth bought: rectangles, strips, bias strips, and whether another job's pieces fit as well."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil, floor
from typing import TYPE_CHECKING, NamedTuple

from nesting.errors import NestingError
from nesting.fit.remnant import Zone
from nesting.left.bare import bare_cloth, free_area
from nesting.left.beside import laid_open, lay_beside
from nesting.left.bias import BiasStrip, bias_strips
from nesting.left.rectangles import Rectangle, largest_rectangles
from nesting.left.strips import longest_strips
from nesting.verify import Asked, LaidMarker
from nesting.verify.free import check_free, check_inside
from pieces.errors import LengthError
from pieces.length import length_in_mm
from pieces.units import INCH, Units, spoken
from reports.ask.draft import draft_job
from reports.errors import JobError
from reports.plan.piecing import ClothAcross
from reports.plan.plan import plan_job
from reports.plan.problems import spread_problem, whole_from
from reports.rows import beyond

if TYPE_CHECKING:
    from nesting.cloth.spread import Spread
    from nesting.marker.marker import Marker
    from pieces import Piece
    from reports.ask.job import Job
    from reports.ask.offer import FabricOffer
    from reports.plan.answers import FabricPlan
    from reports.plan.effort import Effort

LEAST_SIDE = INCH
"""Rectangles with a shorter side, mm, are left out; common practice, no source."""

LEAST_STRIP = 4 * INCH
"""Strips shorter than this, mm, are left out: they are all joins; common practice, no source."""

NARROWEST = 3.0
"""Nobody cuts narrower strips, mm; common practice, no source."""

TICK = {Units.INCHES: INCH / 8, Units.METRIC: 5.0}
"""Rectangles begin and end on whole steps of a tape, mm, so that what is shown of them is exact."""

ROUNDING = 1e-6


@dataclass(frozen=True)
class LeftAsked:
    """What is asked about what is left.

    Parameters
    ----------
    job
        The job, with one cloth.
    number
        How many rectangles, or strips.
    strip, bias
        Width of strips along the grain, and on the bias, mm; None for none.
    other
        Another job whose pieces are to be cut of what is left.
    """

    job: Job
    number: int
    strip: float | None = None
    bias: float | None = None
    other: Job | None = None


class TriedBeside(NamedTuple):
    """A way in which another job's pieces were tried, and why they cannot lie so; empty where no place was found."""

    spread: Spread
    reason: str = ""


@dataclass(frozen=True, eq=False)
class OtherLaid:
    """Whether another job's pieces fit beside the marker.

    Parameters
    ----------
    job, pieces
        The other job, and how many pieces of it are to be cut.
    tried
        The ways that did not hold them.
    spread
        How the cloth lies where they fit; None where no place was found.
    piecing
        A line for each of its shapes that is pieced there, as it is wider than the cloth; of the last way tried where
        no place was found.
    """

    job: Job
    pieces: int
    tried: tuple[TriedBeside, ...]
    spread: Spread | None
    piecing: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False)
class Left:
    """What is left of the cloth that is bought for a marker.

    Nothing is told of it that has not passed a check: that is done here, once for all that is shown.

    Parameters
    ----------
    plan
        The cloth's answer.
    marker, asked
        What is cut, and what that has to give: with the other job's pieces where they fit.
    length
        Of the laid cloth that can be cut, mm: without end allowances.
    free
        Free cloth over all layers, mm², as it is cut.
    rectangles, strips
        Of bare cloth, as it is cut.
    bias
        Strips on the bias of the first rectangle.
    beside
        What came of the other job; None if there is none.
    """

    task: LeftAsked
    plan: FabricPlan
    marker: Marker
    asked: Asked
    length: float
    free: float
    rectangles: tuple[Rectangle, ...]
    strips: tuple[Rectangle, ...]
    bias: tuple[BiasStrip, ...]
    beside: OtherLaid | None

    def __post_init__(self) -> None:
        layout, gap = LaidMarker.of(self.marker), self.plan.offer.gap
        for found in (self.rectangles, self.strips):
            check_free(layout, self.asked, self.length, [one.zone for one in found])
        if self.bias:
            zone = self.rectangles[0].zone
            corners = [[(x + zone.start, y + zone.low) for x, y in strip.corners] for strip in self.bias]
            check_inside(zone, corners, gap)

    @property
    def units(self) -> Units:
        """How lengths are written."""
        return self.task.job.written_in

    @property
    def spread(self) -> Spread:
        """How the cloth lies where this is cut of it."""
        return self.beside.spread if self.beside and self.beside.spread else self.plan.spread

    @property
    def bought(self) -> tuple[float, float]:
        """Of a length along and across of what is cut, that of the cloth as bought: factors."""
        offer = self.plan.offer
        if offer.washed != "before":
            return 1.0, 1.0
        return 1 / (1 - offer.shrinkage / 100), 1 / (1 - offer.shrinkage_across / 100)


def width_of(text: str | None, option: str) -> float | None:
    """The width that an option gives, mm; LengthError if it cannot be read, or nobody cuts strips so narrow."""
    if text is None:
        return None
    width = float(length_in_mm(text, option))
    if width < NARROWEST:
        raise LengthError(text, f"a strip is {spoken('1/8 in', '3 mm')} wide or more", option)
    return width


def what_is_left(task: LeftAsked, effort: Effort) -> Left:
    """Lay the job's pieces as `buy` does, and look at what is left of the cloth."""
    (_, plan), *_ = plan_job(task.job, effort, rib=False).markers
    length = cut_length(plan)
    marker, asked = plan.result.marker, plan.asked
    beside = None
    if task.other is not None:
        beside, marker, asked = _beside(task, task.other, plan, length, effort)
    cloth, units = bare_cloth(marker, length), task.job.written_in
    rectangles = [
        zone for one in largest_rectangles(cloth, task.number, LEAST_SIDE) if (zone := on_steps(one, marker, units))
    ]
    found = longest_strips(cloth, task.strip, task.number, LEAST_STRIP) if task.strip else []
    strips = [one._replace(zone=along_steps(one.zone, units)) for one in found]
    bias: list[BiasStrip] = []
    if task.bias and rectangles:
        first = rectangles[0].zone
        size = first.end - first.start, first.high - first.low
        bias = bias_strips(*size, task.bias, gap=plan.offer.gap, least=LEAST_STRIP)
    return Left(
        task,
        plan,
        marker,
        asked,
        length,
        free_area(marker, length),
        tuple(rectangles),
        tuple(strips),
        tuple(bias),
        beside,
    )


def cut_length(plan: FabricPlan) -> float:
    """How long the cloth is, laid, that is bought for a marker, mm: what has shrunk and the end allowances taken off.

    So are a splice, and what it takes to begin on a pattern. A margin and what was rounded up are there to be cut.
    """
    offer, marker, lengths = plan.offer, plan.result.marker, plan.result.marker.problem.lengths
    there = plan.purchase.buy * (1 - (offer.shrinkage / 100 if offer.washed == "before" else 0.0))
    lost = sum(more.mm for more in plan.purchase.additions if more.kind in ("ends", "splice", "begin", "plies"))
    return max((there - lost) / lengths, marker.length)


def on_steps(found: Rectangle, marker: Marker, units: Units) -> Rectangle | None:
    """A rectangle that begins and ends on whole steps of the tape, from the start and from the cloth's lower edge."""
    tick, (start, end, low, high) = TICK[units], found.zone
    band = marker.problem.bands[found.band]
    origin = band.low - beyond(band, "low")
    first, last = (origin + _up(low - origin, tick), origin + _down(high - origin, tick))
    zone = along_steps(Zone(start, end, first, last), units)
    if min(zone.end - zone.start, zone.high - zone.low) < LEAST_SIDE - ROUNDING:
        return None
    return found._replace(zone=zone)


def along_steps(zone: Zone, units: Units) -> Zone:
    """The same from and to a whole step of the tape along the cloth."""
    return zone._replace(start=_up(zone.start, TICK[units]), end=_down(zone.end, TICK[units]))


def _up(mm: float, tick: float) -> float:
    return ceil((mm - 1e-4) / tick) * tick


def _down(mm: float, tick: float) -> float:
    return floor((mm + 1e-4) / tick) * tick


def _beside(
    task: LeftAsked, other: Job, plan: FabricPlan, length: float, effort: Effort
) -> tuple[OtherLaid, Marker, Asked]:
    """Another job's pieces laid on what is left: as the cloth lies, then with it laid open."""
    offer, marker, asked = plan.offer, plan.result.marker, plan.asked
    whole = _pieces_of(other, offer)
    tried: list[TriedBeside] = []
    number, piecing = sum(piece.cut for piece in whole) * other.garments, tuple[str, ...]()
    for spread in (plan.spread, "open") if plan.spread != "open" else (plan.spread,):
        try:
            here = _lying(plan, spread, task.job)
            if here is None:
                continue
            fixed, own = here
            across = ClothAcross.of_bands(offer, fixed.problem.bands)
            pieces, piecing = across.pieced(whole), tuple(across.lines(whole, offer.name, task.job.written_in))
            number = sum(piece.cut for piece in pieces) * other.garments
            both = replace(own, sets=(*own.sets, (pieces, other.garments)))
            depth = plan.depth if spread == plan.spread else None
            _, problem = spread_problem(offer, offer.fabric(), spread, pieces, other.garments, depth)
            hears = effort.listener(other.name, spread) if effort.listener else None
            found = lay_beside(
                fixed,
                problem,
                both,
                length,
                replace(effort, sold=None).criteria,
                seed=effort.seed,
                workers=effort.workers,
                listener=hears,
            )
        except NestingError as error:
            if isinstance(error, AssertionError):
                raise
            tried.append(TriedBeside(spread, str(error)))
            continue
        if found is not None:
            return OtherLaid(other, number, tuple(tried), spread, piecing), found, replace(both, length=length)
        tried.append(TriedBeside(spread))
    return OtherLaid(other, number, tuple(tried), None, piecing), marker, asked


def _lying(plan: FabricPlan, spread: Spread, job: Job) -> tuple[Marker, Asked] | None:
    """The cloth's marker as it lies, or with the cloth laid open after it is cut; None if it cannot lie so."""
    marker, asked = plan.result.marker, plan.asked
    if spread == plan.spread:
        return None if marker.problem.stretches else (marker, asked)
    if marker.problem.lengths > 1 or plan.spread == "tube":
        return None
    offer = plan.offer
    _, problem = spread_problem(offer, offer.fabric(), spread, asked.sets[0][0], job.garments)
    fixed = laid_open(marker, asked, problem)
    return None if fixed is None else (fixed, replace(asked, spread=spread, depth=None))


def _pieces_of(other: Job, offer: FabricOffer) -> tuple[Piece, ...]:
    """The pieces that another job cuts of such cloth, as drafted, with names of their own."""
    drafted = draft_job(other)
    like = next((cloth for cloth in other.fabric if cloth.material == offer.material), None)
    names = [piece.name for piece in whole_from(like, other, drafted)] if like else None
    found = [piece for piece in drafted.of(offer.material) if names is None or piece.name in names]
    if not found:
        raise JobError(f"{other.name} has no piece of {offer.material}, and '{offer.name}' is {offer.material}")
    label = other.name.removesuffix(".toml")
    as_here = offer.model_copy(update={"lies": like.lies if like else ()})
    return tuple(replace(as_here.allowed(piece), name=f"{label}: {piece.name}") for piece in found)
