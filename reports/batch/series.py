"""One garment on cloth of several widths, otherwise the same: what is to be laid, and what came of it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nesting.errors import NestingError
from nesting.proof.bounds import lower_bound
from nesting.verify import verify_asked
from pieces.errors import PieceError
from pieces.units import Units, parse_length
from reports.ask.wanted import asked_of
from reports.errors import JobError
from reports.plan.piecing import ClothAcross
from reports.plan.settling import Settling, settle

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from decimal import Decimal

    from nesting.cloth.spread import Spread
    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem
    from pieces import Piece
    from reports.ask.choices import SpreadAsked
    from reports.ask.job import Job
    from reports.ask.offer import FabricOffer
    from reports.money.yardage import Purchase
    from reports.plan.effort import Effort

    Lay = Callable[[Sequence[Problem], Effort], Sequence[Marker | None]]

MOST_WIDTHS = 200
"""More widths than this are a mistake in the step."""


@dataclass(frozen=True)
class WidthMarker:
    """The shortest marker found on one width, and what to buy for it."""

    width: float
    spread: Spread
    marker: Marker
    purchase: Purchase
    cost: Decimal | None

    @property
    def length(self) -> float:
        """Cloth that the marker takes, over all lengths that lie on one another, mm."""
        return self.marker.cloth_length

    @property
    def bound(self) -> float:
        """A length of cloth that nothing laid in this spread can undercut, mm."""
        return lower_bound(self.marker.problem)[0] * self.marker.problem.lengths


class Series:
    """The markers of one set of pieces on one cloth, imagined in several widths.

    Parameters
    ----------
    pieces
        What is cut from the cloth, as drafted: shapes are pieced on each width for itself.
    offer
        The cloth: how it lies, selvedge, nap, gap, and how it is sold; its own width does not matter.
    widths
        Full widths of cloth, rising, mm.
    garments
        How many are cut at once.

    Attributes
    ----------
    cloths
        By number of the width, the cloth while it is settled; or why nothing can be laid on it.
    """

    def __init__(self, pieces: Sequence[Piece], offer: FabricOffer, widths: Sequence[float], garments: int = 1) -> None:
        self.pieces, self.widths, self.spreads = tuple(pieces), tuple(widths), offer.spreads()
        self.cloths: list[Settling | NestingError] = []
        self._verified: dict[int, Marker] = {}
        for width in widths:
            cloth = offer.model_copy(update={"width": width})
            try:
                self.cloths.append(Settling(cloth, ClothAcross.of_offer(cloth).pieced(self.pieces), garments))
            except NestingError as error:
                self.cloths.append(error)

    @property
    def settled(self) -> list[Settling]:
        """The cloths on which something can be laid."""
        return [cloth for cloth in self.cloths if isinstance(cloth, Settling)]

    def cell(self, number: int) -> WidthMarker | None:
        """The answer for one width, in the simplest spread of which least is bought; None where not all was searched.

        Its marker gives what was asked for: what is shown of a series comes from here.
        """
        cloth = self.cloths[number]
        if isinstance(cloth, NestingError) or cloth.missed or not cloth.found:
            return None
        spread, offer = cloth.shown, cloth.offer
        marker, depth = cloth.marked(spread), cloth.depths[spread]
        if self._verified.get(number) is not marker:
            verify_asked(marker, asked_of(offer, spread, cloth.pieces, cloth.garments, depth))
            self._verified[number] = marker
        bought = cloth.bought(spread)
        return WidthMarker(self.widths[number], spread, marker, bought, offer.cost(bought.buy))

    @property
    def not_searched(self) -> list[float]:
        """Widths that an interrupt came before, mm."""
        missed = [isinstance(cloth, Settling) and bool(cloth.missed) for cloth in self.cloths]
        return [width for width, is_missed in zip(self.widths, missed, strict=True) if is_missed]

    def refusal(self, number: int) -> NestingError | None:
        """Why nothing can be laid on one width; None if something can."""
        cloth = self.cloths[number]
        return cloth if isinstance(cloth, NestingError) else None


def lay_all(many: Sequence[Series], effort: Effort, lay: Lay) -> None:
    """Lay everything in some series. What is found is carried over to wider cloth, and to cloth without a nap.

    Parameters
    ----------
    lay
        Lays problems with an effort; gives None for those that an interrupt came before.
    """
    effort = replace(effort, sold=effort.sold or many[0].settled[0].offer) if many else effort
    settle_with([cloth for series in many for cloth in series.settled], lambda problems: lay(problems, effort))


def settle_with(cloths: Sequence[Settling], lay: Callable[[Sequence[Problem]], Sequence[Marker | None]]) -> None:
    """Settle some cloths whose markers are laid side by side."""
    settle(cloths, lambda asked: lay([cloth.problems[spread] for cloth, spread in asked]))


def none_will_do(series: Series) -> NestingError:
    """What to say where nothing can be laid: what the widest cloth lacks."""
    return NestingError(f"none of the widths will do, not even the widest: {series.refusal(len(series.widths) - 1)}")


def cloth_of(job: Job) -> FabricOffer:
    """The cloth to go by: the job's first, or a plain one if it offers none."""
    from reports.ask.offer import FabricOffer

    return job.fabric[0] if job.fabric else FabricOffer.model_validate({"width": "60 in"})


def laid_as(offer: FabricOffer, asked: Spread | SpreadAsked | None) -> FabricOffer:
    """The cloth laid as it is asked for, else as it says."""
    if asked is None or asked == offer.spread:
        return offer
    return offer.model_copy(update={"spread": asked, "fold_depth": None})


def width_range(low: str | None, high: str | None, step: str | None, units: Units) -> list[float]:
    """Widths from the narrowest to the widest asked for, mm; by default 36 to 72 in by 1 in, or 90 to 180 cm by 5 cm.

    Raises
    ------
    JobError
        If one of them cannot be read, they are the wrong way round, or the step makes no sense.
    """
    usual = ("36 in", "72 in", "1 in") if units is Units.INCHES else ("90 cm", "180 cm", "5 cm")
    given = [text or by_default for text, by_default in zip((low, high, step), usual, strict=True)]
    first, last, by = (_length(text, option) for text, option in zip(given, ("--from", "--to", "--step"), strict=True))
    if first > last:
        raise JobError(f"--from {given[0]} is more than --to {given[1]}: give the narrower width first")
    if (last - first) / by > MOST_WIDTHS:
        raise JobError(f"--step {given[2]} makes more than {MOST_WIDTHS} widths: take a larger step")
    return [first + i * by for i in range(int((last - first) / by + 1e-6) + 1)]


def width_list(text: str | None, units: Units) -> list[float]:
    """Widths given with commas between, rising, mm; by default those cloth is usually sold in.

    Raises
    ------
    JobError
        If one of them cannot be read.
    """
    # Usual widths: fact U3 of the conversion table's columns; the metric ones are common practice, no source.
    usual = "36 in, 45 in, 50 in, 54 in, 60 in, 66 in" if units is Units.INCHES else "90 cm, 115 cm, 140 cm, 150 cm"
    widths = {_length(part, "--widths") for part in (usual if text is None else text).split(",")}
    if len(widths) > MOST_WIDTHS:
        raise JobError(f"--widths names more than {MOST_WIDTHS} widths: ask for fewer")
    return sorted(widths)


def _length(text: str, option: str) -> float:
    try:
        mm = parse_length(text)
    except PieceError as error:
        raise JobError(f"{option}: {error}") from error
    if mm <= 0:
        raise JobError(f"{option}: {text.strip()!r} is not a width: it must be more than 0")
    return mm
