"""The quote on one page, upright, with lines to fill in by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.draw.kit.sheet import BLACK, GREY, LEADING, MARGIN, PAGE_HEIGHT, PAGE_WIDTH, new_page, shorten, wrap
from reports.draw.kit.table import DrawnTable
from reports.money.cost.quote import TO_FILL_IN
from reports.money.examples import example_line

if TYPE_CHECKING:
    from collections.abc import Mapping

    from matplotlib.figure import Figure

    from reports.draw.kit.sheet import Sheet
    from reports.money.cost.quote import Quote

EDGE = MARGIN + 12
WIDE = PAGE_HEIGHT - 2 * EDGE
RIGHT = PAGE_HEIGHT - EDGE
"""The page stands upright: as wide as others are high."""

SIZE, SMALL = 10.0, 8.0
ROW = SIZE * LEADING + 4
FILL_IN = 26.0
MOST_LINES = 24
"""More lines are set small, in blocks side by side."""

COLUMNS = (0.0, 0.42, 0.66, 0.82, 1.0)
"""Where colour and size begin, and where number, each and amount end, as shares of the width."""


def quote_page(quote: Quote) -> Figure:
    """Draw the quote."""
    notices = [line for words in quote.notices for line in wrap(words, SMALL, WIDE)]
    foot = len(notices) * SMALL * LEADING
    blocks = _in_blocks(quote)
    lines = blocks.height + 8 if blocks else (len(quote.lines) + 1) * ROW
    marks = wrap(example_line(quote.examples), SIZE, WIDE, bold=True) if quote.examples else []
    mark = len(marks) * SIZE * LEADING + 6
    needed = 2 * EDGE + 76 + mark + (len(TO_FILL_IN) + 1) // 2 * FILL_IN + lines + (len(quote.sums()) + 1) * ROW + foot
    figure, page = new_page(max(PAGE_WIDTH, needed), PAGE_HEIGHT)
    top = page.ax.get_ylim()[1] - EDGE
    page.text(EDGE, top - 20, "Quote", 20, bold=True)
    page.text(EDGE, top - 38, shorten(quote.title, 11, WIDE), 11)
    for i, line in enumerate(marks):
        page.text(EDGE, top - 56 - i * SIZE * LEADING, line, SIZE, bold=True)
    top = _draw_blanks(page, top - 50 - mark, quote.filled)
    _draw_sums(page, quote, _draw_lines(page, quote, top - 20, blocks))
    for i, line in enumerate(reversed(notices)):
        page.text(EDGE, EDGE + i * SMALL * LEADING, line, SMALL)
    return figure


def _draw_blanks(page: Sheet, top: float, filled: Mapping[str, str]) -> float:
    """Names with a line behind each to write on, in two columns, what is known on it; where they end."""
    wide = (WIDE - 24) / 2
    rows = (len(TO_FILL_IN) + 1) // 2
    for i, name in enumerate(TO_FILL_IN):
        left, base = EDGE + (i // rows) * (wide + 24), top - (i % rows + 1) * FILL_IN
        page.text(left, base + 3, name, SMALL)
        page.line([(left + 70, base), (left + wide, base)], 0.5, colour=GREY)
        page.text(left + 74, base + 3, shorten(filled.get(name, ""), SIZE, wide - 78), SIZE)
    return top - rows * FILL_IN


def _in_blocks(quote: Quote) -> DrawnTable | None:
    """The lines in small type side by side, if there are too many to stand below one another."""
    most = MOST_LINES - 2 * bool(quote.examples)
    return DrawnTable(quote.rows(), WIDE) if len(quote.lines) > most else None


def _draw_lines(page: Sheet, quote: Quote, top: float, blocks: DrawnTable | None) -> float:
    if blocks:
        blocks.draw(page, EDGE, top)
        return top - blocks.height - 8
    for i, cells in enumerate(quote.rows()):
        base = top - (i + 1) * ROW
        _row(page, cells, base, bold=not i)
        page.line([(EDGE, base), (RIGHT, base)], 0.3 if i else 0.8, colour=GREY if i else BLACK)
    return top - (len(quote.lines) + 1) * ROW


def _draw_sums(page: Sheet, quote: Quote, top: float) -> None:
    page.line([(EDGE, top), (RIGHT, top)], 0.8)
    for i, cells in enumerate(quote.sums()):
        _row(page, cells, top - (i + 1) * ROW, bold=not i)


def _row(page: Sheet, cells: tuple[str, ...], base: float, *, bold: bool = False) -> None:
    for i, (words, share) in enumerate(zip(cells, COLUMNS, strict=True)):
        left = i < 2
        room = WIDE * (COLUMNS[i + 1] - share) - 8 if left and cells[i + 1] else WIDE
        fitted = shorten(words, SIZE, room, bold)
        page.text(EDGE + share * WIDE, base + 4, fitted, SIZE, bold=bold, side="left" if left else "right")
