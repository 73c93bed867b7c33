"""The cost of other quantities: an estimate that takes cloth and rib for each garment as the plan has them."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from pieces.units import whole_steps
from reports.book.costs import NOTHING, CostColumn, SheetAmounts, add_charges
from reports.book.formula import TINY, cents, if_planned
from reports.book.looks import money_format, typed, words, worked
from reports.money.cost.item import titled
from reports.money.price import to_cents
from reports.sheets.living import LENGTH, WHOLE, LiveCell, LiveSheet

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from reports.book.buying import BuyingFormulas
    from reports.book.goods import LiveGood
    from reports.book.lines import LiveLine
    from reports.book.making import LiveMaking

NOTE = (
    "An estimate: cloth and rib for each garment are as in the plan, and the mix of colours and sizes is the same."
    " A few garments alone need more each. Plan again for the true lengths."
)


def quantities_sheet(making: LiveMaking, write: BuyingFormulas, run: LiveSheet, lines: Sequence[LiveLine]) -> LiveSheet:
    """What so many garments cost, for numbers that may be changed."""
    numbers = list(making.others)
    sheet = LiveSheet("Quantities", [36, 14, *[12] * len(numbers)], frozen=(4, 1))
    sheet.put(0, LiveCell(f"{making.title}: cost of other quantities", "title"))
    sheet.row = 1
    sheet.notes(NOTE)
    sheet.row = 3
    sheet.heads("garments made", "")
    sheet.row -= 1
    columns = {column: number for column, number in enumerate(numbers, 2)}
    for column, number in columns.items():
        sheet.put(column, typed(number, "whole", WHOLE), f"number.{column}")
    sheet.row += 1
    _enough(sheet, making, write, columns)
    sheet.heading("Cost of all")
    first, money, differs = sheet.row, money_format(making.currency), write.differs
    amounts = {column: SheetAmounts(making.others[number]) for column, number in columns.items()}
    for at, line in enumerate(lines):
        sheet.put(0, words(titled(line.what, line.paid.good.colours if line.paid else ())))
        sheet.called[sheet.row] = line.what
        sheet.put(1, words(line.part))
        for column in columns:
            value = NOTHING if line.is_nothing else amounts[column].take(line.what, line.part)[0]
            formula = _line(sheet, write, run.of(f"line.{at}"), line, column)
            sheet.put(column, worked(value, if_planned(differs, formula), money))
        sheet.row += 1
    _totals(sheet, making, write, run, first)
    return sheet


def _enough(sheet: LiveSheet, making: LiveMaking, write: BuyingFormulas, columns: Mapping[int, int]) -> None:
    """The least that is sold and enough of each good."""
    sheet.heading("Enough, in whole steps")
    for good in making.goods:
        number = WHOLE if good.size == 1 else LENGTH
        sheet.put(0, words(titled(good.what, good.colours)))
        sheet.put(1, words(good.unit))
        for column, garments in columns.items():
            need = f"{write.sheet.of(f'{good.key}.need')}*{sheet.of(f'number.{column}')}/{write.inputs.of('cut.all')}"
            formula = if_planned(write.differs, write.enough(good, need))
            value = enough_of(good, garments / making.garments)
            sheet.put(column, worked(value, formula, number), f"{good.key}.{column}")
        sheet.row += 1


def enough_of(good: LiveGood, scale: float) -> float:
    """The least that is sold and enough, of a need that is so many times what it is."""
    need = max(good.needed * scale, good.minimum or 0.0) if good.needed else 0.0
    step = good.step or (1.0 if good.size == 1 else 0.0)
    return whole_steps(need * good.size, step * good.size) * step if step else need


def _line(sheet: LiveSheet, write: BuyingFormulas, amount: str, line: LiveLine, column: int) -> str:
    number = sheet.of(f"number.{column}")
    if line.paid is None:
        if line.each:
            return cents(f"{line.each}*{number}")
        return cents(f"{amount}*{number}/{write.inputs.of('cut.all')}") if line.grows else amount
    good = line.paid.good
    enough = sheet.of(f"{good.key}.{column}")
    offers = [cents(write.cost(good, enough, f"({write.price(good, enough)})"))]
    for one in good.breaks:
        more = write.sheet.of(f"{one.key}.buy")
        cost = cents(write.cost(good, more, f"({write.price(good, more)})"))
        offers.append(f"IF({write.inputs.of(f'{one.key}.from')}>{enough}+{TINY},{cost},1E+99)")
    return f"MIN({','.join(offers)})" if good.breaks else offers[0]


def _totals(sheet: LiveSheet, making: LiveMaking, write: BuyingFormulas, run: LiveSheet, first: int) -> None:
    """Overhead, waste and the total, and the cost of one garment; of the number planned what the cost sheet says."""
    columns = [CostColumn(column, of, f"number.{column}") for column, of in enumerate(making.others.values(), 2)]
    add_charges(sheet, making, write.inputs, columns, first)
    money = money_format(making.currency)
    sheet.put(0, LiveCell("one garment", "total"))
    for one, number in zip(columns, making.others, strict=True):
        asked, total, own = sheet.of(one.key), sheet.of(f"{one.key}.total"), run.of("run.total")
        assert making.cost is not None
        cost = making.cost.run.total if number == making.garments else one.sheet.total
        each = cents(f"IF({asked}={write.inputs.of('cut.all')},{own},{total})/{asked}")
        cell = worked(to_cents(Fraction(cost) / number), if_planned(write.differs, each), money, "total")
        sheet.put(one.column, cell, f"{one.key}.unit")
    sheet.row += 1
