"""A report: pages of tables, words and pictures, whatever kind of file they are written to."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from reports.sheets.table import Table

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from matplotlib.figure import Figure

    from reports.book.sheet import LiveBook


@dataclass(frozen=True)
class Lines:
    """Words below one another: plain, or to be ticked with a pen. Two blanks before a line set it in."""

    lines: tuple[str, ...]
    kind: Literal["text", "checks"] = "text"


@dataclass(frozen=True, eq=False)
class Picture:
    """A picture, drawn once it is needed: what it shows in words, and how to read it."""

    draw: Callable[[], Figure]
    alt: str
    caption: str = ""


PagePart = Table | Lines | Picture


@dataclass(frozen=True, eq=False)
class Page:
    """What belongs together: a sheet of a workbook, unless its living sheets (`Report.living`) say the same."""

    title: str
    parts: tuple[PagePart, ...]
    lives: bool = False

    @property
    def tables(self) -> list[Table]:
        """Its tables."""
        return [part for part in self.parts if isinstance(part, Table)]


@dataclass(frozen=True, eq=False)
class Report:
    """All of it; `is_metric` says which paper it is printed on, `living` makes the sheets of formulas of a workbook."""

    title: str
    subtitle: str
    pages: tuple[Page, ...]
    is_metric: bool = False
    living: Callable[[], LiveBook] | None = None

    def tables(self) -> Iterator[Table]:
        """Every table."""
        for page in self.pages:
            yield from page.tables
