"""The answer of `which`: each cloth on hand, and whether it will do."""

from __future__ import annotations

from typing import Literal

from reports.schema.head import SearchedAnswer
from reports.schema.sealed import Sealed


class ClothOnHandAnswer(Sealed):
    """A cloth on hand, and whether the pieces fit on it; lengths in mm.

    ``yes`` has a layout that was checked, ``no`` a `proof`; ``not found`` is neither, and never means no.
    """

    item: str
    number: int
    name: str
    colour: str
    lot: str
    width_mm: float
    left_mm: float
    about: str
    laid_as: str | None
    answer: Literal["yes", "no", "not found", "not looked at", "refused"]
    proof: Literal["width", "piece", "place", "area", "length"] | None
    reason: str
    needed_mm: float | None
    left_over_mm: float | None


class WhichAnswer(SearchedAnswer):
    """The cloths: those that will do first, of each answer the smallest first; `best` is the smallest that will do."""

    schema: Literal[1]
    unit: Literal["mm"]
    cloth: str | None
    best: str | None
    seconds: float
    cloths: list[ClothOnHandAnswer]
    words: list[str]
