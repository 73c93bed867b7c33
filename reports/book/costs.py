"""The living cost sheets: of all garments, and of one in each size; every line to the cent, totals of lines."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from reports.book.formula import cents, if_planned
from reports.book.lines import NO_PRICE
from reports.book.looks import money_format, rate_format, words, worked
from reports.money.cost.item import titled
from reports.sheets.living import LENGTH, NUMBER, WHOLE, WORDS, LiveCell, LiveSheet, span

if TYPE_CHECKING:
    from collections.abc import Sequence
    from fractions import Fraction

    from reports.book.lines import LiveLine
    from reports.book.making import LiveMaking
    from reports.money.cost.item import CostPart
    from reports.money.cost.sheet import CostSheet

NOTHING = Decimal("0.00")
LABOUR: tuple[CostPart, ...] = ("cutting", "sewing", "finishing")


class SheetAmounts:
    """What the program worked out for each line of a cost sheet, taken by name."""

    def __init__(self, sheet: CostSheet) -> None:
        self._by_name: defaultdict[tuple[str, str, str], list[tuple[Decimal, Fraction | None]]] = defaultdict(list)
        for line in sheet.lines:
            self._by_name[line.what, line.part, line.measure].append((line.amount, line.quantity))

    def take(self, what: str, part: str, measure: str = "") -> tuple[Decimal, Fraction | None]:
        """The next of that name; nothing where the sheet has no such line."""
        found = self._by_name.get((what, part, measure))
        return found.pop(0) if found else (NOTHING, None)


@dataclass(frozen=True)
class CostColumn:
    """A column of amounts: where it stands, the program's sheet of it, and its key."""

    column: int
    sheet: CostSheet
    key: str


@dataclass(frozen=True)
class ChargeRow:
    """A percentage of lines above it: the key of its input, and the parts and lines that bear it; none: all."""

    what: str
    part: CostPart
    key: str
    on: tuple[str, ...] = ()


def _charges(making: LiveMaking) -> list[ChargeRow]:
    """Percentages of lines, then overhead and waste, which stand there even where they are 0."""
    pricing = making.pricing
    found = [
        ChargeRow(one.name, "other", f"pricing.line_charges.{number}.percent", one.on)
        for number, one in enumerate(pricing.line_charges)
    ]
    labour = LABOUR if pricing.overhead_on == "labour" else ()
    found.append(ChargeRow("overhead", "overhead", "pricing.overhead", labour))
    return [*found, ChargeRow("waste: made but not sold", "waste", "pricing.waste")]


def bears(on: tuple[str, ...], what: str, part: str) -> bool:
    """Whether a line is one of those named."""
    return part in on or what in on


def cost_sheet(making: LiveMaking, inputs: LiveSheet, lines: Sequence[LiveLine]) -> LiveSheet:
    """The cost of all garments, line by line."""
    assert making.cost is not None
    sheet = LiveSheet("Cost sheet", [36, 14, 14, 10, 14, 10, 14], frozen=(3, 1))
    sheet.put(0, LiveCell(f"{making.title}: cost of all garments", "title"))
    sheet.row = 2
    sheet.heads("what", "for", "quantity", "in", "price", "per", "amount")
    money, amounts, differs = money_format(making.currency), SheetAmounts(making.cost.run), inputs.of("differs")
    first = sheet.row
    for number, line in enumerate(lines):
        what = titled(line.what, line.paid.good.colours if line.paid else ())
        amount, quantity = (NOTHING, None) if line.is_nothing else amounts.take(what, line.part, line.measure)
        sheet.put(0, worked(what, line.name, WORDS) if line.name else words(what))
        sheet.called[sheet.row] = line.what
        sheet.put(1, words(line.part))
        if line.quantity:
            size = line.paid.good.size if line.paid else 1.0
            looks = LENGTH if size != 1 else NUMBER if line.measure == "min" else WHOLE
            sheet.put(2, worked(float(quantity or 0) / size, line.quantity, looks), f"line.{number}.quantity")
            sheet.put(3, words(line.unit))
        if line.rate:
            sheet.put(4, worked(line.rate_value, line.rate, rate_format(making.currency)))
            sheet.put(5, words(line.per))
        formula = if_planned(differs, line.amount) if line.is_planned else line.amount
        sheet.put(6, worked(NO_PRICE if line.may_lack else amount, formula, money), f"line.{number}")
        sheet.row += 1
    add_charges(sheet, making, inputs, [CostColumn(6, making.cost.run, "run")], first)
    return sheet


def add_charges(
    sheet: LiveSheet,
    making: LiveMaking,
    inputs: LiveSheet,
    columns: Sequence[CostColumn],
    first: int,
    mean: str = "",
) -> None:
    """Overhead and waste below the lines from `first` on, and the total, in each column.

    Parameters
    ----------
    mean
        What the last column is brought to by a line of its own, where that is known.
    """
    money, differs = money_format(making.currency), inputs.of("differs")
    names = [sheet.called.get(row) or str(sheet.cells[row, 0].value) for row in range(first, sheet.row)]
    rows = [(row, name, str(sheet.cells[row, 1].value)) for row, name in enumerate(names, first)]
    taken = {one.column: SheetAmounts(one.sheet) for one in columns}

    def above(column: int) -> str:
        return span(sheet.at(first, column), sheet.at(sheet.row - 1, column))

    for charge in _charges(making):
        sheet.put(0, words(charge.what))
        sheet.put(1, words(charge.part))
        borne = [row for row, what, part in rows if bears(charge.on, what, part)]
        for one in columns:
            base = ",".join(sheet.at(row, one.column) for row in borne) if charge.on else above(one.column)
            amount = cents(f"SUM({base or 0})*{inputs.of(charge.key)}/100")
            value = taken[one.column].take(charge.what, charge.part)[0]
            sheet.put(one.column, worked(value, if_planned(differs, amount), money), f"{one.key}.{charge.key}")
        rows.append((sheet.row, charge.what, charge.part))
        sheet.row += 1
    if mean:
        sheet.put(0, words("to the cost of all"))
        sheet.put(1, words("rounding"))
        value = SheetAmounts(columns[-1].sheet).take("to the run's cost", "rounding")[0]
        formula = if_planned(differs, f"ROUND({mean}-SUM({above(columns[-1].column)}),2)")
        sheet.put(columns[-1].column, worked(value, formula, money), "mean.rounding")
        sheet.row += 1
    sheet.put(0, LiveCell("total", "total"))
    for one in columns:
        total = f"ROUND(SUM({above(one.column)}),2)"
        cell = worked(one.sheet.total, if_planned(differs, total), money, "total")
        sheet.put(one.column, cell, f"{one.key}.total")
    sheet.row += 1
