"""What is made, and everything that its cost follows from: what the living workbook is built of."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nesting.lays.order import ColourSize
    from reports.ask.order.order import Cutting
    from reports.ask.pricing import Operation, Pricing
    from reports.book.goods import LiveGood
    from reports.money.cost.quote import Quote
    from reports.money.cost.sheet import CostSheet, RunCost


@dataclass(frozen=True)
class LiveChoice:
    """Offers for one part of a garment, by their place among the goods: one is chosen, the cheapest if all cost."""

    part: str
    goods: tuple[int, ...]
    chosen: int
    by_cost: bool


@dataclass(frozen=True)
class LiveCutting:
    """Minutes of spreading and cutting, and what the plan has of each: lays, metres, plies, metres of ply, markers."""

    minutes: Cutting
    lays: int
    metres: float
    plies: int
    ply_metres: float
    markers: int


@dataclass(frozen=True, eq=False)
class LiveMaking:
    """All of it.

    Parameters
    ----------
    cut, ordered
        Garments by colour and size; what is `ordered` is billed, None: all that are cut.
    choices
        Offers that stand side by side; none: every good is bought.
    cost, quote
        What it costs and is offered at; None where no cost is asked for.
    others
        What each line costs for other numbers of garments, where that is worked out.
    lines, quote_lines
        What to know of the figures, and of the quote.
    """

    title: str
    currency: str
    sizes: tuple[str, ...]
    colours: tuple[str, ...]
    cut: Mapping[ColourSize, int]
    goods: tuple[LiveGood, ...]
    pricing: Pricing
    operations: tuple[Operation, ...] = ()
    ordered: Mapping[ColourSize, int] | None = None
    choices: tuple[LiveChoice, ...] = ()
    cutting: LiveCutting | None = None
    cost: RunCost | None = None
    quote: Quote | None = None
    others: Mapping[int, CostSheet] = field(default_factory=dict)
    lines: tuple[str, ...] = ()
    quote_lines: tuple[str, ...] = ()

    def may_be(self, kind: ColourSize) -> bool:
        """Whether there are garments of a colour and size, or may be; a client has no colour but their own."""
        return kind in (self.cut if self.ordered is None else self.ordered)

    @property
    def garments(self) -> int:
        """How many garments are cut."""
        return sum(self.cut.values())
