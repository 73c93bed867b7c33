"""The head of a page: what it shows, and the answer in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.draw.endview import WIDTH as VIEW_WIDTH
from reports.draw.kit.sheet import LEADING, MARGIN, PAGE_WIDTH, Sheet, text_width, wrap

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reports.draw.endview import EndView

FILL = 0.96
"""Small type comes out a little wider than it is measured, as its letters are fitted to dots: room left for that."""


class Head:
    """Title, subtitle and answer lines, the first of them large; `width` points are there for it.

    Parameters
    ----------
    view
        The laid cloth seen from its end: drawn at the right, below the title.
    """

    def __init__(
        self, title: str, subtitle: str, lines: Sequence[str], width: float, view: EndView | None = None
    ) -> None:
        first, *rest = lines or ("",)
        self.lines = [(line, 15.0, True) for line in wrap(title, 15, width, True)]
        free = width - text_width(title, 15, True) - 24
        self.beside = first if text_width(first, 15, True) <= free else ""
        if not self.beside:
            self.lines += [(line, 15.0, True) for line in wrap(first, 15, width, True)]
        self._view, self._titles = view, sum(size * LEADING for _, size, _ in self.lines)
        narrow = width - VIEW_WIDTH - 16 if view else width
        for words in (subtitle, *rest):
            self.lines += [(line, 8.5, False) for line in wrap(words, 8.5, FILL * narrow)]

    @property
    def height(self) -> float:
        """Height with the space below it, points."""
        beside = self._titles + self._view.height if self._view else 0.0
        return max(beside, sum(size * LEADING for _, size, _ in self.lines)) + 6

    def draw(self, page: Sheet, top: float) -> None:
        """Draw it, its upper edge at `top`."""
        if self.beside:
            page.text(PAGE_WIDTH - MARGIN, top - 15, self.beside, 15, bold=True, side="right")
        if self._view:
            self._view.draw(page, PAGE_WIDTH - MARGIN - VIEW_WIDTH, top - self._titles)
        for words, size, bold in self.lines:
            page.text(MARGIN, top - size, words, size, bold=bold)
            top -= size * LEADING
