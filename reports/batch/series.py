"""One garment on cloth of several widths, otherwise the same: what is to be laid, and what came of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nesting.cloth.spread import FLAT_SPREADS, SEARCHED, Spread
from nesting.edit.carry import carry
from nesting.errors import NestingError
from nesting.problem.lay import lay_pieces
from nesting.proof.bounds import lower_bound
from nesting.verify import verify_asked
from pieces.errors import PieceError
from pieces.units import Units, parse_length
from reports.ask.wanted import asked_of
from reports.errors import JobError
from reports.plan.answers import purchase_of

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from decimal import Decimal

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
        What is cut from the cloth.
    offer
        The cloth: selvedge, nap, gap, and how it is sold; its own width does not matter.
    spreads
        Ways to lay it, simplest first.
    widths
        Full widths of cloth, rising, mm.
    garments
        How many are cut at once.

    Attributes
    ----------
    problems
        What can be laid, by spread and number of the width.
    refused
        Why the rest cannot.
    markers
        What was laid.
    unsearched
        What an interrupt came before; there at most a marker of narrower cloth is held.
    """

    def __init__(
        self,
        pieces: Sequence[Piece],
        offer: FabricOffer,
        spreads: Sequence[Spread],
        widths: Sequence[float],
        garments: int = 1,
    ) -> None:
        self.pieces, self.spreads, self.widths = tuple(pieces), tuple(spreads), tuple(widths)
        self.offers = tuple(offer.model_copy(update={"width": width}) for width in widths)
        self.problems: dict[tuple[Spread, int], Problem] = {}
        self.refused: dict[tuple[Spread, int], NestingError] = {}
        self.markers: dict[tuple[Spread, int], Marker] = {}
        self.unsearched: set[tuple[Spread, int]] = set()
        self._garments = garments
        self._verified: dict[tuple[Spread, int], Marker] = {}
        for spread in spreads:
            for i, cloth in enumerate(self.offers):
                try:
                    problem = lay_pieces(
                        self.pieces,
                        cloth.fabric(),
                        spread,
                        garments=garments,
                        waste_twins=cloth.waste_twins,
                        plies=cloth.plies,
                    )
                except NestingError as error:
                    self.refused[spread, i] = error
                else:
                    self.problems[spread, i] = problem

    def keep(self, spread: Spread, number: int, marker: Marker) -> None:
        """Take a marker of one of the problems; the shortest stays."""
        before = self.markers.get((spread, number))
        if before is None or marker.length < before.length:
            self.markers[spread, number] = marker

    def contenders(self) -> list[tuple[Spread, int]]:
        """What is worth a whole search: on each width the spread that took least on trial, if there was one."""
        best = {cell.width: cell.spread for cell in map(self.cell, range(len(self.widths))) if cell is not None}
        return [(spread, i) for spread, i in self.problems if best.get(self.widths[i], spread) == spread]

    def adopt(self, other: Series) -> None:
        """Take over whatever markers of another series hold here and are shorter, as those with a nap hold without."""
        for (spread, i), marker in other.markers.items():
            self._offer(spread, i, marker)

    def settle(self) -> None:
        """Take over, width by width, what was found on narrower cloth: so a wider cloth never needs more length."""
        for spread in self.spreads:
            for i in range(1, len(self.widths)):
                if (spread, i - 1) in self.markers:
                    self._offer(spread, i, self.markers[spread, i - 1])

    def _offer(self, spread: Spread, number: int, marker: Marker) -> None:
        before, problem = self.markers.get((spread, number)), self.problems.get((spread, number))
        if problem is not None and (before is None or marker.length < before.length - 1e-9):
            again = carry(marker, problem)
            if again is not None:
                self.keep(spread, number, again)

    def cell(self, number: int) -> WidthMarker | None:
        """The answer for one width, in the spread that takes least; None where nothing was laid.

        Its marker gives what was asked for: what is shown of a series comes from here.
        """
        laid = [(self.markers[spread, number], spread) for spread in self.spreads if (spread, number) in self.markers]
        if not laid:
            return None
        marker, spread = min(laid, key=lambda each: each[0].cloth_length)
        cloth = self.offers[number]
        if self._verified.get((spread, number)) is not marker:
            verify_asked(marker, asked_of(cloth, spread, self.pieces, self._garments))
            self._verified[spread, number] = marker
        bought = purchase_of(cloth, marker.problem, marker.length)
        return WidthMarker(self.widths[number], spread, marker, bought, cloth.cost(bought.buy))

    @property
    def not_searched(self) -> list[float]:
        """Widths that an interrupt came before, mm."""
        return [self.widths[number] for number in sorted({number for _, number in self.unsearched})]

    def refusal(self, number: int) -> NestingError | None:
        """Why nothing can be laid on one width, in the spread that asks least of it; None if something can."""
        if any((spread, number) in self.problems for spread in self.spreads):
            return None
        return self.refused["open" if "open" in self.spreads else self.spreads[0], number]


def lay_all(many: Sequence[Series], effort: Effort, lay: Lay) -> None:
    """Lay everything in some series: of several spreads, each on trial first, then the best of them.

    Parameters
    ----------
    lay
        Lays problems with an effort; gives None for those that an interrupt came before.
    """
    if any(len(series.spreads) > 1 for series in many):
        _lay([(series, key) for series in many for key in series.problems], effort.trial, lay)
        for series in many:
            series.settle()
    _lay([(series, key) for series in many for key in series.contenders()], effort, lay)
    for series in many:
        series.settle()


def _lay(asked: Sequence[tuple[Series, tuple[Spread, int]]], effort: Effort, lay: Lay) -> None:
    markers = lay([series.problems[key] for series, key in asked], effort)
    for (series, key), marker in zip(asked, markers, strict=True):
        if marker is None:
            series.unsearched.add(key)
        else:
            series.keep(*key, marker)


def none_will_do(series: Series) -> NestingError:
    """What to say where nothing can be laid: what the widest cloth lacks."""
    return NestingError(f"none of the widths will do, not even the widest: {series.refusal(len(series.widths) - 1)}")


def cloth_of(job: Job) -> FabricOffer:
    """The cloth to go by: the job's first, or a plain one if it offers none."""
    from reports.ask.offer import FabricOffer

    return job.fabric[0] if job.fabric else FabricOffer.model_validate({"width": "60 in"})


def spreads_of(offer: FabricOffer, asked: SpreadAsked | None) -> tuple[Spread, ...]:
    """The spreads to lay: those asked for, else as the cloth says; one folded in part or for a while, the best way.

    The best is open: a layout on folded cloth, its layers unfolded, is one on open cloth of the same length. Only a
    gap, which need not be kept from a fold, can be in the way: then each is laid.
    """
    if asked is None and offer.spread != "best" and offer.spread not in SEARCHED:
        return (offer.spread,)
    if asked is None or asked == "best":
        return FLAT_SPREADS if offer.gap else ("open",)
    return (asked,)


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
