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
    money, last, differs = money_format(making.currency), sheet.row - 1, inputs.of("differs")
    parts = span(sheet.at(first, 1), sheet.at(last, 1))

    def above(column: int) -> str:
        return span(sheet.at(first, column), sheet.at(sheet.row - 1, column))

    for what, key in (("overhead", "overhead"), ("waste: made but not sold", "waste")):
        sheet.put(0, words(what))
        sheet.put(1, words(key))
        for one in columns:
            base = f"SUM({above(one.column)})"
            if key == "overhead" and making.pricing.overhead_on == "labour":
                some = span(sheet.at(first, one.column), sheet.at(last, one.column))
                base = "(" + "+".join(f'SUMIF({parts},"{part}",{some})' for part in LABOUR) + ")"
            amount = cents(f"{base}*{inputs.of(f'pricing.{key}')}/100")
            value = SheetAmounts(one.sheet).take(what, key)[0]
            sheet.put(one.column, worked(value, if_planned(differs, amount), money), f"{one.key}.{key}")
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
