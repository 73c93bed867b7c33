"""What is bought, as the living workbook works it out: the need, how it is sold, and what came of it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping
    from decimal import Decimal

    from reports.money.cost.item import CostPart


@dataclass(frozen=True)
class ClothNeed:
    """Length of cloth: of all plies, what splices and a pattern take besides, then shrinkage and margin, percent.

    There is no `shrinkage` where cloth shrinks after it is cut: pieces are then larger.
    """

    plies: float
    other: float
    shrinkage: float | None
    margin: float


@dataclass(frozen=True)
class GarmentNeed:
    """What a garment of each size takes, as an input; 0 where it takes none."""

    amounts: Mapping[str, float]


@dataclass(frozen=True)
class LiveBreak:
    """A lower price, and from which quantity on it holds; what would be bought for it, and the cost of more."""

    key: str
    least: float
    rate: float | Decimal
    buy: float
    cost: Decimal | None


@dataclass(frozen=True, eq=False)
class LiveGood:
    """Something to buy, in `unit` of so many mm (`size`); 1 where it is counted.

    Parameters
    ----------
    key
        Of its entry in the file, such as ``"fabric.0"``.
    what, part, supplier, colours
        Its name, what it is for, where it is bought, and the colours of garment that it is for.
    need
        A number is fixed by the plan.
    rate, per
        The price; None where none is given. It is for each `per`, of which a unit has `weight`.
    by_step
        Whether the price is for a whole step, such as a reel.
    step
        It is sold in whole steps; None: as it is needed, or what is counted in whole numbers.
    minimum
        Least that is sold; None: no such rule.
    needed, enough, buy, held, cost
        What came of it: need, the least that is sold and enough, what is bought, the price that holds, and money.
    currency
        Of its price; None where it has none.
    taken
        What the plan gives a garment of each size, in the same unit as all plies.
    rest
        What is still to buy, in words, and its cost, where some of it may be there already; None: all of it.
    """

    key: str
    what: str
    part: str
    cost_part: CostPart
    supplier: str
    unit: str
    size: float
    per: str
    rate: float | Decimal | None
    need: ClothNeed | GarmentNeed | float
    needed: float
    enough: float
    buy: float
    held: float | Decimal | None
    cost: Decimal | None
    step: float | None = None
    minimum: float | None = None
    weight: float = 1.0
    by_step: bool = False
    breaks: tuple[LiveBreak, ...] = ()
    colours: tuple[str, ...] = ()
    taken: Mapping[str, float] = field(default_factory=dict)
    currency: str | None = None
    rest: tuple[str, Decimal | None] | None = None

    @property
    def is_planned(self) -> bool:
        """Whether its need rests on the plan."""
        return not isinstance(self.need, GarmentNeed)
