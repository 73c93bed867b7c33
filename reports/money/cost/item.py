"""What a run is charged with, and which garment bears how much of it."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import TYPE_CHECKING, Literal, Protocol, TypeAlias

from reports.errors import CostError

if TYPE_CHECKING:
    from collections.abc import Mapping
    from decimal import Decimal

    from nesting.lays.order import ColourSize
    from reports.money.price import Price

CostPart = Literal[
    "cloth",
    "rib",
    "lining",
    "interfacing",
    "trims",
    "cutting",
    "sewing",
    "finishing",
    "other",
    "set-up",
    "overhead",
    "waste",
    "rounding",
]
"""What a cost is for, in the order of a cost sheet; rounding is on that of the mean garment alone."""

CostMeasure = Literal["mm", "piece", "min", ""]

Each: TypeAlias = "Mapping[ColourSize, Fraction]"
"""How much a garment of each kind takes."""

Quantities: TypeAlias = "Mapping[ColourSize, int | Fraction]"
"""How many garments of each kind are made; fractions of one only on a curve over quantities."""


@dataclass(frozen=True)
class CostItem:
    """A cost of a run.

    Parameters
    ----------
    what, part
        What it is, and what it is for.
    run
        Money for the whole run.
    shares
        What each kind of garment bears of it, in any unit; None: all garments bear the same.
    each, measure
        How much a garment of each kind takes, and in which unit; nothing where there is no such quantity.
    price
        The price of a unit, where there is one.
    basis
        How the cost comes about, in words.
    fixed
        Whether it is the same for any number of garments.
    colours
        The colours of garment that bear it; none: all.
    """

    what: str
    part: CostPart
    run: Decimal
    shares: Each | None = None
    each: Each = field(default_factory=dict)
    measure: CostMeasure = ""
    price: Price | None = None
    basis: str = ""
    fixed: bool = False
    colours: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if self.run < 0:
            raise CostError(f"'{self.what}' costs {self.run}: a cost is 0 or more")

    def portion(self, kinds: Quantities, quantities: Quantities) -> Fraction:
        """Money that some of the run's garments bear; all of them together bear all of it."""
        shares = self.shares
        whole = total(quantities) if shares is None else weigh(shares, quantities)
        if not whole:  # nothing is used up of what was bought all the same: all bear it alike
            shares, whole = None, total(quantities)
        part = total(kinds) if shares is None else weigh(shares, kinds)
        return Fraction(self.run) * part / whole


class Source(Protocol):
    """Where costs come from."""

    def items(self, quantities: Quantities) -> tuple[CostItem, ...]:
        """What a run of so many garments is charged with."""
        ...


def titled(what: str, colours: tuple[str, ...]) -> str:
    """A name in full, with the colours it is for."""
    return ", ".join((what, *colours))


def total(quantities: Quantities) -> Fraction:
    """How many garments there are."""
    return Fraction(sum(quantities.values(), Fraction(0)))


def weigh(each: Each, quantities: Quantities) -> Fraction:
    """How much all garments take."""
    return sum((each.get(kind, Fraction(0)) * number for kind, number in quantities.items()), Fraction(0))


def sizes_of(quantities: Quantities) -> list[str]:
    """The sizes made, in the order in which they are given."""
    return list(dict.fromkeys(size for (_, size), number in quantities.items() if number))
