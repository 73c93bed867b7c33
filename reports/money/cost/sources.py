"""Where costs come from: materials as laid, things bought by the garment, work by the minute, single expenses."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

from reports.errors import CostError
from reports.money.cost.item import CostItem, titled, total, weigh
from reports.money.cost.tariff import exact
from reports.money.price import Price, to_cents

if TYPE_CHECKING:
    from collections.abc import Mapping

    from reports.money.cost.item import CostMeasure, CostPart, Each, Quantities
    from reports.money.cost.tariff import Bought, Tariff


@dataclass(frozen=True)
class MaterialUse:
    """A material of a run that is planned: what each size takes of it, and what all of it costs.

    Parameters
    ----------
    name, part
        What it is, and what it is for.
    per_size
        Money for what a garment of each size takes.
    run
        Money for all that is bought; what is bought beyond the garments' needs is borne in proportion to them.
    lengths
        Length that a garment of each size takes, mm, where it has one.
    colours
        The colours of garment it is used for; none: all.
    price
        The price of a unit, where there is one.
    """

    name: str
    part: CostPart
    per_size: Mapping[str, Decimal]
    run: Decimal
    lengths: Mapping[str, float] = field(default_factory=dict)
    colours: tuple[str, ...] = ()
    price: Price | None = None

    def items(self, quantities: Quantities) -> tuple[CostItem, ...]:
        """What the run is charged with.

        Raises
        ------
        CostError
            If a size has no cost, or a cost is less than 0.
        """
        kinds = [kind for kind in quantities if not self.colours or kind[0] in self.colours]
        for size in dict.fromkeys(size for _, size in kinds):
            if self.per_size.get(size, Decimal(-1)) < 0:
                got = self.per_size.get(size, "nothing")
                raise CostError(f"'{self.name}' needs a cost of 0 or more for a garment of size {size}, not {got}")
        shares = {kind: Fraction(self.per_size[kind[1]]) for kind in kinds}
        each = {kind: exact(self.lengths[kind[1]]) for kind in kinds if kind[1] in self.lengths}
        beyond = to_cents(Fraction(self.run) - weigh(shares, quantities))
        basis = f"of {self.run} in the run, {beyond} is bought beyond what the garments take" if beyond > 0 else ""
        measure: CostMeasure = "mm" if each else ""
        colours = self.colours
        return (CostItem(self.name, self.part, self.run, shares, each, measure, self.price, basis, colours=colours),)


@dataclass(frozen=True)
class Supply:
    """Something bought by what each garment takes of it: a trim, or cloth on a curve over quantities.

    Parameters
    ----------
    name, part
        What it is, and what it is for.
    each
        What a garment of each kind takes, mm or pieces.
    tariff
        How it is sold.
    measure
        The unit of `each`.
    colours
        The colours of garment it is used for; none: all.
    """

    name: str
    part: CostPart
    each: Each
    tariff: Tariff
    measure: CostMeasure = "piece"
    colours: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        """Its name in full, with the colours it is for."""
        return titled(self.name, self.colours)

    def buy(self, quantities: Quantities) -> Bought:
        """What to buy for so many garments; nothing if none of them takes any."""
        return self.tariff.buy(weigh(self.each, quantities))

    def items(self, quantities: Quantities) -> tuple[CostItem, ...]:
        """What the run is charged with."""
        bought = self.buy(quantities)
        return (
            CostItem(
                self.name,
                self.part,
                bought.cost,
                self.each,
                self.each,
                self.measure,
                bought.price,
                self._basis(bought),
                colours=self.colours,
            ),
        )

    def _basis(self, bought: Bought) -> str:
        beyond = to_cents(bought.price.exact(bought.quantity - bought.need))
        if beyond <= 0:
            return ""
        why = ": the lower price makes buying more cheaper" if bought.up_to_break else ""
        return f"of {bought.cost} in the run, {beyond} is bought beyond what the garments take{why}"


@dataclass(frozen=True)
class Work:
    """An operation: minutes for each garment, and minutes once a run.

    Parameters
    ----------
    name, part
        What is done, and what it is for.
    rate
        Pay for time.
    minutes, set_up
        For each garment, and once.
    efficiency
        Percent: work of 15 minutes is paid for 15 / efficiency.
    """

    name: str
    part: CostPart
    rate: Price
    minutes: Fraction
    set_up: Fraction = Fraction(0)
    efficiency: Fraction = Fraction(100)

    def paid(self, minutes: Fraction) -> Fraction:
        """Minutes paid for minutes of work."""
        return minutes * 100 / self.efficiency

    def items(self, quantities: Quantities) -> tuple[CostItem, ...]:
        """What the run is charged with: its work, and its set-up if there is any."""
        paid = self.paid(self.minutes)
        slow = f"{float(self.minutes):g} min of work at {float(self.efficiency):g} %" if self.efficiency != 100 else ""
        work = CostItem(
            self.name,
            self.part,
            self.rate.of(paid * total(quantities)),
            None,
            dict.fromkeys(quantities, paid),
            "min",
            self.rate,
            slow,
        )
        once = self.paid(self.set_up)
        basis = f"{float(once):g} min once, at {self.rate}"
        ready = CostItem(f"{self.name}, making ready", "set-up", self.rate.of(once), basis=basis, fixed=True)
        return (*((work,) if paid else ()), *((ready,) if once else ()))


@dataclass(frozen=True)
class Expense:
    """Money for the run as a whole: a pattern, or the cutting as it is planned.

    Parameters
    ----------
    garments
        For how many garments it is, if it grows with their number; 0: it is the same for any number.
    """

    name: str
    amount: Decimal
    part: CostPart = "set-up"
    garments: int = 0
    basis: str = ""

    def items(self, quantities: Quantities) -> tuple[CostItem, ...]:
        """What the run is charged with."""
        amount = Fraction(self.amount)
        run = to_cents(amount * total(quantities) / self.garments if self.garments else amount)
        return (CostItem(self.name, self.part, run, basis=self.basis, fixed=not self.garments),)
