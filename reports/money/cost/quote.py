"""The quote: what a customer is offered, by colour and size."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from typing import TYPE_CHECKING

from reports.money.cost.breakeven import break_even
from reports.money.cost.item import sizes_of
from reports.money.price import write_money

if TYPE_CHECKING:
    from collections.abc import Mapping

    from reports.money.cost.pricing import PriceRule
    from reports.money.cost.sheet import RunCost

    Counts = Mapping[tuple[str, str], int]
    """How many garments there are, by colour and size."""

TO_FILL_IN = ("quote number", "date", "from", "to", "delivery", "valid until", "payment")
"""What is left open: only the maker can know it."""

TAX_NOTICE = "Tax is worked out at the rate that was given: your local law decides whether it is due, and which rate."
"""Told to the maker; a customer reads the rate alone."""


QuoteRow = tuple[str, str, str, str, str]
"""Colour, size, number, each, amount."""


@dataclass(frozen=True)
class QuoteLine:
    """So many garments of a colour and size, at a price each."""

    colour: str
    size: str
    number: int
    each: Decimal

    @property
    def amount(self) -> Decimal:
        """Money for all of them, without tax."""
        return self.number * self.each


@dataclass(frozen=True)
class Quote:
    """What is offered: lines, and what they come to without and with tax.

    Parameters
    ----------
    lines
        What is billed: garments ordered, and no more of them than are made.
    over
        Garments made beyond the order, by colour and size: stock, which no one is billed for.
    short
        Garments ordered that are not made, and not billed.
    filled
        What is known of `TO_FILL_IN`.
    lines_by
        What the lines differ in beside size: the heading of their first column.
    by_size
        Whether lines name their size: on a quote for one client that is the client.
    examples
        Prices and rates that it follows from and that nobody has confirmed: while there are any, it is no quote to
        send, and says so.
    """

    title: str
    lines: tuple[QuoteLine, ...]
    rule: PriceRule
    over: Counts = field(default_factory=dict)
    short: Counts = field(default_factory=dict)
    examples: tuple[str, ...] = ()
    lines_by: str = "colour"
    filled: Mapping[str, str] = field(default_factory=dict)
    by_size: bool = True

    @property
    def garments(self) -> int:
        """How many garments there are."""
        return sum(line.number for line in self.lines)

    @property
    def total(self) -> Decimal:
        """Without tax."""
        return sum((line.amount for line in self.lines), Decimal("0.00"))

    @property
    def after(self) -> list[tuple[str, Decimal]]:
        """Charges on it, such as freight: name and money."""
        return [(charge.title, charge.on(self.total)) for charge in self.rule.after]

    @property
    def to_pay(self) -> Decimal:
        """Garments and charges on them, without tax."""
        return self.total + sum((money for _, money in self.after), Decimal(0))

    @property
    def tax(self) -> Decimal:
        """Tax on what is to pay, rounded once."""
        return self.rule.tax_on(self.to_pay)

    @property
    def notices(self) -> tuple[str, ...]:
        """What stands at its foot: the rate of a second currency, if there is one. What the maker must know is not."""
        second = self.rule.second
        return (f"Totals in {second.said(self.rule.currency)}",) if second else ()

    def rows(self) -> list[QuoteRow]:
        """The lines in words, under their headings."""
        size = "size" if self.by_size else ""
        return [
            (self.lines_by, size, "number", "each", "amount"),
            *(
                (one.colour, one.size if size else "", str(one.number), f"{one.each:.2f}", f"{one.amount:.2f}")
                for one in self.lines
            ),
        ]

    def sums(self) -> list[QuoteRow]:
        """What stands below the lines: the total, and tax apart."""
        total, both = (write_money(money, self.rule.currency) for money in (self.to_pay, self.to_pay + self.tax))
        rows: list[QuoteRow] = []
        if self.after:
            rows.append(("garments", "", str(self.garments), "", f"{self.total:.2f}"))
            rows += [(name, "", "", "", f"{money:.2f}") for name, money in self.after]
        rows.append(("total without tax", "", "" if self.after else str(self.garments), "", total))
        rows += self._in_second("total without tax", self.to_pay)
        if not self.rule.tax:
            return [*rows, ("tax is not included", "", "", "", "")]
        rows.append((f"tax, {self.rule.tax.normalize():f} %", "", "", "", f"{self.tax:.2f}"))
        return [*rows, ("total with tax", "", "", "", both), *self._in_second("total with tax", self.to_pay + self.tax)]

    def _in_second(self, name: str, money: Decimal) -> list[QuoteRow]:
        second = self.rule.second
        return [(f"{name}, in {second.currency}", "", "", "", second.written(money))] if second else []


def sold_to_cover(cost: RunCost, quote: Quote) -> int | None:
    """How many of the garments billed must be sold for a run to be paid for; None if all of them are not enough.

    What is made beyond the order is paid for and kept as stock: nobody has asked for it, so it brings in nothing here.
    """
    return break_even(cost.run.total, ((line.each, line.number) for line in quote.lines))


def make_quote(title: str, cost: RunCost, rule: PriceRule, ordered: Counts | None = None) -> Quote:
    """The quote for a run, at wholesale prices: one for all sizes, or one for each size.

    Parameters
    ----------
    ordered
        Garments ordered, by colour and size; by default all that are made.
    """
    made = {kind: int(number) for kind, number in cost.quantities.items()}
    wanted = made if ordered is None else {kind: int(number) for kind, number in ordered.items()}
    sizes = sizes_of(cost.quantities)
    sheets = {size: cost.sizes[size] if rule.by_size else cost.garment for size in sizes}
    each = {size: rule.prices(sheet.total).wholesale for size, sheet in sheets.items()}
    billed = {kind: min(number, wanted.get(kind, 0)) for kind, number in made.items()}
    lines = tuple(QuoteLine(colour, size, number, each[size]) for (colour, size), number in billed.items() if number)
    over = {kind: number - billed[kind] for kind, number in made.items() if number > billed[kind]}
    short = {kind: number - billed.get(kind, 0) for kind, number in wanted.items() if number > billed.get(kind, 0)}
    return Quote(title, lines, rule, over, short)
