"""One garment of each size and the mean of all, as formulas: cost line by line, and the prices below it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.book.buying import sum_by_size
from reports.book.costs import CostColumn, SheetAmounts, add_charges
from reports.book.formula import cents, if_planned, steps_up
from reports.book.goods import GarmentNeed
from reports.book.lines import NO_PRICE
from reports.book.looks import money_format, words, worked
from reports.money.cost.words import ROUNDING
from reports.sheets.living import NUMBER, WORDS, LiveCell, LiveSheet, kind_key, size_key

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from decimal import Decimal

    from reports.book.goods import LiveGood
    from reports.book.lines import LiveLine
    from reports.book.making import LiveMaking
    from reports.money.cost.pricing import Prices

MONEY = "#,##0.000000"


def share_out(making: LiveMaking, inputs: LiveSheet, buying: LiveSheet) -> None:
    """Add to the buying list what a garment of each size takes of cloth and rib, in money."""
    goods = [good for good in making.goods if good.taken]
    if not goods:
        return
    differs = inputs.of("differs")
    buying.heading("Shares: what a garment takes, at the cost of all that is bought")
    buying.heads("what", "colours", "all", *making.sizes)
    for good in goods:
        buying.put(0, words(good.what))
        buying.put(1, words(", ".join(good.colours)))
        need, cost, buy = (buying.of(f"{good.key}.{name}") for name in ("need", "cost", "buy"))
        shares: dict[str, float] = {}
        for i, size in enumerate(making.sizes, 3):
            taken, plies = inputs.of(size_key(f"{good.key}.taken", size)), inputs.of(f"{good.key}.plies")
            shares[size] = _share(good, size)
            formula = f"ROUND({taken}*{need}/{plies}*{cost}/{buy},6)"
            cell = worked(shares[size], if_planned(differs, formula), MONEY)
            buying.put(i, cell, size_key(f"{good.key}.share", size))
        whole = sum(shares[s] * n for (c, s), n in making.cut.items() if c in good.colours)
        total = _by_size(making, inputs, buying, good)
        buying.put(2, worked(whole, if_planned(differs, total), NUMBER), f"{good.key}.shares")
        buying.row += 1


def _by_size(making: LiveMaking, inputs: LiveSheet, buying: LiveSheet, good: LiveGood) -> str:
    return sum_by_size(inputs, making, lambda size: buying.of(size_key(f"{good.key}.share", size)), good.colours)


def _share(good: LiveGood, size: str) -> float:
    plies = good.need if isinstance(good.need, float) else getattr(good.need, "plies", good.needed)
    return round(good.taken.get(size, 0.0) * good.needed / plies * float(good.cost or 0) / good.buy, 6)


def garment_sheet(
    making: LiveMaking, inputs: LiveSheet, buying: LiveSheet, run: LiveSheet, lines: Sequence[LiveLine]
) -> LiveSheet:
    """One garment in each size, and the mean of all."""
    assert making.cost is not None
    cost, sizes = making.cost, [size for size in making.sizes if size in making.cost.sizes]
    sheet = LiveSheet("One garment", [36, 14, *[12] * (len(sizes) + 1)], frozen=(3, 1))
    sheet.put(0, LiveCell(f"{making.title}: cost of one garment", "title"))
    sheet.row = 2
    sheet.heads("what", "for", *sizes, "mean of all")
    groups: dict[tuple[str, str, str], list[tuple[int, LiveLine]]] = {}
    for number, line in enumerate(lines):
        groups.setdefault((line.what, line.part, line.measure), []).append((number, line))
    columns = [CostColumn(i, cost.sizes[size], size_key("size", size)) for i, size in enumerate(sizes, 2)]
    columns.append(CostColumn(len(sizes) + 2, cost.garment, "mean"))
    first, money, differs = sheet.row, money_format(making.currency), inputs.of("differs")
    by_column = dict(zip((one.column for one in columns), (*sizes, ""), strict=True))
    for (what, part, measure), group in groups.items():
        sheet.put(0, worked(what, group[0][1].name, WORDS) if group[0][1].name else words(what))
        sheet.put(1, words(part))
        for one in columns:
            size = by_column[one.column]
            borne = (_portion(making, inputs, buying, run.of(f"line.{n}"), line, size) for n, line in group)
            formula = cents(f"({'+'.join(borne)})")
            value: Decimal | str = SheetAmounts(one.sheet).take(what, part, measure)[0]
            if making.choices:
                paid = run.of(f"line.{group[0][0]}")
                formula = f'IF(ISNUMBER({paid}),{formula},"{NO_PRICE}")'
                value = NO_PRICE if group[0][1].may_lack else value
            if any(line.is_planned for _, line in group):
                formula = if_planned(differs, formula)
            sheet.put(one.column, worked(value, formula, money))
        sheet.row += 1
    mean = cents(f"{run.of('run.total')}/{inputs.of('cut.all')}")
    add_charges(sheet, making, inputs, columns, first, mean)
    _prices(sheet, making, inputs, columns)
    sheet.row += 1
    sheet.notes(ROUNDING)
    return sheet


def _portion(making: LiveMaking, inputs: LiveSheet, buying: LiveSheet, amount: str, line: LiveLine, size: str) -> str:
    """What a garment bears of a line of the run: of a size, or of all (`size` is empty), not rounded."""
    if line.paid is None or not size:
        return f"{amount}/{inputs.of('cut.all')}"
    good = line.paid.good
    if isinstance(good.need, GarmentNeed):
        share, whole = inputs.of(size_key(f"{good.key}.amount", size)), buying.of(f"{good.key}.need")
    else:
        share, whole = buying.of(size_key(f"{good.key}.share", size)), buying.of(f"{good.key}.shares")
    if good.colours and not set(making.colours) <= set(good.colours):
        some = "+".join(inputs.of(kind_key("cut", c, size)) for c in making.colours if c in good.colours) or "0"
        every = inputs.of(size_key("cut.all", size))
        share = f"IF({every}=0,0,{share}*({some})/{every})"
    return f"IF({whole}=0,0,{amount}*{share}/{whole})"


def _prices(sheet: LiveSheet, making: LiveMaking, inputs: LiveSheet, columns: Sequence[CostColumn]) -> None:
    """Prices, what is left of them, and tax beside them."""
    assert making.quote is not None
    rule, pricing = making.quote.rule, making.pricing
    some = columns if rule.by_size else columns[-1:]
    prices = [rule.prices(one.sheet.total) for one in some]
    money, differs = money_format(making.currency), inputs.of("differs")

    def row(text: str, key: str, number: str, each: Callable[[str, Prices], tuple[Decimal | str, str]]) -> None:
        sheet.put(0, words(text))
        for one, price in zip(some, prices, strict=True):
            value, formula = each(one.key, price)
            sheet.put(one.column, worked(value, if_planned(differs, formula), number), f"{one.key}.{key}")
        sheet.row += 1

    def rated(before: str, given: str, base: str) -> Callable[[str, Prices], tuple[Decimal | str, str]]:
        def each(column: str, price: Prices) -> tuple[Decimal | str, str]:
            value = price.wholesale if given == "wholesale" else price.retail
            return value or 0, _price(making, inputs, before, given, sheet.of(f"{column}.{base}"))  # type: ignore[return-value]

        return each

    row("wholesale price", "wholesale", money, rated("", "wholesale", "total"))

    def left(column: str, price: Prices) -> tuple[Decimal | str, str]:
        cost, asked = sheet.of(f"{column}.total"), sheet.of(f"{column}.wholesale")
        return price.margin, f"IF({asked}=0,0,ROUND(100*({asked}-{cost})/{asked},1))"

    row("left of it, %", "left", "0.0", left)
    shown = "wholesale"
    if rule.retail is not None:
        row("retail price", "retail", money, rated("retail_", "retail", "wholesale"))
        shown = "retail"

    def taxed(column: str, price: Prices) -> tuple[Decimal | str, str]:
        asked = price.wholesale if price.retail is None else price.retail
        return rule.tax_on(asked), cents(f"{sheet.of(f'{column}.{shown}')}*{inputs.of('pricing.tax')}/100")

    row(f"tax on the {shown} price, if it is due", "tax", money, taxed)
    assert pricing is not None


def _price(making: LiveMaking, inputs: LiveSheet, before: str, given: str, base: str) -> str:
    """A price: as given, or by markup or margin, in whole steps."""
    if f"pricing.{given}" in inputs.places:
        return cents(inputs.of(f"pricing.{given}"))
    margin = f"pricing.{before}margin"
    if margin in inputs.places:
        asked = f"{base}/(1-{inputs.of(margin)}/100)"
    else:
        asked = f"{base}*(1+{inputs.of(f'pricing.{before}markup')}/100)"
    step = inputs.of("pricing.price_step")
    return f"ROUND({steps_up(asked, step)}*{step},2)"
