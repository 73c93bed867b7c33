"""The curve of marker length over width of cloth, with its steps, the cost, and the published table beside it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.units import INCH, YARD, Units, format_fraction, format_need, format_size
from reports.draw.head import Head
from reports.draw.kit.plot import Axis, Plot
from reports.draw.kit.sheet import BLACK, GREY, LEADING, MARGIN, PAGE_HEIGHT, PAGE_WIDTH, new_page, text_width, wrap
from reports.widths.words import curve_lines

if TYPE_CHECKING:
    from collections.abc import Callable

    from matplotlib.figure import Figure

    from reports.draw.kit.sheet import Sheet
    from reports.widths.widths import WidthCurve

TEXT = 7.0
LABELS = 46.0
"""Room left of a plot for the words at its ticks, points."""

BELOW = 16.0
"""Room below a plot for the words at its ticks, points."""

TITLE = 16.0
"""Room above a plot for its title, points."""

COST = 84.0
"""Height of the plot of cost, points."""

LEAST = 150.0
"""Least height of the plot of lengths, points; the page grows instead."""

WIDTH_STEPS = {
    Units.INCHES: tuple(n * INCH for n in (1, 2, 3, 6, 12, 24)),
    Units.METRIC: (10.0, 20.0, 50.0, 100.0, 200.0, 500.0),
}
LENGTH_STEPS = {
    Units.INCHES: tuple(n * YARD / 8 for n in (1, 2, 4, 8, 16, 40)),
    Units.METRIC: (50.0, 100.0, 200.0, 500.0, 1000.0, 5000.0),
}
MONEY_STEPS = (0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 500.0)


def curve_page(curve: WidthCurve) -> Figure:
    """Draw the curve: marker and purchase over the width, steps numbered, what each step is about below."""
    units, cells = curve.job.written_in, curve.cells
    least = min(cells, key=lambda cell: cell.length)
    laid = "Cut short: not every width was searched" if curve.series.not_searched else "Each width was laid for real"
    head = Head(
        f"{curve.job.title}: marker length by width of cloth",
        f"{curve.cloth.name}{', with nap' if curve.cloth.nap else ''}. {laid}; what fits on"
        " narrower cloth fits on wider cloth, so the line never rises.",
        (f"least: {format_need(least.length, units)}, on {format_size(least.width, units)}",),
        PAGE_WIDTH - 2 * MARGIN,
    )
    lines = [line for words in curve_lines(curve) for line in wrap(words, TEXT, PAGE_WIDTH - 2 * MARGIN)]
    foot = len(lines) * TEXT * LEADING + 10
    costs = [float(cell.cost) for cell in cells if cell.cost is not None]
    cost = COST + TITLE + 4 if costs else 0.0
    around = 2 * MARGIN + head.height + TITLE + BELOW + cost + foot
    figure, page = new_page(max(PAGE_HEIGHT, around + LEAST))
    height = page.ax.get_ylim()[1]
    head.draw(page, height - MARGIN)
    tall, low = height - around, MARGIN + foot + BELOW
    x = Axis.over([cell.width for cell in cells], WIDTH_STEPS[units], 20, tight=True)
    if x.high == x.low:
        x = Axis.over([cells[0].width], WIDTH_STEPS[units], 20)
    _draw_lengths(page, curve, x, low + cost, tall, words_below=not costs)
    if costs:
        _draw_costs(page, curve, x, low, COST)
    for i, line in enumerate(lines, 1):
        page.text(MARGIN, MARGIN + foot - 6 - i * TEXT * LEADING, line, TEXT)
    return figure


def _draw_lengths(page: Sheet, curve: WidthCurve, x: Axis, low: float, tall: float, *, words_below: bool) -> None:
    units, cells, table = curve.job.written_in, curve.cells, curve.by_table()
    reach = [cell.length for cell in cells] + [cell.purchase.buy for cell in cells]
    reach += [value for _, least, _, most, _ in table for value in (least, most)]
    y = Axis.over(reach, LENGTH_STEPS[units], 9)
    plot = Plot(page, MARGIN + LABELS, low, PAGE_WIDTH - 2 * MARGIN - LABELS, tall, x, y)
    plot.frame(_width_words(units) if words_below else None, _length_words(units), "Length of cloth")
    _draw_legend(page, plot, has_table=bool(table))
    plot.stairs([(cell.width, cell.purchase.buy) for cell in cells], 1.2, colour=GREY)
    plot.stairs([(cell.width, cell.length) for cell in cells], 1.6)
    for cell in cells:
        plot.dot(cell.width, cell.length, 1.3)
    for width, least, mean, most, _ in table:
        (across, bottom), (_, middle), (_, top) = (plot.at(width, value) for value in (least, mean, most))
        page.line([(across, bottom), (across, top)], 0.9, colour=GREY)
        for up, half in ((bottom, 2.5), (top, 2.5), (middle, 4.0)):
            page.line([(across - half, up), (across + half, up)], 0.9, colour=GREY)
    for number, step in enumerate(curve.steps, 1):
        across, up = plot.at(step.after.width, step.after.length)
        page.text(across - 3, up - 9, str(number), 8, bold=True, side="right")


def _draw_legend(page: Sheet, plot: Plot, *, has_table: bool) -> None:
    """What each line is, above the plot at its right end."""
    right, up = plot.left + plot.wide, plot.low + plot.tall + 5
    entries = [("marker", BLACK, 1.6, False), ("to buy, all added and rounded up", GREY, 1.2, False)]
    entries += [("published table, set equal at 45 in: least, mean, most", GREY, 0.9, True)] if has_table else []
    for words, colour, width, has_range in reversed(entries):
        right -= text_width(words, TEXT)
        page.text(right, up, words, TEXT)
        if has_range:
            page.line([(right - 9, up - 1), (right - 9, up + 7)], width, colour=colour)
            for y, half in ((up - 1, 2.5), (up + 7, 2.5), (up + 3, 4.0)):
                page.line([(right - 9 - half, y), (right - 9 + half, y)], width, colour=colour)
        else:
            page.line([(right - 20, up + 2.5), (right - 5, up + 2.5)], width, colour=colour)
        right -= 34


def _draw_costs(page: Sheet, curve: WidthCurve, x: Axis, low: float, tall: float) -> None:
    price, units = curve.cloth.price, curve.job.written_in
    assert price is not None
    points = [(cell.width, float(cell.cost)) for cell in curve.cells if cell.cost is not None]
    y = Axis.over([cost for _, cost in points], MONEY_STEPS, 4)
    plot = Plot(page, MARGIN + LABELS, low, PAGE_WIDTH - 2 * MARGIN - LABELS, tall, x, y)
    each = price.write(price.amount)
    title = f"Cost, if every width cost {each} / {price.unit}, as '{curve.cloth.name}' does"
    plot.frame(_width_words(units), lambda money: f"{money:g}", title)
    plot.stairs(points, 1.4)
    for width, cost in points:
        plot.dot(width, cost, 1.3)


def _width_words(units: Units) -> Callable[[float], str]:
    return lambda mm: format_size(mm, units)


def _length_words(units: Units) -> Callable[[float], str]:
    if units is Units.INCHES:
        return lambda mm: f"{format_fraction(mm / YARD)} yd"
    return lambda mm: f"{mm / 1000:.2f} m"
