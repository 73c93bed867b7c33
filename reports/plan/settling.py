"""One cloth on the way to its answer: in which spreads it may lie, which of them are searched, and what was found.

Every question settles a cloth here, so that all give the same answer for the same cloth. And nothing that is found is
lost: a marker is carried over to every other cloth and spread, among those that are settled together, that asks for
less.
"""

from __future__ import annotations

from functools import cached_property
from heapq import heapify, heappop, heappush
from typing import TYPE_CHECKING

from nesting.cloth.spread import FLAT_SPREADS, SEARCHED
from nesting.edit.carry import carry
from nesting.errors import NestingError
from nesting.folds.fold_then_open import opened_in
from nesting.proof.bounds import lower_bound
from pieces.shapes.cut import PARTS
from pieces.units import Units
from reports.chalk.chalk import chalk
from reports.plan.answers import purchase_of
from reports.plan.problems import spread_problem

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from nesting.cloth.spread import Spread
    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem
    from pieces import Piece
    from reports.ask.offer import FabricOffer
    from reports.money.yardage import Purchase

    Asked = Sequence[tuple["Settling", Spread]]
    """What is to be searched: cloths in spreads."""

    Search = Callable[[Asked], Iterable[Marker | None]]
    """Searches for markers, one after another or side by side; None for those that an interrupt came before."""

SIMPLE_ENOUGH = 0.02
"""How much longer than the shortest marker a simpler spread's may be for it to be named, as a share."""

SAME_LENGTH = 1e-6
"""Markers whose lengths differ by no more, mm, are as long: rounding."""

NAPS = (False, "by garment", True)
"""What a nap asks for, least first."""


class Settling:
    """One cloth and what is cut of it, while it is settled how it lies.

    Parameters
    ----------
    pieces
        What is cut of it.
    garments
        How many are cut at once.

    Attributes
    ----------
    problems
        What can be laid, by spread; of the best of all spreads those that are not searched are left out.
    depths
        How far the cloth is folded over, mm, in each spread that folds it in part.
    refused
        Why the rest cannot.
    found
        The shortest marker of each spread: searched, or carried over.
    missed
        Spreads that an interrupt came before.

    Raises
    ------
    NestingError
        The first reason why the pieces do not go on the cloth in any of its spreads, or not in the one that is named.
    """

    def __init__(self, offer: FabricOffer, pieces: tuple[Piece, ...], garments: int) -> None:
        self.offer, self.pieces, self.garments = offer, pieces, garments
        self.problems: dict[Spread, Problem] = {}
        self.depths: dict[Spread, float | None] = {}
        self.refused: dict[Spread, NestingError] = {}
        self.found: dict[Spread, Marker] = {}
        self.missed: set[Spread] = set()
        self._marked: dict[Spread, tuple[Marker, Marker]] = {}
        self._asked: set[Spread] = set()
        put_off = [spread for spread in offer.spreads() if offer.spread == "best" and spread in SEARCHED]
        self._lay_out(spread for spread in offer.spreads() if spread not in put_off)
        if not self.problems:
            self._lay_out(put_off)
        errors = [self.refused[spread] for spread in offer.spreads() if spread in self.refused]
        if offer.spread != "best" and offer.spread in self.refused:
            raise self.refused[offer.spread]
        if not self.problems:
            raise errors[0]

    def _lay_out(self, spreads: Iterable[Spread]) -> None:
        for spread in spreads:
            try:
                laid = spread_problem(self.offer, self.offer.fabric(), spread, self.pieces, self.garments)
            except NestingError as error:
                self.refused[spread] = _of_parts(error, self.pieces)
            else:
                self.depths[spread], self.problems[spread] = laid

    def go_on_from(self, spread: Spread, depth: float | None, marker: Marker) -> None:
        """Take what was found before: that spread is searched in any case, and its marker never gets longer."""
        self.depths[spread], self.problems[spread], self.found[spread] = depth, marker.problem, marker

    @property
    def spreads(self) -> list[Spread]:
        """The spreads that can be laid, simplest first."""
        return [spread for spread in self.offer.spreads() if spread in self.problems]

    @property
    def searched(self) -> list[Spread]:
        """The spreads that were searched, simplest first."""
        return [spread for spread in self.spreads if spread in self._asked - self.missed]

    @cached_property
    def first(self) -> tuple[Spread, ...]:
        """The spreads that are searched before all else.

        Of one that is named they are it and all that it contains. Of all spreads they are the ordinary ones; without
        a gap the open cloth alone, as whatever lies on folded cloth, its layers unfolded, lies there.
        """
        if self.offer.spread != "best":
            return tuple(self.spreads)
        if "open" in self.problems and not self.offer.gap:
            return ("open",)
        return tuple(spread for spread in self.spreads if spread in FLAT_SPREADS) or tuple(self.spreads)

    def todo(self) -> list[Spread]:
        """The spreads to search next; none once all that matters is done.

        What is simpler than the best so far may need no more, and is searched too, if by its bound it may do with as
        much cloth bought.
        """
        if not self._asked:
            return sorted({*self.first, *self.found}, key=self.spreads.index)
        if self.offer.spread != "best" or not self.found:
            return []
        buy, order = self.bought(self.best).buy, self.spreads
        simpler = [spread for spread in order[: order.index(self.best)] if spread not in self._asked]
        least = {spread: lower_bound(self.problems[spread])[0] for spread in simpler}
        return [spread for spread in simpler if self.bought_for(spread, least[spread]).buy <= buy]

    def keep(self, spread: Spread, marker: Marker | None) -> None:
        """Take what came of a search; the shortest marker stays."""
        self._asked.add(spread)
        if marker is None:
            self.missed.add(spread)
        else:
            self.adopt(spread, marker)

    def adopt(self, spread: Spread, marker: Marker) -> bool:
        """Take a marker of a spread if it is shorter than what is there; whether it was."""
        is_shorter = self.length(spread) - marker.cloth_length > SAME_LENGTH
        if is_shorter:
            self.found[spread] = marker
        return is_shorter

    def take_over(self, other: Settling, spread: Spread, target: Spread) -> bool:
        """Take what another's marker of a spread is on this cloth in the same or another one; whether it is shorter."""
        marker = other.found[spread]
        again = carry(marker, self.problems[target])
        if again is not None and self.adopt(target, again):
            return True
        if target != spread or spread not in SEARCHED:
            return False
        # Folded as deep as the other is, or with the same pieces opened out.
        found, opened = other.depths[spread], opened_in(marker.problem)
        try:
            laid = spread_problem(self.offer, self.offer.fabric(), spread, self.pieces, self.garments, found, opened)
        except NestingError:
            return False
        again = carry(marker, laid[1])
        is_shorter = again is not None and self.adopt(spread, again)
        if is_shorter:
            self.depths[spread], self.problems[spread] = laid
        return is_shorter

    def length(self, spread: Spread) -> float:
        """Length of cloth that a spread's marker takes, mm; endless where there is none."""
        return self.found[spread].cloth_length if spread in self.found else float("inf")

    @property
    def best(self) -> Spread:
        """The spread that takes least, of several the simplest."""
        found = [spread for spread in self.spreads if spread in self.found]
        return min(found, key=lambda spread: round(self.length(spread) / SAME_LENGTH))

    @property
    def shown(self) -> Spread:
        """The spread to buy for and to draw: of all that were searched, and of which no more is bought, the simplest.

        Where one is named, it is the one that takes least.
        """
        if self.offer.spread != "best":
            return self.best
        buy = self.bought(self.best).buy
        alike = (spread for spread in self.searched if spread in self.found and self.bought(spread).buy <= buy)
        return next(alike, self.best)

    @property
    def simplest(self) -> Spread:
        """The simplest spread that takes hardly more than the best, or of which no more is bought."""
        most, buy = self.length(self.best) * (1 + SIMPLE_ENOUGH), self.bought(self.best).buy
        found = [spread for spread in self.spreads if spread in self.found]
        return next(s for s in found if self.length(s) <= most or self.bought(s).buy <= buy)

    def bought(self, spread: Spread) -> Purchase:
        """What to buy for a spread's marker, as it is marked."""
        return self.bought_for(spread, self.marked(spread).length)

    def marked(self, spread: Spread) -> Marker:
        """A spread's marker as it is cut by: on whole steps of the tape, where the cloth is marked with one."""
        found = self.found[spread]
        if self.offer.marking != "tape":
            return found
        known = self._marked.get(spread)
        if known is None or known[0] is not found:
            known = self._marked[spread] = found, chalk(found, Units.METRIC, self.offer.tape).marker
        return known[1]

    def bought_for(self, spread: Spread, length: float) -> Purchase:
        """What to buy for a marker of a spread that is so long, mm."""
        return purchase_of(self.offer, self.problems[spread], length)

    @cached_property
    def drafted(self) -> tuple[object, ...]:
        """What is cut, for comparison: markers are shared where it is the same."""
        pieces = (
            (piece.name, piece.cut, piece.mirrored_pair, piece.lies, piece.cut_line.tobytes()) for piece in self.pieces
        )
        return self.garments, *pieces

    def asks_no_more_than(self, other: Settling) -> bool:
        """Whether another's markers may hold on this cloth, as far as is seen without laying them."""
        mine, its = self.offer, other.offer
        return (
            self.drafted == other.drafted
            and mine.fabric().width >= its.fabric().width - SAME_LENGTH
            and NAPS.index(mine.nap) <= NAPS.index(its.nap)
            and mine.gap <= its.gap + SAME_LENGTH
            and mine.tilt >= its.tilt
        )


def _of_parts(error: NestingError, pieces: Iterable[Piece]) -> NestingError:
    """The same error, which says of a piece that is part of a pieced shape that it is."""
    part = next((piece for piece in pieces if f"'{piece.name}'" in str(error) and PARTS in piece.label), None)
    if part is not None:
        error.args = (f"{error} ('{part.name}' is {part.label})",)
    return error


def settle(many: Sequence[Settling], search: Search) -> None:
    """Search all that matters of some cloths, and carry what is found over to all of them."""
    while asked := [(one, spread) for one in many for spread in one.todo()]:
        for (one, spread), marker in zip(asked, search(asked), strict=True):
            one.keep(spread, marker)
        for one in dict.fromkeys(one for one, _ in asked):
            share([one])
    share(many)


def share(many: Sequence[Settling]) -> None:
    """Carry every marker over to each cloth and spread that asks for less, where it is shorter; shortest first."""
    cells = [(one, spread) for one in many for spread in one.spreads]
    waiting = [(one.length(spread), i) for i, (one, spread) in enumerate(cells) if spread in one.found]
    heapify(waiting)
    while waiting:
        length, i = heappop(waiting)
        one, spread = cells[i]
        if length > one.length(spread):  # a shorter one has come since
            continue
        for k, (other, target) in enumerate(cells):
            if k == i or target not in (spread, "open") or other.length(target) - length <= SAME_LENGTH:
                continue
            if other is not one and not other.asks_no_more_than(one):
                continue
            if other.take_over(one, spread, target):
                heappush(waiting, (other.length(target), k))
