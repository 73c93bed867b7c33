"""The answer of `chart`: yardage by size and width."""

from __future__ import annotations

from typing import Literal

from nesting.cloth.spread import Spread
from reports.schema.head import ManyLaidAnswer
from reports.schema.sealed import Sealed


class CellAnswer(Sealed):
    """One marker of many, and what to buy for it."""

    spread: Spread
    marker_mm: float
    cloth_mm: float
    bound_mm: float
    density_percent: float
    buy_mm: float
    buy: str
    cost: float | None
    checked: Literal[True]


class LaidCellAnswer(CellAnswer):
    """A cell that was laid."""

    size: str
    nap: bool
    width_mm: float


class RefusedCellAnswer(Sealed):
    """A cell in which nothing is laid, and why; one that an interrupt came before was not `searched`."""

    size: str
    nap: bool
    width_mm: float
    checked: Literal[False]
    searched: bool
    refused: str


class SizeAnswer(Sealed):
    """A size, and the body it is drafted for, mm; `own` is the job's own."""

    name: str
    own: bool
    body_mm: dict[str, float]


class ChartAnswer(ManyLaidAnswer):
    """How much cloth each size takes on each width, with and without a nap."""

    schema: Literal[2]
    sizes: list[SizeAnswer]
    widths_mm: list[float]
    cells: list[LaidCellAnswer | RefusedCellAnswer]
