"""The living buying list: from the need of each good to what is bought and what that costs."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING

from reports.book.formula import TINY, cents, holding, if_planned, whole_units
from reports.book.goods import ClothNeed, GarmentNeed
from reports.book.looks import money_format, rate_format, words, worked
from reports.sheets.living import LENGTH, WHOLE, WORDS, LiveCell, LiveSheet, kind_key, size_key, span

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from reports.book.goods import LiveGood
    from reports.book.making import LiveChoice, LiveMaking
    from reports.money.cost.item import CostPart


@dataclass(frozen=True)
class LivePaid:
    """What is paid for one of the things bought: its name, the cell of its cost, and which good it is."""

    what: str
    part: CostPart
    cost: str
    good: LiveGood
    name: str = ""
    """The cell of the name, where it is worked out which good it is."""


class BuyingFormulas:
    """Formulas of need, steps, price and cost of a good, on the buying list."""

    def __init__(self, making: LiveMaking, inputs: LiveSheet, sheet: LiveSheet) -> None:
        self.making, self.inputs, self.sheet = making, inputs, sheet
        self.differs = inputs.of("differs")

    def cell(self, good: LiveGood, key: str) -> str:
        """The cell of an input of it."""
        return self.inputs.of(f"{good.key}.{key}")

    def held(self, good: LiveGood, formula: str) -> str:
        """A formula that holds while the quantities are those planned, where it rests on them."""
        return if_planned(self.differs, formula) if good.is_planned else formula

    def need(self, good: LiveGood) -> str:
        """What is used up."""
        if isinstance(good.need, ClothNeed):
            laid = f"({self.cell(good, 'plies')}+{self.cell(good, 'other')})"
            shrunk = "" if good.need.shrinkage is None else f"/(1-{self.cell(good, 'shrinkage')}/100)"
            return f"{laid}{shrunk}*(1+{self.cell(good, 'margin')}/100)"
        if isinstance(good.need, GarmentNeed):
            return sum_by_size(self.inputs, self.making, lambda s: self.cell(good, size_key("amount", s)), good.colours)
        return self.cell(good, "plies")

    def whole(self, good: LiveGood, quantity: str) -> str:
        """A quantity in whole steps."""
        if good.step is not None:
            return whole_units(quantity, self.cell(good, "step"), good.size)
        return whole_units(quantity, "1", 1.0) if good.size == 1 else quantity

    def cost(self, good: LiveGood, quantity: str, price: str) -> str:
        """What a quantity costs at a price, not rounded."""
        if good.by_step:
            return f"{quantity}/{self.cell(good, 'step')}*{price}"
        return f"{quantity}*{price}" if good.weight == 1 else f"{quantity}*{good.weight!r}*{price}"

    def enough(self, good: LiveGood, need: str) -> str:
        """The least that is sold and covers a need."""
        if good.minimum is None:
            return self.whole(good, need)
        bought = self.whole(good, f"MAX({need},{self.cell(good, 'minimum')})")
        return bought if isinstance(good.need, ClothNeed) else f"IF({need}=0,0,{bought})"

    def price(self, good: LiveGood, quantity: str) -> str:
        """The price that holds for a quantity."""
        breaks = [(self.inputs.of(f"{one.key}.from"), self.inputs.of(f"{one.key}.price")) for one in good.breaks]
        return holding(quantity, self.cell(good, "price"), breaks)


def sum_by_size(inputs: LiveSheet, making: LiveMaking, each: Callable[[str], str], colours: Sequence[str]) -> str:
    """What all garments of some colours take; `each` is the cell of what one of a size takes."""
    ends = making.sizes[0], making.sizes[-1]
    one = span(*map(each, ends))
    of_all = not colours or set(making.colours) <= set(colours)
    rows = [[kind_key("cut", colour, size) for size in ends] for colour in making.colours if colour in colours]
    if of_all:
        rows = [[size_key("cut.all", size) for size in ends]]
    return "+".join(f"SUMPRODUCT({one},{span(*map(inputs.of, row))})" for row in rows) or "0"


def buying_sheet(making: LiveMaking, inputs: LiveSheet) -> tuple[LiveSheet, tuple[LivePaid, ...]]:
    """The buying list, and what is paid for."""
    sheet = LiveSheet("Buying list", [36, 20, 18, *[12] * 11], frozen=(3, 1))
    write = BuyingFormulas(making, inputs, sheet)
    sheet.put(0, LiveCell(f"{making.title}: buying list", "title"))
    sheet.row = 2
    partly = any(good.rest for good in making.goods)
    asked, more = ("in all", ["still to buy", "costs"]) if partly else ("to buy", [])
    heads = "what", "for", "supplier", "need", "enough", asked, "left over", "in", "price", "per", "cost", *more
    sheet.heads(*heads)
    first = sheet.row
    for good in making.goods:
        _good(write, good)
    if not making.choices:
        _total(write, first, partly=partly)
    _lower_prices(write)
    if making.choices:
        return sheet, tuple(_chosen(write))
    return sheet, tuple(
        LivePaid(good.what, good.cost_part, sheet.of(f"{good.key}.cost"), good) for good in making.goods
    )


def _good(write: BuyingFormulas, good: LiveGood) -> None:
    sheet, number = write.sheet, WHOLE if good.size == 1 else LENGTH
    at = {name: sheet.at(sheet.row, i) for i, name in enumerate(("need", "enough", "buy"), 3)}
    currency = write.making.currency if good.currency is None else good.currency
    for i, text in enumerate((good.what, good.part, good.supplier)):
        sheet.put(i, words(text))
    sheet.put(3, worked(good.needed, write.held(good, write.need(good)), number), f"{good.key}.need")
    sheet.put(4, worked(good.enough, write.held(good, write.enough(good, at["need"])), number), f"{good.key}.enough")
    sheet.put(5, worked(good.buy, at["enough"], number), f"{good.key}.buy")
    left = f"ROUND({at['buy']}-{at['need']},6)"
    sheet.put(6, worked(max(0.0, round(good.buy - good.needed, 6)), write.held(good, f"MAX(0,{left})"), number))
    sheet.put(7, words(good.unit))
    price = write.price(good, at["buy"])
    none = f'{write.cell(good, "price")}=""'
    held = "" if good.held is None else good.held
    is_sure = good.rate is not None and not write.making.choices  # of several offers one may be left without a price
    wiped = "NA()" if is_sure else '""'
    asked = f"IF({none},{wiped},{price})"
    sheet.put(8, worked(held, write.held(good, asked), rate_format(currency)), f"{good.key}.held")
    sheet.put(9, words(good.per))
    paid = cents(write.cost(good, at["buy"], sheet.of(f"{good.key}.held")))
    asked = f"IF({none},{wiped},{paid})"
    cost = "" if good.cost is None else good.cost
    sheet.put(10, worked(cost, write.held(good, asked), money_format(currency)), f"{good.key}.cost")
    if good.rest:
        _rest(write, *good.rest)
    sheet.row += 1


def _rest(write: BuyingFormulas, words_of: str, cost: Decimal | None) -> None:
    """What is still to buy where some of it is there, as it was planned: it does not follow."""
    sheet = write.sheet
    sheet.put(11, LiveCell(words_of, "plan"))
    value = "" if cost is None else cost
    sheet.put(12, LiveCell(value, "plan", money_format(write.making.currency)))


def _more_for_less(write: BuyingFormulas, good: LiveGood, first: int, last: int) -> None:
    """Have more bought where one of the lines from `first` to `last` costs less."""
    buys, costs = (span(write.sheet.at(first, i), write.sheet.at(last, i)) for i in (5, 6))
    enough, place = write.sheet.of(f"{good.key}.enough"), write.sheet.places[f"{good.key}.buy"]
    least = cents(write.cost(good, enough, f"({write.price(good, enough)})"))
    more = f"INDEX({buys},MATCH(MIN({costs}),{costs},0))"
    bought = f"IF(COUNT({costs})=0,{enough},IF(MIN({costs})<{least}-0.001,{more},{enough}))"
    cell = write.sheet.cells[place]
    write.sheet.cells[place] = replace(cell, formula=write.held(good, bought))


def _total(write: BuyingFormulas, first: int, *, partly: bool) -> None:
    """The sum of all costs, and of those that are still to come."""
    sheet, goods = write.sheet, write.making.goods
    sheet.put(0, LiveCell("all", "total"))
    each = [(10, "bought", [good.cost for good in goods])]
    if partly:
        each.append((12, "rest", [good.rest[1] for good in goods if good.rest]))
    for column, key, all_costs in each:
        costs = span(sheet.at(first, column), sheet.at(sheet.row - 1, column))
        value = sum((cost or Decimal(0) for cost in all_costs), Decimal("0.00"))
        formula = if_planned(write.differs, f"ROUND(SUM({costs}),2)")
        sheet.put(column, worked(value, formula, money_format(write.making.currency), "total"), key)
    sheet.row += 1


def _lower_prices(write: BuyingFormulas) -> None:
    """What would be bought for each lower price that begins beyond what is enough."""
    sheet, making = write.sheet, write.making
    if not any(good.breaks for good in making.goods):
        return
    sheet.heading("More, where a lower price makes it cost less")
    sheet.heads("what", "for", "", "enough", "from", "would buy", "would cost", "in")
    for good in making.goods:
        number = WHOLE if good.size == 1 else LENGTH
        for one in good.breaks:
            enough, least = sheet.of(f"{good.key}.enough"), write.inputs.of(f"{one.key}.from")
            buy = sheet.at(sheet.row, 5)
            sheet.put(0, words(good.what))
            sheet.put(1, words(good.part))
            sheet.put(3, worked(good.enough, enough, number))
            sheet.put(4, worked(one.least, least, number))
            sheet.put(5, worked(one.buy, write.whole(good, least), number), f"{one.key}.buy")
            cost = cents(write.cost(good, buy, f"({write.price(good, buy)})"))
            told = write.held(good, f'IF({least}>{enough}+{TINY},{cost},"")')
            sheet.put(6, worked("" if one.cost is None else one.cost, told, money_format(making.currency)))
            sheet.put(7, words(good.unit))
            sheet.row += 1
        if good.breaks:
            _more_for_less(write, good, sheet.row - len(good.breaks), sheet.row - 1)


def _chosen(write: BuyingFormulas) -> Iterator[LivePaid]:
    """Of offers for one part the cheapest, where all of them have a cost in one currency; else the plan's."""
    making, sheet = write.making, write.sheet
    offered = {i for choice in making.choices for i in choice.goods}
    sheet.heading("Chosen of each")
    sheet.heads("for", "what", "", "", "", "", "", "", "", "", "cost")
    for choice in making.choices:
        yield _choice(write, choice)
    for i, good in enumerate(making.goods):
        if i not in offered:
            sheet.put(0, words(good.part))
            sheet.put(1, words(good.what))
            value = "" if good.cost is None else good.cost
            cost = sheet.of(f"{good.key}.cost")
            sheet.put(10, worked(value, cost, money_format(making.currency)), f"{good.key}.paid")
            sheet.row += 1
            yield LivePaid(good.what, good.cost_part, sheet.of(f"{good.key}.paid"), good)
    if len({good.currency for good in making.goods if good.currency is not None}) <= 1:
        _sum_of_chosen(write)


def _sum_of_chosen(write: BuyingFormulas) -> None:
    """What all that has a price costs together."""
    making, sheet = write.making, write.sheet
    offered = {i for choice in making.choices for i in choice.goods}
    chosen = [choice.chosen for choice in making.choices]
    number = len(chosen) + len(making.goods) - len(offered)
    costs = span(sheet.at(sheet.row - number, 10), sheet.at(sheet.row - 1, 10))
    alone = [i for i in range(len(making.goods)) if i not in offered]
    value = sum((making.goods[i].cost or Decimal(0) for i in (*chosen, *alone)), Decimal("0.00"))
    sheet.put(0, LiveCell("all that has a price", "total"))
    total = if_planned(write.differs, f"ROUND(SUM({costs}),2)")
    sheet.put(10, worked(value, total, money_format(making.currency), "total"), "bought")
    sheet.row += 1


def _choice(write: BuyingFormulas, choice: LiveChoice) -> LivePaid:
    making, sheet = write.making, write.sheet
    goods = [making.goods[i] for i in choice.goods]
    chosen = making.goods[choice.chosen]
    key = f"chosen.{choice.part}"
    currency = making.currency if chosen.currency is None else chosen.currency
    first, last = (sheet.places[f"{good.key}.cost"][0] for good in (goods[0], goods[-1]))
    names, costs = (span(sheet.at(first, column), sheet.at(last, column)) for column in (0, 10))
    at = choice.goods.index(choice.chosen) + 1
    found = f"IF(COUNT({costs})={len(goods)},MATCH(MIN({costs}),{costs},0),{at})" if choice.by_cost else str(at)
    sheet.put(0, words(choice.part))
    sheet.put(1, worked(chosen.what, f"INDEX({names},{found})", WORDS), f"{key}.name")
    value = "" if chosen.cost is None else chosen.cost
    paid = f"INDEX({costs},{found})"
    sheet.put(10, worked(value, if_planned(write.differs, paid), money_format(currency)), f"{key}.cost")
    sheet.row += 1
    return LivePaid(chosen.what, chosen.cost_part, sheet.of(f"{key}.cost"), chosen, sheet.of(f"{key}.name"))
