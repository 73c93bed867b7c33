"""The answer of `boxes`: the purchase for boxes beside that for outlines."""

from __future__ import annotations

from typing import Literal

from reports.schema.head import SearchedAnswer
from reports.schema.lay import LayoutAnswer
from reports.schema.sealed import Sealed


class BoxAnswer(Sealed):
    """A box: how many of each piece it holds, how many boxes there are, its size along and across the grain."""

    holds: dict[str, int]
    boxes: int
    length: float
    width: float


class BoxedLaidAnswer(Sealed):
    """A cloth laid one way, and what to buy; all but the reason is null where it is refused."""

    refused: str | None
    spread: str | None
    buy: str | None
    buy_mm: float | None
    cost: float | None
    at_least_mm: float | None
    layout: LayoutAnswer | None


class BoxedClothAnswer(Sealed):
    """A cloth laid both ways, and how much more the boxes take; null where that is not known."""

    fabric: str
    boxes: list[BoxAnswer]
    by_boxes: BoxedLaidAnswer
    by_outlines: BoxedLaidAnswer
    more_mm: float | None
    more_cost: float | None


class BoxesAnswer(SearchedAnswer):
    """Each cloth, mm; `cut_short` if an interrupt ended a search."""

    schema: Literal[1]
    unit: Literal["mm"]
    cut_short: bool
    cloths: list[BoxedClothAnswer]
    words: list[str]
