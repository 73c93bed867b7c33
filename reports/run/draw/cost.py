"""The cost of a garment as pictures: by part, and over the number made."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, NamedTuple

from reports.draw.head import Head
from reports.draw.kit.plot import Axis, Plot
from reports.draw.kit.sheet import BLACK, GREY, LEADING, MARGIN, PAGE_HEIGHT, PAGE_WIDTH, new_page, text_width, wrap
from reports.money.cost.words import ROUNDING, break_even_line, curve_lines
from reports.money.price import write_money

if TYPE_CHECKING:
    from collections.abc import Mapping

    from matplotlib.figure import Figure

    from pieces.units import Units
    from reports.draw.kit.sheet import Sheet
    from reports.money.cost.curve import CostCurve
    from reports.money.cost.item import CostPart
    from reports.money.cost.pricing import PriceRule
    from reports.money.cost.quote import Quote
    from reports.money.cost.sheet import RunCost

TEXT, WIDE = 7.0, PAGE_WIDTH - 2 * MARGIN
LABELS, BELOW, TITLE = 46.0, 30.0, 18.0
"""Room left of a plot, below and above it, points."""

HIGHEST = 2
"""The plot ends at so many times the least unit cost, or above the price: or one or two garments would fill it."""

NUMBER = 8.0
"""Lettering of the numbers of steps, points."""

BOUGHT = 120.0
"""Height of the plot of what is bought, points."""

COUNT_STEPS = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0)
MONEY_STEPS = tuple(step * 10.0**power for power in range(-2, 6) for step in (1, 2, 5))

ROW, BAR, NAMES, LARGE = 30.0, 18.0, 76.0, 10.0
LEAST = 7.0
"""Nothing in the table of sizes is set smaller, points: sizes stand below one another instead."""

LONGEST_BAR = WIDE - NAMES - 100


def unit_cost_page(curve: CostCurve, rule: PriceRule, price: Decimal, units: Units, title: str) -> Figure:
    """Draw the unit cost over the number made, its steps numbered; what makes each of them is said below.

    Parameters
    ----------
    price
        What a garment brings in: drawn across.
    """
    pays = curve.pays_from(price)
    last = curve.points[-1].garments
    at = f"at {write_money(price, rule.currency)} it pays"
    answer = f"{at} from {pays} on" if pays else f"{at} not even in a run of {last}"
    head = Head(f"{title}: cost of one garment", "Over the number made, in the order's mix of sizes.", (answer,), WIDE)
    column = (WIDE - 16) / 2
    lines = [line for words in curve_lines(curve, rule.currency, units) for line in wrap(words, TEXT, column)]
    rows = (len(lines) + 1) // 2
    foot = rows * TEXT * LEADING + 6
    around = 2 * MARGIN + head.height + TITLE + BELOW + foot
    figure, page = new_page(max(PAGE_HEIGHT, around + 320))
    height = page.ax.get_ylim()[1]
    head.draw(page, height - MARGIN)
    low, tall = MARGIN + foot + BELOW, height - around
    x = Axis.over([0.0, float(last)], COUNT_STEPS, 20)
    _draw_curve(page, curve, price, Frame(x, low + BOUGHT + TITLE + 14, tall - BOUGHT - TITLE - 14))
    _draw_bought(page, curve, Frame(x, low, BOUGHT))
    for i, line in enumerate(lines):
        left = MARGIN + (i // rows) * (column + 16)
        page.text(left, MARGIN + foot - (i % rows + 1) * TEXT * LEADING, line, TEXT)
    return figure


class Frame(NamedTuple):
    """Where a plot goes: the numbers along its lower edge, where that is on the page, and its height, points."""

    x: Axis
    low: float
    tall: float


def _draw_curve(page: Sheet, curve: CostCurve, price: Decimal, frame: Frame) -> None:
    x, low, tall = frame
    most = max(HIGHEST * min(point.unit for point in curve.points), price * Decimal("1.2"))
    shown = [point for point in curve.points if point.unit <= most] or list(curve.points)
    money = [float(point.unit) for point in shown] + [float(price)]
    plot = Plot(page, MARGIN + LABELS, low, WIDE - LABELS, tall, x, Axis.over(money, MONEY_STEPS, 10))
    first = curve.points[0]
    above = "" if shown[0] is first else f"; {first.garments} alone: {first.unit:.2f}, above the plot"
    plot.frame(None, lambda y: f"{y:g}", f"Cost of one garment{above}")
    edge, up = plot.at(x.low, float(price))
    page.line([(edge, up), (edge + plot.wide, up)], 0.9, colour=GREY)
    page.text(edge + plot.wide - 3, up + 3, f"wholesale price {price:.2f}", TEXT, side="right")
    across, _ = plot.at(float(curve.ordered), plot.y.low)
    if curve.ordered <= x.high:
        page.line([(across, low), (across, low + tall)], 0.9, style=(0, (5, 3)), colour=GREY)
        page.text(across + 3, low + 4, f"this order: {curve.ordered}", TEXT)
    page.line([plot.at(point.garments, float(point.unit)) for point in shown], 1.5)
    _draw_numbers(plot, curve, {point.garments: float(point.unit) for point in shown})


def _draw_bought(page: Sheet, curve: CostCurve, frame: Frame) -> None:
    """What is bought for one garment, where the steps come from, on a scale of its own."""
    known = {
        point.garments: float(sum(bought.cost for bought in point.bought)) / point.garments for point in curve.points
    }
    x, low, tall = frame
    low_end = min(known.values())
    shown = {number: money for number, money in known.items() if money <= 2 * low_end}
    plot = Plot(page, MARGIN + LABELS, low, WIDE - LABELS, tall, x, Axis.over(list(shown.values()), MONEY_STEPS, 5))
    plot.frame(lambda n: f"{n:g}", lambda y: f"{y:g}", "Of it, what is bought: cloth, rib, trims")
    page.text(plot.left + plot.wide / 2, low - 24, "garments made", TEXT, side="center")
    page.line([plot.at(number, money) for number, money in shown.items()], 1.2)
    _draw_numbers(plot, curve, shown)


def _draw_numbers(plot: Plot, curve: CostCurve, known: Mapping[int, float]) -> None:
    """A dot at each step, and its number below it, or above it on a peak; none that would stand on another."""
    drawn: list[tuple[float, float, float]] = []
    for number, step in enumerate(curve.steps, 1):
        if step.garments not in known:
            continue
        across, high = plot.at(step.garments, known[step.garments])
        plot.dot(step.garments, known[step.garments])
        right, left = across - 2, across - 3 - text_width(str(number), NUMBER, True)
        for base in sorted((high - 11, high + 5), reverse=step.change > 0):
            apart = all(left >= r or right <= x or abs(base - y) >= NUMBER for x, r, y in drawn)
            if apart and base > plot.low:
                plot.page.text(right, base, str(number), NUMBER, bold=True, side="right")
                drawn.append((left, right, base))
                break


def parts_page(cost: RunCost, quote: Quote, title: str) -> Figure:
    """Draw what a garment costs, a bar for each part, and below it each size with its prices."""
    rule = quote.rule
    prices = rule.prices(cost.garment.total)
    answer = f"{write_money(cost.garment.total, rule.currency)}, to sell at {_money(prices.wholesale, rule)}"
    head = Head(
        f"{title}: what a garment costs",
        f"The mean of {cost.garments} garments; shares are of the cost. Tax is in none of it.",
        (answer,),
        WIDE,
    )
    parts = cost.garment.by_part()
    cells = _legible(_size_cells(cost, rule))
    foot = [line for words in (break_even_line(cost, quote), ROUNDING) for line in wrap(words, TEXT, WIDE)]
    row = LARGE * LEADING + 4
    needed = 2 * MARGIN + head.height + (len(parts) + 1) * ROW + (len(cells) + 1) * row + len(foot) * TEXT * LEADING
    figure, page = new_page(max(PAGE_HEIGHT, needed + 30))
    top = page.ax.get_ylim()[1] - MARGIN
    head.draw(page, top)
    top = _draw_bars(page, parts, cost.garment.total, top - head.height - 6)
    _draw_cells(page, cells, top - 16, row)
    for i, line in enumerate(reversed(foot)):
        page.text(MARGIN, MARGIN + i * TEXT * LEADING, line, TEXT)
    return figure


def _draw_bars(page: Sheet, parts: dict[CostPart, Decimal], total: Decimal, top: float) -> float:
    longest = max(parts.values(), default=Decimal(0)) or Decimal(1)
    for i, (part, amount) in enumerate(parts.items()):
        low = top - (i + 1) * ROW
        right = MARGIN + NAMES + LONGEST_BAR * float(amount / longest)
        corners = [(MARGIN + NAMES, low), (right, low), (right, low + BAR), (MARGIN + NAMES, low + BAR)]
        page.area(corners, "0.75")
        page.line(corners, 0.6, colour=BLACK, closed=True)
        page.text(MARGIN + NAMES - 6, low + 4, part, LARGE, side="right")
        share = f"{float(amount / total):.1%}" if total else ""
        page.text(right + 6, low + 4, f"{amount:.2f}   {share}", LARGE)
    return top - len(parts) * ROW


def _size_cells(cost: RunCost, rule: PriceRule) -> list[tuple[str, ...]]:
    """Sizes across; cost and prices down."""
    sheets = [*cost.sizes.values(), cost.garment]
    if len(sheets) == 2:
        sheets = sheets[1:]
    prices = [rule.prices((sheet if rule.by_size else cost.garment).total) for sheet in sheets]
    rows = [
        ("", *([*cost.sizes, "mean"] if len(sheets) > 1 else ["mean"])),
        ("cost", *(f"{sheet.total:.2f}" for sheet in sheets)),
        ("wholesale", *(f"{price.wholesale:.2f}" for price in prices)),
    ]
    if rule.retail is not None:
        rows.append(("retail", *(f"{price.retail:.2f}" for price in prices)))
    return rows


def _legible(cells: list[tuple[str, ...]]) -> list[tuple[str, ...]]:
    """The same with sizes down where so many, or names so long, would be set too small across."""
    widest = max(text_width(words, LARGE, True) for line in cells for words in line[1:])
    too_small = LARGE * ((WIDE - NAMES) / (len(cells[0]) - 1) - 4) < LEAST * widest
    return [tuple(line) for line in zip(*cells, strict=True)] if too_small else cells


def _draw_cells(page: Sheet, cells: list[tuple[str, ...]], top: float, row: float) -> None:
    number = len(cells[0]) - 1
    names = max(NAMES, *(text_width(line[0], LARGE) + 12 for line in cells))
    widest = max(text_width(words, LARGE, True) for line in cells for words in line[1:])
    column = min(max(70.0, widest + 10), (WIDE - names) / number)
    size = LARGE * min(1.0, (column - 4) / widest)
    for i, (name, *line) in enumerate(cells):
        base = top - (i + 1) * row
        page.text(MARGIN + names - 6, base + 4, name, LARGE, bold=not i, side="right")
        for j, words in enumerate(line):
            page.text(MARGIN + names + (j + 1) * column - 3, base + 4, words, size, bold=not i, side="right")
        page.line([(MARGIN + names, base), (MARGIN + names + number * column, base)], 0.3, colour=GREY)


def _money(amount: Decimal, rule: PriceRule) -> str:
    return write_money(amount, rule.currency)
