"""The answer of `left`: what is left of the cloth bought."""

from __future__ import annotations

from typing import Literal

from reports.schema.draft import XY
from reports.schema.head import SearchedAnswer
from reports.schema.lay import LayoutAnswer
from reports.schema.sealed import Sealed


class BareAnswer(Sealed):
    """A free rectangle or strip, on the laid cloth as it is cut, mm; and its size as bought, before it shrinks."""

    name: str
    start: float
    end: float
    low: float
    high: float
    layers: int
    band: str
    length_as_bought: float
    width_as_bought: float


class BiasStripAnswer(Sealed):
    """A strip on the bias, its corners from that of the first rectangle, mm."""

    length: float
    corners: list[XY]


class BiasAnswer(Sealed):
    """Strips on the bias of the first rectangle, mm; as many in each of its layers."""

    width: float
    layers: int
    total_of_a_layer: float
    strips: list[BiasStripAnswer]


class TriedBesideAnswer(Sealed):
    """A way in which no place was found; or why the pieces cannot lie so."""

    spread: str
    reason: str | None


class OtherLaidAnswer(Sealed):
    """Whether another job's pieces fit as well."""

    job: str
    pieces: int
    answer: Literal["yes", "no place found"]
    tried: list[TriedBesideAnswer]
    piecing: list[str]
    layout: LayoutAnswer | None


class LeftAnswer(SearchedAnswer):
    """What is left of one cloth, mm and mm²."""

    schema: Literal[1]
    unit: Literal["mm"]
    fabric: str
    spread: str
    buy_mm: float
    marker_mm: float
    laid_mm: float
    gap: float
    free_mm2: float
    free_as_bought_mm2: float
    rectangles: list[BareAnswer]
    strips: list[BareAnswer]
    bias: BiasAnswer | None
    other: OtherLaidAnswer | None
    words: list[str]
