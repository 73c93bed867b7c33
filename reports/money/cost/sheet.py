"""The cost sheet: of one garment, of each size, and of the run.

Every line is rounded to the cent, halves up, and a total is the sum of its lines, so that a sheet can be added up by
hand. The mean garment costs what the run costs, divided by its garments, rounded once: a line of cents makes up for
what its other lines lost. Those lines times the number of garments may differ from the run by cents; the run is paid.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, get_args

from reports.errors import CostError
from reports.money.cost.item import CostPart, sizes_of, titled, total, weigh
from reports.money.price import to_cents

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from reports.money.cost.item import CostItem, CostMeasure, Quantities, Source
    from reports.money.price import Price

PARTS: tuple[CostPart, ...] = get_args(CostPart)


@dataclass(frozen=True)
class CostLine:
    """One line: what it is, how much of it, at what price, and the money.

    `quantity` is in mm, pieces or minutes, as `measure` says; None where there is none. `name` is what it is called
    without its colours, where `what` names those as well.
    """

    what: str
    part: CostPart
    amount: Decimal
    quantity: Fraction | None = None
    measure: CostMeasure = ""
    price: Price | None = None
    basis: str = ""
    name: str = ""


@dataclass(frozen=True)
class Charge:
    """A percentage of lines above it.

    Parameters
    ----------
    on
        The parts or lines that it is taken of, by name; none: all lines above it.
    """

    what: str
    part: CostPart
    percent: Decimal
    on: tuple[str, ...] = ()

    def line(self, lines: Iterable[CostLine]) -> CostLine:
        """The line below some lines."""
        base = sum((line.amount for line in lines if self._bears(line)), Decimal(0))
        of = " + ".join(self.on) if self.on else "all above"
        amount = to_cents(Fraction(base) * Fraction(self.percent) / 100)
        return CostLine(self.what, self.part, amount, basis=f"{self.percent.normalize():f} % of {base:.2f}, {of}")

    def _bears(self, line: CostLine) -> bool:
        """Whether a line is one of those it is taken of."""
        return not self.on or line.part in self.on or (line.name or line.what) in self.on


@dataclass(frozen=True)
class CostSheet:
    """Lines that add up."""

    title: str
    lines: tuple[CostLine, ...]

    @property
    def total(self) -> Decimal:
        """The sum of the lines."""
        return sum((line.amount for line in self.lines), Decimal("0.00"))

    def by_part(self) -> dict[CostPart, Decimal]:
        """Money for each part that has a line."""
        sums: dict[CostPart, Decimal] = {}
        for line in self.lines:
            sums[line.part] = sums.get(line.part, Decimal(0)) + line.amount
        return {part: sums[part] for part in PARTS if part in sums}


@dataclass(frozen=True)
class RunCost:
    """What a run costs.

    Parameters
    ----------
    run
        All of it.
    garment
        One garment, the mean of all.
    sizes
        One garment of each size, the mean of its colours.
    fixed
        Money that does not depend on the number of garments, with what the charges add to it.
    """

    quantities: Quantities
    run: CostSheet
    garment: CostSheet
    sizes: Mapping[str, CostSheet]
    fixed: Decimal

    @property
    def garments(self) -> int:
        """How many garments there are."""
        return int(total(self.quantities))

    @property
    def parts(self) -> dict[CostPart, list[Decimal]]:
        """Money for each part that any garment has: in each size, then in the mean garment."""
        sheets = [sheet.by_part() for sheet in (*self.sizes.values(), self.garment)]
        known = {part for sheet in (self.run.by_part(), *sheets) for part in sheet}
        return {part: [sheet.get(part, Decimal("0.00")) for sheet in sheets] for part in PARTS if part in known}


def add_up(title: str, lines: Iterable[CostLine], charges: Sequence[Charge]) -> CostSheet:
    """A sheet of lines, and charges below them in the order given."""
    done = sorted(lines, key=lambda line: PARTS.index(line.part))
    for charge in charges:
        done.append(charge.line(done))
    return CostSheet(title, tuple(done))


def cost_run(sources: Iterable[Source], quantities: Quantities, charges: Sequence[Charge]) -> RunCost:
    """Work out what a run costs.

    Parameters
    ----------
    sources
        Where its costs come from.
    quantities
        How many garments of each colour and size are made.
    charges
        Overhead, waste: percentages, in order.

    Raises
    ------
    CostError
        If there is no garment, or a cost that makes no sense.
    """
    if min(quantities.values(), default=0) < 0 or not total(quantities):
        raise CostError("a cost needs one garment or more, and none of less than 0: check the quantities ordered")
    items = [item for source in sources for item in source.items(quantities)]
    _require_lines(items, charges)
    fixed = add_up("", (_run_line(item, quantities) for item in items if item.fixed), charges)
    sizes = {}
    for size in sizes_of(quantities):
        some = {kind: number for kind, number in quantities.items() if kind[1] == size}
        sizes[size] = _garment(f"One garment, size {size}", items, some, quantities, charges)
    run = add_up("The run", (_run_line(item, quantities) for item in items), charges)
    mean = _garment("One garment, the mean of all", items, quantities, quantities, charges)
    return RunCost(quantities, run, _shared_out(run, mean, int(total(quantities))), sizes, fixed.total)


def _require_lines(items: Iterable[CostItem], charges: Sequence[Charge]) -> None:
    """Make sure that the parts and lines that charges are taken of are there."""
    lines = list(dict.fromkeys(item.what for item in items))
    for charge in charges:
        for name in charge.on:
            if name not in PARTS and name not in lines:
                raise CostError(
                    f"[pricing] line_charges '{charge.what}': there is no '{name}' to take it of: name a part"
                    f" ({', '.join(PARTS[:-3])}) or a line ({', '.join(lines)})"
                )


def _shared_out(run: CostSheet, mean: CostSheet, garments: int) -> CostSheet:
    """The sheet of the mean garment, with a line that makes its total the run's, divided by its garments."""
    lost = to_cents(Fraction(run.total) / garments) - mean.total
    if not lost:
        return mean
    basis = f"{run.total:.2f} for {garments} garments, less the lines above, each rounded to the cent"
    return replace(mean, lines=(*mean.lines, CostLine("to the run's cost", "rounding", lost, basis=basis)))


def _garment(
    title: str,
    items: Iterable[CostItem],
    some: Mapping[tuple[str, str], int | Fraction],
    quantities: Quantities,
    charges: Sequence[Charge],
) -> CostSheet:
    one = {kind: Fraction(number) / total(some) for kind, number in some.items()}
    alike: dict[tuple[str, str, str], list[CostItem]] = {}
    for item in items:
        alike.setdefault((item.what, item.part, item.measure), []).append(item)
    lines = (_line(group, one, quantities) for group in alike.values())
    return add_up(title, (line for line in lines if line.amount or line.quantity), charges)


def _run_line(item: CostItem, quantities: Quantities) -> CostLine:
    return replace(_line([item], quantities, quantities), what=titled(item.what, item.colours), name=item.what)


def _line(group: Sequence[CostItem], some: Quantities, quantities: Quantities) -> CostLine:
    """One line for what has one name: for a garment that is the mean of colours, all of these together."""
    first = group[0]
    amount = to_cents(sum((item.portion(some, quantities) for item in group), Fraction(0)))
    quantity = sum((weigh(item.each, some) for item in group), Fraction(0)) if first.each else None
    price = first.price if len({item.price for item in group}) == 1 else None
    basis = "; ".join(item.basis for item in group if item.basis)
    return CostLine(first.what, first.part, amount, quantity, first.measure, price, basis)
