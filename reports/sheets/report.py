"""A report: pages of tables, words and pictures, whatever kind of file they are written to."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from reports.sheets.table import Table

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from matplotlib.figure import Figure

    from reports.sheets.living import LiveBook


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
    """What belongs together: a sheet of a workbook.

    Where a report has `living` sheets, what they say as well is on pages of HTML alone, and the workbook has pages of
    its own for the rest. On paper, one that `goes_on` begins where the one before ends.
    """

    title: str
    parts: tuple[PagePart, ...]
    goes: Literal["everywhere", "page", "workbook"] = "everywhere"
    goes_on: bool = False

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
        """Every table of its pages."""
        for page in self.told("page"):
            yield from page.tables

    def told(self, kind: Literal["page", "workbook"]) -> list[Page]:
        """The pages of HTML and tables, or of a workbook."""
        return [page for page in self.pages if page.goes in ("everywhere", kind)]
