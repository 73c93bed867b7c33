"""The living quote: what is billed, and how many garments must be sold for the run to be paid for."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from reports.book.formula import cents, if_planned, steps_up
from reports.book.looks import money_format, words, worked
from reports.money.cost.quote import sold_to_cover
from reports.money.examples import example_line
from reports.sheets.living import WHOLE, LiveCell, LiveSheet, kind_key, size_key, span

if TYPE_CHECKING:
    from reports.book.making import LiveMaking

NEVER = "never: all of them bring in less"


def quote_sheet(making: LiveMaking, inputs: LiveSheet, run: LiveSheet, garment: LiveSheet) -> LiveSheet:
    """What is billed by colour and size, and the quantity that pays for the run."""
    assert making.quote is not None
    quote = making.quote
    sheet = LiveSheet("Quote", [30, 18, *[12] * 8], frozen=(3, 1))
    sheet.put(0, LiveCell(f"{making.title}: what is billed", "title"))
    sheet.row = 2
    stock = ("to stock", "short") if making.ordered is not None else ()
    sheet.heads(quote.lines_by, "size", "number", "each", "amount", *stock)
    first = sheet.row
    for colour, size in _kinds(making):
        _line(sheet, making, inputs, garment, (colour, size))
    _sums(sheet, making, inputs, first)
    _break_even(sheet, making, inputs, run, first)
    sheet.row += 1
    sheet.notes(*([example_line(quote.examples)] if quote.examples else []), *making.quote_lines)
    return sheet


def _kinds(making: LiveMaking) -> list[tuple[str, str]]:
    """Colours and sizes that may be made or ordered."""
    every = [(colour, size) for colour in making.colours for size in making.sizes]
    return [kind for kind in every if making.may_be(kind)]


def _line(sheet: LiveSheet, making: LiveMaking, inputs: LiveSheet, garment: LiveSheet, kind: tuple[str, str]) -> None:
    assert making.quote is not None and making.cost is not None
    rule, money = making.quote.rule, money_format(making.currency)
    price = _each(making, kind[1])
    cut = inputs.of(kind_key("cut", *kind))
    made, wanted = making.cut.get(kind, 0), (making.ordered or making.cut).get(kind, 0)
    ordered = cut if making.ordered is None else inputs.of(kind_key("ordered", *kind))
    sheet.put(0, words(kind[0]))
    sheet.put(1, words(kind[1]))
    number, each = sheet.at(sheet.row, 2), sheet.at(sheet.row, 3)
    sheet.put(2, worked(min(made, wanted), f"MIN({cut},{ordered})", WHOLE))
    own = f"{size_key('size', kind[1]) if rule.by_size else 'mean'}.wholesale"
    asked = garment.of(own) if own in garment.places else "0"  # nothing is cut of a size: it has no price of its own
    sheet.put(3, worked(price, asked, money))
    formula = if_planned(inputs.of("differs"), f"ROUND({number}*{each},2)")
    sheet.put(4, worked(min(made, wanted) * price, formula, money))
    if making.ordered is not None:
        sheet.put(5, worked(max(0, made - wanted), f"MAX(0,{cut}-{ordered})", WHOLE))
        sheet.put(6, worked(max(0, wanted - made), f"MAX(0,{ordered}-{cut})", WHOLE))
    sheet.row += 1


def _each(making: LiveMaking, size: str) -> Decimal:
    """The price of a garment of a size; nothing where none is cut and each size has its own."""
    assert making.quote is not None and making.cost is not None
    rule, cost = making.quote.rule, making.cost
    own = cost.sizes.get(size) if rule.by_size else cost.garment
    return rule.prices(own.total).wholesale if own else Decimal("0.00")


def _sums(sheet: LiveSheet, making: LiveMaking, inputs: LiveSheet, first: int) -> None:
    """What the garments come to, charges beside them, the total, and tax apart."""
    assert making.quote is not None
    quote, money, differs = making.quote, money_format(making.currency), inputs.of("differs")
    last = sheet.row - 1
    sheet.put(0, LiveCell("garments", "total"))
    numbers = {2: quote.garments, 5: sum(quote.over.values()), 6: sum(quote.short.values())}
    for column, value in numbers.items():
        if column == 2 or making.ordered is not None:
            total = f"SUM({span(sheet.at(first, column), sheet.at(last, column))})"
            key = {2: "quote.garments", 5: "quote.over", 6: "quote.short"}[column]
            sheet.put(column, worked(value, total, WHOLE, "total"), key)
    total = f"ROUND(SUM({span(sheet.at(first, 4), sheet.at(last, 4))}),2)"
    sheet.put(4, worked(quote.total, if_planned(differs, total), money, "total"), "quote.total")
    sheet.row += 1
    _after(sheet, making, inputs)
    _total(sheet, making, inputs, "total without tax", quote.to_pay, "quote.to_pay")
    sheet.put(0, words("tax, if it is due"))
    tax = cents(f"{sheet.of('quote.to_pay')}*{inputs.of('pricing.tax')}/100")
    sheet.put(4, worked(quote.tax, if_planned(differs, tax), money), "quote.tax")
    sheet.row += 1
    _total(sheet, making, inputs, "total with tax", quote.to_pay + quote.tax, "quote.with_tax")


def _after(sheet: LiveSheet, making: LiveMaking, inputs: LiveSheet) -> None:
    """What is charged beside the prices."""
    assert making.quote is not None
    billed, money = sheet.of("quote.total"), money_format(making.currency)
    for number, one in enumerate(making.quote.rule.after):
        key = f"pricing.after.{number}"
        sheet.put(0, words(one.name))
        if one.amount is None:
            formula = cents(f"{billed}*{inputs.of(f'{key}.percent')}/100")
        else:
            formula = cents(inputs.of(f"{key}.amount"))
        value = one.on(making.quote.total)
        sheet.put(4, worked(value, if_planned(inputs.of("differs"), formula), money), f"quote.after.{number}")
        sheet.row += 1


def _total(sheet: LiveSheet, making: LiveMaking, inputs: LiveSheet, words_of: str, value: Decimal, key: str) -> None:
    """A total to pay, and the same in the second currency if there is one."""
    assert making.quote is not None
    rule, differs = making.quote.rule, inputs.of("differs")
    parts = [sheet.of("quote.total"), *(sheet.of(f"quote.after.{number}") for number in range(len(rule.after)))]
    if key == "quote.with_tax":
        parts = [sheet.of("quote.to_pay"), sheet.of("quote.tax")]
    sheet.put(0, LiveCell(words_of, "total"))
    total = if_planned(differs, f"ROUND({'+'.join(parts)},2)")
    sheet.put(4, worked(value, total, money_format(making.currency), "total"), key)
    sheet.row += 1
    if rule.second is not None:
        sheet.put(0, words(f"{words_of}, in {rule.second.currency}"))
        other = if_planned(differs, cents(f"{sheet.of(key)}*{inputs.of('pricing.second.rate')}"))
        sheet.put(4, worked(rule.second.of(value), other, money_format(rule.second.currency)), f"{key}.second")
        sheet.row += 1


def _break_even(sheet: LiveSheet, making: LiveMaking, inputs: LiveSheet, run: LiveSheet, first: int) -> None:
    """How many must be sold, the cheapest first: whichever are sold bring in no less."""
    assert making.quote is not None and making.cost is not None
    lines = _kinds(making)
    last, differs, money = first + len(lines) - 1, inputs.of("differs"), money_format(making.currency)
    numbers, prices = (span(sheet.at(first, i), sheet.at(last, i)) for i in (2, 3))
    cost = run.of("run.total")
    sheet.heading("Break-even: how many must be sold for all to be paid for")
    sheet.heads("", "size", "sold before", "brought in", "pays at")
    start = sheet.row
    told = _before(making)
    for i, (colour, size) in enumerate(lines):
        number, price = sheet.at(first + i, 2), sheet.at(first + i, 3)
        sheet.put(0, words(colour))
        sheet.put(1, words(size))
        before = f"(({prices}<{price})+({prices}={price})*(ROW({prices})<ROW({price})))"
        sheet.put(2, worked(told[i][0], if_planned(differs, f"SUMPRODUCT({before}*{numbers})"), WHOLE))
        brought = f"ROUND(SUMPRODUCT({before}*{numbers}*{prices}),2)"
        sheet.put(3, worked(told[i][1], if_planned(differs, brought), money))
        sold, left = sheet.at(sheet.row, 2), sheet.at(sheet.row, 3)
        needed = f"IF({price}>0,{steps_up(f'{cost}-{left}', f'MAX({price},0.01)')},0)"
        reached = f"AND({left}<{cost},ROUND({left}+{number}*{price},2)>={cost})"
        sheet.put(4, worked(told[i][2], if_planned(differs, f"IF({reached},{sold}+{needed},0)"), WHOLE))
        sheet.row += 1
    sheet.put(0, LiveCell("break-even", "total"))
    found = sold_to_cover(making.cost, making.quote)
    paying = span(sheet.at(start, 4), sheet.at(sheet.row - 1, 4))
    total = f'IF({sheet.of("quote.total")}<{cost},"{NEVER}",SUM({paying}))'
    value: int | str = NEVER if found is None else found
    sheet.put(4, worked(value, if_planned(differs, total), WHOLE, "total"), "break_even")
    sheet.row += 1


def _before(making: LiveMaking) -> list[tuple[int, Decimal, int]]:
    """Of each line: garments sold before it, what they bring in, and how many are then sold, where it pays for all."""
    from reports.money.cost.breakeven import break_even

    assert making.quote is not None and making.cost is not None
    cost, kinds = making.cost, _kinds(making)
    each = [_each(making, size) for _, size in kinds]
    numbers = [min(making.cut.get(kind, 0), (making.ordered or making.cut).get(kind, 0)) for kind in kinds]
    found = []
    for i, price in enumerate(each):
        earlier = [j for j, other in enumerate(each) if (other, j) < (price, i)]
        sold, brought = sum(numbers[j] for j in earlier), sum((numbers[j] * each[j] for j in earlier), 0 * price)
        reached = brought < cost.run.total <= brought + numbers[i] * price
        more = break_even(cost.run.total - brought, [(price, numbers[i])]) if reached else None
        found.append((sold, brought, sold + more if more is not None else 0))
    return found
