"""The answer of `widths`: the marker's length on cloth of each width."""

from __future__ import annotations

from typing import Literal

from nesting.cloth.spread import Spread
from reports.chart.schema import CellAnswer
from reports.schema.head import ManyLaidAnswer
from reports.schema.sealed import Sealed


class WidthAnswer(CellAnswer):
    """One width."""

    width_mm: float


class TooNarrowAnswer(Sealed):
    """A width on which nothing is laid, and why."""

    width_mm: float
    reason: str


class BesideAnswer(Sealed):
    """Pieces that lie beside one another from a width on."""

    pieces: list[str]
    width_mm: float
    spread: Spread


class StepAnswer(Sealed):
    """A width from which the marker is clearly shorter, and what then fits."""

    from_mm: float
    to_mm: float
    fall_mm: float
    fits: list[BesideAnswer]


class PublishedAnswer(Sealed):
    """A row of the published conversion table, beside what was laid."""

    width_mm: float
    least_mm: float
    mean_mm: float
    most_mm: float
    laid_mm: float


class PublishedTableAnswer(Sealed):
    """The published table, set equal at 45 in."""

    source: str
    rows: list[PublishedAnswer]


class WidthsAnswer(ManyLaidAnswer):
    """How the marker's length changes with the width, where it steps, and why."""

    schema: Literal[1]
    not_searched_mm: list[float]
    widths: list[WidthAnswer]
    refused: list[TooNarrowAnswer]
    steps: list[StepAnswer]
    beside: list[BesideAnswer]
    table: PublishedTableAnswer
