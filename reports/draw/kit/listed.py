"""Pages of tables in type that is read at a cutting table; a table goes on from page to page."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from reports.draw.kit.sheet import GREY, LEADING, MARGIN, PAGE_HEIGHT, PAGE_WIDTH, new_page, shorten, text_width, wrap

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from matplotlib.figure import Figure

    from reports.draw.kit.sheet import Sheet

WIDTH = PAGE_WIDTH - 2 * MARGIN
TITLE, TYPE, NOTE = 16.0, 9.5, 7.0
"""Sizes of type, points."""

ROW, LINE, GUTTER = TYPE * LEADING + 4, TYPE * LEADING + 2, 16.0
WIDEST = 300.0
"""A cell is cut off beyond so many points."""


class Listed(NamedTuple):
    """A table: its heading, the heads of its columns, its rows, and how wide a cell may be, points."""

    heading: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widest: float = WIDEST

    def columns(self) -> list[float]:
        """Widths of the columns, points; together no wider than the page."""
        lines = [self.heads, *self.rows]
        wide = [
            min(self.widest, max(text_width(cell, TYPE, True) for cell in cells)) for cells in zip(*lines, strict=True)
        ]
        room = WIDTH - GUTTER * len(wide)
        share = min(1.0, room / sum(wide))
        return [one * share + GUTTER for one in wide]

    def upright(self) -> Listed:
        """The same, or with rows for columns where those are more than the page is wide: nothing is cut off."""
        lines = [self.heads, *self.rows]
        if (
            sum(max(text_width(cell, TYPE, True) for cell in cells) + GUTTER for cells in zip(*lines, strict=True))
            <= WIDTH
        ):
            return self
        heads, *rows = zip(*lines, strict=True)
        return Listed(self.heading, heads, tuple(rows))


def list_pages(
    title: str, told: Sequence[str], tables: Sequence[Listed], notes: Sequence[str], after: Sequence[str] = ()
) -> Iterator[Figure]:
    """Pages with a title, some lines below it, tables, notes at the foot where these end, and more lines after them."""
    foot = [line for note in notes for line in wrap(note, NOTE, WIDTH)]
    writer = _Writer(title)
    for words in told:
        for line in wrap(words, TYPE, WIDTH):
            writer.line(line)
    for table in tables:
        yield from writer.table(table)
    if foot and writer.top - len(foot) * NOTE * LEADING < MARGIN:
        yield writer.next_page()
    for i, line in enumerate(reversed(foot)):
        writer.page.text(MARGIN, MARGIN + i * NOTE * LEADING, line, NOTE)
    lines = [line for words in after for line in wrap(words, TYPE, WIDTH)]
    if lines and writer.top - len(lines) * LINE < MARGIN + len(foot) * NOTE * LEADING:
        yield writer.next_page()
    for line in lines:
        if writer.top - LINE < MARGIN:
            yield writer.next_page()
        writer.line(line)
    yield writer.figure


class _Writer:
    """Writes downwards; a full page is handed out, and a new one begun."""

    def __init__(self, title: str) -> None:
        self._title, self._number = title, 0
        self.figure: Figure
        self.page: Sheet
        self.top = 0.0
        self._begin()

    def _begin(self) -> None:
        self._number += 1
        self.figure, self.page = new_page()
        self.page.text(
            MARGIN, PAGE_HEIGHT - MARGIN - TITLE, shorten(self._title, TITLE, WIDTH - 90, True), TITLE, bold=True
        )
        if self._number > 1:
            self.page.text(PAGE_WIDTH - MARGIN, PAGE_HEIGHT - MARGIN - TITLE, f"sheet {self._number}", 10, side="right")
        self.top = PAGE_HEIGHT - MARGIN - TITLE * LEADING - 6

    def next_page(self) -> Figure:
        """The page as it is; another is begun."""
        full = self.figure
        self._begin()
        return full

    def line(self, words: str) -> None:
        """Write a line of text."""
        self.page.text(MARGIN, self.top - TYPE, words, TYPE)
        self.top -= LINE

    def table(self, table: Listed) -> Iterator[Figure]:
        """Write a table; the pages that it fills."""
        columns = table.columns()
        if self.top - 4 * ROW < MARGIN:
            yield self.next_page()
        self._head(table, columns)
        name = ""
        for cells in table.rows:
            row, name = cells, cells[0] or name
            if self.top - ROW < MARGIN:
                yield self.next_page()
                self._head(table, columns)
                row = (name, *cells[1:])  # on a new page a line says again what it is of
            self._row(row, columns, bold="all" in row[:2])
        self.top -= ROW / 2

    def _head(self, table: Listed, columns: Sequence[float]) -> None:
        self.top -= 8
        self.page.text(MARGIN, self.top - 11, table.heading, 11, bold=True)
        self.top -= 11 * LEADING
        if any(table.heads):
            self._row(table.heads, columns, bold=True, grey=False)

    def _row(self, cells: Sequence[str], columns: Sequence[float], *, bold: bool, grey: bool = True) -> None:
        x = MARGIN
        for words, width in zip(cells, columns, strict=True):
            self.page.text(x, self.top - ROW + 5, shorten(words, TYPE, width - GUTTER / 2, bold), TYPE, bold=bold)
            x += width
        self.top -= ROW
        style = (0.3, GREY) if grey else (0.7, "black")
        self.page.line([(MARGIN, self.top), (x - GUTTER, self.top)], style[0], colour=style[1])
