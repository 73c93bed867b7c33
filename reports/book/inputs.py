"""The sheet of inputs: all that may be changed, and what the plan gives, in one place."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.book.goods import ClothNeed, GarmentNeed
from reports.book.looks import fixed, rate_format, typed, words, worked
from reports.sheets.living import LENGTH, PLAIN, WHOLE, LiveCell, LiveSheet, kind_key, size_key, span

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nesting.lays.order import ColourSize
    from reports.ask.pricing import Operation
    from reports.book.making import LiveMaking
    from reports.money.price import Price
    from reports.sheets.living import Limit

LEGEND: tuple[LiveCell, ...] = (
    LiveCell("Input: change it, and all that rests on it follows.", "input", limit=None),
    LiveCell("Worked out by a formula: leave it.", "worked"),
    LiveCell("From the plan: no formula finds it, so it stays. Plan again to change it.", "plan"),
)


def inputs_sheet(making: LiveMaking, results: int) -> LiveSheet:
    """All inputs; so many rows are kept free for the results, which other sheets work out."""
    sheet = LiveSheet("Inputs", [40, *[14] * max(9, len(making.sizes) + 4)], frozen=(2, 1))
    sheet.put(0, LiveCell(f"{making.title}: inputs", "title"))
    sheet.row = 2
    for cell in LEGEND:
        sheet.put(0, LiveCell(cell.value, cell.role, limit=cell.limit), "")
        sheet.row += 1
    sheet.heading("Results")
    sheet.places["results"] = sheet.row, 0
    sheet.row += results
    sheet.heading("What follows, and what does not")
    sheet.notes(*making.lines)
    _garments(sheet, making)
    _goods(sheet, making)
    _breaks(sheet, making)
    _taken(sheet, making)
    _amounts(sheet, making)
    if making.cost is not None:
        _pay(sheet, making)
        _work(sheet, making)
        _cutting(sheet, making)
        _pricing(sheet, making)
    return sheet


def _garments(sheet: LiveSheet, making: LiveMaking) -> None:
    if making.ordered is not None:
        _matrix(sheet, making, "ordered", "Garments ordered: they are billed", making.ordered, is_input=True)
    _matrix(sheet, making, "cut", "Garments to be cut", making.cut, is_input=True)
    _matrix(sheet, making, "planned", "Garments cut in the plan", making.cut, is_input=False)
    corners = [(making.colours[0], making.sizes[0]), (making.colours[-1], making.sizes[-1])]
    now, then = (span(*(sheet.of(kind_key(name, c, s)) for c, s in corners)) for name in ("cut", "planned"))
    sheet.put(0, words("numbers to cut that differ from the plan"))
    sheet.put(1, worked(0, f"SUMPRODUCT(({now}<>{then})*1)", WHOLE), "differs")
    sheet.row += 1


def _matrix(
    sheet: LiveSheet, making: LiveMaking, name: str, title: str, numbers: Mapping[ColourSize, int], *, is_input: bool
) -> None:
    """Garments by colour and size, with sums of sizes and of all."""
    sheet.heading(title)
    sheet.heads("colour" if making.ordered is not None else "of", *making.sizes, "all")
    last = len(making.sizes)
    for colour in making.colours:
        sheet.put(0, words(colour))
        row = [numbers.get((colour, size), 0) for size in making.sizes]
        for i, (size, number) in enumerate(zip(making.sizes, row, strict=True), 1):
            open_to = is_input and making.may_be((colour, size))
            cell = typed(number, "whole", WHOLE) if open_to else fixed(number, WHOLE)
            sheet.put(i, cell, kind_key(name, colour, size))
        total = f"SUM({span(sheet.at(sheet.row, 1), sheet.at(sheet.row, last))})"
        sheet.put(last + 1, worked(sum(row), total, WHOLE))
        sheet.row += 1
    sheet.put(0, LiveCell("all", "total"))
    first = sheet.row - len(making.colours)
    of_all = {size_key(f"{name}.all", size): (size,) for size in making.sizes} | {f"{name}.all": making.sizes}
    for i, (key, sizes) in enumerate(of_all.items(), 1):
        total = f"SUM({span(sheet.at(first, i), sheet.at(sheet.row - 1, i))})"
        value = sum(numbers.get((colour, size), 0) for colour in making.colours for size in sizes)
        sheet.put(i, worked(value, total, WHOLE, "total"), key)
    sheet.row += 1


def _goods(sheet: LiveSheet, making: LiveMaking) -> None:
    sheet.heading("Prices, and how it is sold")
    how = "price", "per", "steps of", "least sold", "in", "shrinkage, %", "margin, %"
    sheet.heads("what", "for", "colours", *how)
    for good in making.goods:
        price = rate_format(making.currency if good.currency is None else good.currency)
        for i, text in enumerate((good.what, good.part, ", ".join(good.colours))):
            sheet.put(i, words(text))
        sheet.put(3, typed("" if good.rate is None else good.rate, "from 0", price), f"{good.key}.price")
        sheet.put(4, words(good.per))
        if good.step is not None:
            sheet.put(5, typed(good.step, "above 0"), f"{good.key}.step")
        if good.minimum is not None:
            sheet.put(6, typed(good.minimum, "from 0"), f"{good.key}.minimum")
        sheet.put(7, words(good.unit))
        if isinstance(good.need, ClothNeed):
            if good.need.shrinkage is not None:
                sheet.put(8, typed(good.need.shrinkage, "below 100"), f"{good.key}.shrinkage")
            sheet.put(9, typed(good.need.margin, "from 0"), f"{good.key}.margin")
        sheet.row += 1


def _breaks(sheet: LiveSheet, making: LiveMaking) -> None:
    """Lower prices, of each good from least to most."""
    if not any(good.breaks for good in making.goods):
        return
    sheet.heading("Lower prices for more: keep each good's lines in rising order")
    sheet.heads("what", "from", "in", "price", "per")
    for good in making.goods:
        price = rate_format(making.currency if good.currency is None else good.currency)
        for one in good.breaks:
            sheet.put(0, words(good.what))
            sheet.put(1, typed(one.least, "above 0"), f"{one.key}.from")
            sheet.put(2, words(good.unit))
            sheet.put(3, typed(one.rate, "from 0", price), f"{one.key}.price")
            sheet.put(4, words(good.per))
            sheet.row += 1


def _taken(sheet: LiveSheet, making: LiveMaking) -> None:
    """What the plan takes, which no formula finds."""
    planned = [good for good in making.goods if not isinstance(good.need, GarmentNeed)]
    in_sizes = making.sizes if any(good.taken for good in planned) else ()
    sheet.heading(f"What the plan takes{', and of it a garment of each size' if in_sizes else ''}")
    sheet.heads("what", "colours", "all", "splice etc.", "in", *in_sizes)
    for good in planned:
        sheet.put(0, words(good.what))
        sheet.put(1, words(", ".join(good.colours)))
        cloth = good.need if isinstance(good.need, ClothNeed) else None
        number = WHOLE if good.size == 1 else LENGTH
        sheet.put(2, fixed(cloth.plies if cloth else good.needed, number), f"{good.key}.plies")
        if cloth:
            sheet.put(3, fixed(cloth.other, LENGTH), f"{good.key}.other")
        sheet.put(4, words(good.unit))
        for i, size in enumerate(making.sizes, 5):
            if good.taken:
                sheet.put(i, fixed(good.taken.get(size, 0.0), LENGTH), size_key(f"{good.key}.taken", size))
        sheet.row += 1


def _amounts(sheet: LiveSheet, making: LiveMaking) -> None:
    """What a garment of each size takes of what is bought by the garment."""
    needs = [(good, good.need) for good in making.goods if isinstance(good.need, GarmentNeed)]
    if not needs:
        return
    sheet.heading("Trims of a garment of each size")
    sheet.heads("what", "colours", "in", *making.sizes)
    for good, need in needs:
        for i, text in enumerate((good.what, ", ".join(good.colours), good.unit)):
            sheet.put(i, words(text))
        for i, size in enumerate(making.sizes, 3):
            sheet.put(i, typed(need.amounts.get(size, 0.0), "from 0"), size_key(f"{good.key}.amount", size))
        sheet.row += 1


def _pay(sheet: LiveSheet, making: LiveMaking) -> None:
    pricing = making.pricing
    rates = {"rate": pricing.rate} if pricing.rate else {}
    rates |= {f"grades.{grade}": rate for grade, rate in pricing.grades.items()}
    sheet.heading("Pay")
    for name, rate in rates.items():
        grade = name.partition(".")[2]
        sheet.put(0, words(f"pay, {grade}" if grade else "usual pay"))
        _rate(sheet, 1, rate, making.currency, f"pricing.{name}")
        sheet.row += 1
    sheet.put(0, words("efficiency, %"))
    sheet.put(1, typed(pricing.efficiency, "above 0"), "pricing.efficiency")
    sheet.row += 1


def _rate(sheet: LiveSheet, column: int, rate: Price, currency: str, key: str, formula: str = "") -> None:
    """Pay, and what it is for; worked out where it is another cell's."""
    number = rate_format(currency)
    cell = worked(rate.amount, formula, number) if formula else typed(rate.amount, "from 0", number)
    sheet.put(column, cell, key)
    sheet.put(column + 1, words(f"/ {rate.unit}"))


def _work(sheet: LiveSheet, making: LiveMaking) -> None:
    if not making.operations:
        return
    sheet.heading("Work: minutes for each garment, and once")
    sheet.heads("operation", "for", "each, min", "once, min", "pay", "per")
    for number, operation in enumerate(making.operations):
        key = f"operation.{number}"
        sheet.put(0, words(operation.name))
        sheet.put(1, words(operation.part))
        sheet.put(2, typed(operation.minutes, "from 0"), f"{key}.minutes")
        if operation.set_up:
            sheet.put(3, typed(operation.set_up, "from 0"), f"{key}.set_up")
        _rate(sheet, 4, making.pricing.work(operation).rate, making.currency, f"{key}.rate", _pay_of(sheet, operation))
        sheet.row += 1


def _pay_of(sheet: LiveSheet, operation: Operation) -> str:
    """The cell of the pay that an operation shares with others; empty if it has pay of its own."""
    if operation.rate is not None:
        return ""
    return sheet.of("pricing.rate" if operation.grade is None else f"pricing.grades.{operation.grade}")


def _after(sheet: LiveSheet, making: LiveMaking) -> None:
    """What is charged beside the prices, and the rate of a second currency."""
    pricing = making.pricing
    for number, one in enumerate(pricing.after):
        key = f"pricing.after.{number}"
        if one.amount is None:
            sheet.put(0, words(f"{one.name}, % of what is billed"))
            sheet.put(1, typed(one.percent or 0.0, "from 0"), f"{key}.percent")
        else:
            sheet.put(0, words(f"{one.name}, for all"))
            sheet.put(1, typed(one.amount.amount, "from 0", rate_format(making.currency)), f"{key}.amount")
        sheet.row += 1
    if (second := pricing.second) is not None:
        sheet.put(0, words(f"{second.currency} for each unit of the prices, stated for {second.date.isoformat()}"))
        sheet.put(1, typed(second.rate, "above 0"), "pricing.second.rate")
        sheet.row += 1


CUTTING = {
    "marker_minutes": "each marker made",
    "lay_minutes": "each lay set up",
    "ply_minutes": "each ply spread",
    "spread_minutes": "each metre of ply spread",
    "cut_minutes": "each metre of lay cut along",
}


def _cutting(sheet: LiveSheet, making: LiveMaking) -> None:
    """Minutes of spreading and cutting, and how often the plan has each."""
    if (cutting := making.cutting) is None:
        return
    sheet.heading("Spreading and cutting")
    sheet.heads("for", "minutes", "in the plan")
    counts = (cutting.markers, cutting.lays, cutting.plies, cutting.ply_metres, cutting.metres)
    for (key, text), count in zip(CUTTING.items(), counts, strict=True):
        sheet.put(0, words(text))
        sheet.put(1, typed(getattr(cutting.minutes, key), "from 0"), f"cutting.{key}")
        sheet.put(2, fixed(count, WHOLE if isinstance(count, int) else LENGTH), f"plan.{key}")
        sheet.row += 1


def _pricing(sheet: LiveSheet, making: LiveMaking) -> None:
    pricing, money = making.pricing, rate_format(making.currency)
    if pricing.set_up:
        sheet.heading("Paid once")
        for name, amount in pricing.set_up.items():
            sheet.put(0, words(name))
            sheet.put(1, typed(amount.amount, "from 0", money), f"pricing.set_up.{name}")
            sheet.row += 1
    sheet.heading("From cost to price")
    for at, one in enumerate(pricing.line_charges):
        sheet.put(0, words(f"{one.name}, % of {' + '.join(one.on)}"))
        sheet.put(1, typed(one.percent, "from 0"), f"pricing.line_charges.{at}.percent")
        sheet.row += 1
    on = "all cost above it" if pricing.overhead_on == "cost" else "labour"
    lines: list[tuple[str, str, Limit, str]] = [
        (f"overhead, % of {on}", "overhead", "from 0", PLAIN),
        ("waste, % of all above it", "waste", "from 0", PLAIN),
    ]
    for before, what, base in (("", "wholesale", "cost"), ("retail_", "retail", "wholesale price")):
        lines += [
            (f"{what}: markup on the {base}, %", f"{before}markup", "from 0", PLAIN),
            (f"{what}: margin, % of the price", f"{before}margin", "below 100", PLAIN),
            (f"{what} price, as given", what, "from 0", money),
        ]
    lines += [("prices in whole steps of", "price_step", "above 0", money), ("tax, %", "tax", "from 0", PLAIN)]
    has_price = any(getattr(pricing, key) is not None for key in ("markup", "margin", "wholesale"))
    for text, key, limit, number in lines:
        value = 0.0 if key == "markup" and not has_price else getattr(pricing, key)
        if value is not None:
            sheet.put(0, words(text))
            sheet.put(1, typed(getattr(value, "amount", value), limit, number), f"pricing.{key}")
            sheet.row += 1
    _after(sheet, making)
