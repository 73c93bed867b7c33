"""Answers: what came of the search for each cloth and each rib."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

from nesting.errors import NestingError, NoFoldError, PieceTooWideError, SpreadError, StripTooShortError
from nesting.verify import verify_asked
from pieces.summary import aligned, units_asked
from pieces.units import Units, format_bound, format_need, percent_reached
from reports.plan.aims import PurchaseAims

if TYPE_CHECKING:
    from decimal import Decimal

    from nesting.cloth.spread import Spread
    from nesting.marker.marker import Marker, Result
    from nesting.problem.problem import Problem
    from nesting.rib.plan import RibPlan
    from nesting.verify import Asked
    from pieces.summary import UnitsAsked
    from reports.ask.offer import FabricOffer, RibOffer
    from reports.money.yardage import Purchase

PROVED = 1e-6
"""A marker this close to its bound, as a share, is as short as can be."""

WITHIN = 2.0
"""A marker this close to its bound, mm, is as short as can be to what a tape shows."""

SEEN = 1.0
"""A shorter marker is shorter by more than so much, mm."""

RefusalKind = Literal["too wide", "no fold", "spread", "strip too short", "other"]
"""Why cloth will not do: a piece is too wide, or needs a fold; it cannot lie so; or rib does not give a band."""

CAUSES: tuple[tuple[type[NestingError], RefusalKind], ...] = (
    (PieceTooWideError, "too wide"),
    (NoFoldError, "no fold"),
    (SpreadError, "spread"),
    (StripTooShortError, "strip too short"),
)


@dataclass(frozen=True)
class RefusalCause:
    """Why a cloth, a rib or a spread will not do, as data: the piece or band, what it needs and what there is, mm."""

    kind: RefusalKind = "other"
    piece: str | None = None
    needed: float | None = None
    given: float | None = None

    @classmethod
    def of(cls, error: NestingError) -> RefusalCause:
        """What an error says as data."""
        kind: RefusalKind = next((kind for of, kind in CAUSES if isinstance(error, of)), "other")
        if isinstance(error, PieceTooWideError | StripTooShortError):
            return cls(kind, error.name, error.needs, error.usable)
        return cls(kind, error.name if isinstance(error, NoFoldError) else None)


@dataclass(frozen=True)
class PassedOver:
    """Another spread than the one chosen: the length of cloth it took, mm, and what that is to buy, or why not.

    Only what was searched as hard as the one chosen has a length. `depth` is how far it is folded over, mm, where it is
    in part.
    """

    spread: Spread
    length: float | None = None
    purchase: Purchase | None = None
    reason: str = ""
    cause: RefusalCause = field(default_factory=RefusalCause)
    depth: float | None = None

    @property
    def is_searched(self) -> bool:
        """Whether it was searched."""
        return self.length is not None


@dataclass(frozen=True)
class FabricPlan:
    """One cloth offered: its marker in the spread chosen, and what to buy of it.

    There is none whose marker does not give what was `asked`, whoever makes it: that is looked at here, once for all
    that is shown, written and printed of it.

    `passed_over` has each other spread asked for; `simplest` is the simplest spread that takes hardly more than the
    shortest, or of which no more is bought; `plain` the length of the marker without the cloth's pattern, mm, where
    it has one; `depth` how far the cloth is folded over, where it is in part.
    """

    offer: FabricOffer
    spread: Spread
    result: Result
    purchase: Purchase
    cost: Decimal | None
    passed_over: tuple[PassedOver, ...] = ()
    simplest: Spread | None = None
    plain: float | None = None
    depth: float | None = None
    asked: Asked = field(kw_only=True)

    def __post_init__(self) -> None:
        verify_asked(self.result.marker, self.asked)

    @property
    def marker(self) -> Marker:
        """Its marker."""
        return self.result.marker

    @property
    def lay(self) -> None:
        """It is no lay of a run."""
        return

    @property
    def least(self) -> Purchase:
        """What would be bought if the marker were as short as its bound: no layout in this spread needs less."""
        return purchase_of(self.offer, self.result.marker.problem, self.result.bound)

    @property
    def is_proved(self) -> bool:
        """Whether it is proved that no marker in this spread is shorter."""
        return self.result.stopped_by == "proved" or self.result.gap < PROVED

    @property
    def is_interrupted(self) -> bool:
        """Whether an interrupt ended the search: less may be found by a whole one."""
        return self.result.stopped_by == "interrupt"

    @property
    def shortest(self) -> Spread | None:
        """The spread that was found to take less than the one chosen, which is simpler; None where none does."""
        own = self.result.marker.cloth_length
        shorter = [way for way in self.passed_over if way.length is not None and way.length < own - SEEN]
        return min(shorter, key=lambda way: way.length or 0.0).spread if shorter else None

    @property
    def fold_depths(self) -> Literal["any", "this"] | None:
        """At which depths of a fold in part its proof holds: at any, or at this one; None where none is folded so."""
        if self.spread != "part-folded":
            return None
        return "any" if len(self.result.marker.problem.to_prove.bands) == 1 else "this"  # the cloth opened out, or not

    @property
    def at_least(self) -> float:
        """The bound as it is shown, mm: the marker's own length where it is proved that none is shorter.

        The bound itself is then less by what the check lets pass (`nesting.tolerance`), which no print shows.
        """
        return self.result.marker.length if self.is_proved else self.result.bound

    @property
    def is_shortest_within(self) -> float | None:
        """How much shorter a marker in this spread may be at the most, mm, where that is next to nothing."""
        could_be = self.result.marker.length - self.at_least
        return could_be if could_be <= WITHIN else None

    @property
    def buys_least(self) -> bool:
        """Whether it is proved that no layout in this spread needs less cloth to be bought, whatever the price.

        That no marker is shorter, but for the tolerance of the check, would not do: a step may lie in between.
        What is bought beyond the need for a lower price proves nothing: it is left out on both sides.
        """
        return self.least.enough >= self.purchase.enough

    @property
    def costs_least(self) -> bool | None:
        """Whether it is proved that no layout in this spread makes this cloth cost less; None without a price."""
        least = self.offer.cost(self.least.buy)
        return None if self.cost is None or least is None else least >= self.cost

    @property
    def less_needs(self) -> float | None:
        """How long the marker may be at the most for less to be enough, mm; None where that is proved impossible."""
        if self.buys_least:
            return None
        problem = self.result.marker.problem
        return PurchaseAims(self.offer, problem.lengths, problem.repeat is not None)(self.result.marker.length)

    def summary(self, units: UnitsAsked = Units.INCHES) -> str:
        """Aligned lines for a person: what to buy, how it is laid, and how far from the best possible that is."""
        written, marker = units_asked(units), self.result.marker
        return aligned(
            (
                ("buy", f"{self.purchase.text} of {self.offer.name}{_for_price(self)}"),
                ("laid", self.spread),
                ("length", format_need(marker.length, written)),
                ("density", percent_reached(marker.density)),
                ("at least", f"{format_bound(self.at_least, written)} ({self.result.bound_held})"),
            )
        )

    @property
    def kilograms(self) -> float | None:
        """Weight of what is bought, where the cloth's own is known."""
        return self.offer.kilograms(self.purchase.buy)

    @property
    def usual_extra(self) -> float:
        """What is usually allowed for a pattern, mm: a repeat for each larger piece (sewing blogs, 2010 and 2011)."""
        matched = {item.piece.name for item in self.result.marker.problem.items if item.piece and item.piece.match}
        return len(matched) * self.offer.repeat_along


@dataclass(frozen=True)
class RibAnswer:
    """One rib offered: how the bands are cut of it, and what to buy.

    `purchase` is None for strips, which are bought by number.
    """

    offer: RibOffer
    plan: RibPlan
    purchase: Purchase | None
    cost: Decimal | None

    @property
    def text(self) -> str:
        """What to buy, in words."""
        if self.purchase is not None:
            return self.purchase.text
        return f"{self.plan.count} {self.offer.step}{'' if self.plan.count == 1 else 's'}"

    def summary(self, units: UnitsAsked = Units.INCHES) -> str:
        """Aligned lines for a person: what to buy, and how often bands are joined."""
        units_asked(units)
        joins = f"{self.plan.joins}{', as few as can be' if self.plan.fewest_joins else ''}"
        return aligned((("buy", f"{self.text} of {self.offer.name}{_for_price(self)}"), ("joins", joins)))


@dataclass(frozen=True)
class Refusal:
    """An offer that will not do, and why."""

    offer: FabricOffer | RibOffer
    reason: str
    cause: RefusalCause = field(default_factory=RefusalCause)

    def summary(self, units: UnitsAsked = Units.INCHES) -> str:
        """A line for a person: why it will not do."""
        units_asked(units)
        return f"{self.offer.name} will not do: {self.reason}"


def _for_price(answer: FabricPlan | RibAnswer) -> str:
    price = answer.offer.price
    return "" if price is None or answer.cost is None else f" for {price.write(answer.cost)}"


def purchase_of(offer: FabricOffer, problem: Problem, length: float) -> Purchase:
    """What to buy of a cloth for a marker of a problem that is so long, mm."""
    return offer.purchase(length, problem.lengths, on_pattern=problem.repeat is not None)
