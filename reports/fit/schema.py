"""The answer of `fits`: whether the pieces fit on a remnant."""

from __future__ import annotations

from typing import Literal

from reports.change.ways_out import WayKind
from reports.schema.draft import XY
from reports.schema.head import SearchedAnswer
from reports.schema.lay import BandAnswer, PlacedAnswer
from reports.schema.sealed import Sealed

RemnantSpreadName = Literal["open", "folded", "double-folded"]


class ZoneAnswer(Sealed):
    """What is missing of a remnant or flawed, on the cloth laid open, mm."""

    start: float
    end: float
    low: float
    high: float


class RemnantAnswer(Sealed):
    """The remnant as it was asked about, mm."""

    width: float
    length: float
    selvedge: float
    selvedge_given: bool
    nap: bool | Literal["by garment"]
    gap: float
    cut_outs: list[ZoneAnswer]
    usable_mm2: float


class TriedAnswer(Sealed):
    """One way in which the remnant may lie, and what came of it; `proof` is the kind of argument for a no."""

    spread: RemnantSpreadName
    turned: bool
    answer: Literal["yes", "no", "not found", "not tried"]
    proof: Literal["width", "place", "area", "piece", "length"] | None
    bound_mm: float | None
    reason: str | None
    marker_mm: float | None
    over_mm: float | None
    effort: float | None


class FitLayoutAnswer(Sealed):
    """The layout that fits, mm."""

    spread: RemnantSpreadName
    turned: bool
    cut_outs: list[list[XY]]
    length: float
    gap: float
    density_percent: float
    bands: list[BandAnswer]
    placements: list[PlacedAnswer]


class OtherClothAnswer(Sealed):
    """A piece that is then cut of other cloth: how often, how large each is, and the area of all, mm."""

    piece: str
    cut: int
    length_mm: float
    width_mm: float
    area_mm2: float


class WayOutAnswer(Sealed):
    """A way out that was tried after `not found`, and the layout where it fits."""

    kind: WayKind
    change: str
    answer: Literal["yes", "no", "not found", "not tried"]
    refused: str
    marker_mm: float | None
    other_cloth: list[OtherClothAnswer]
    layout: FitLayoutAnswer | None


class FitLayAnswer(Sealed):
    """The lay of a run that is asked about, its plies, and the table if it is held against that, mm.

    Whether its own marker goes there as it lies, and how many plies the remnant then gives.
    """

    ticket: int
    plies: int
    ply_mm: float
    table_mm: float | None
    as_it_lies: bool
    gives_plies: int | None


class FitsAnswer(SearchedAnswer):
    """Yes with a layout; no with a proof; or not found."""

    schema: Literal[4]
    unit: Literal["mm"]
    cloth: str | None
    pieces: list[str]
    answer: Literal["yes", "no", "not found"]
    lay: FitLayAnswer | None
    remnant: RemnantAnswer
    seconds: float
    left_over_mm: float | None
    waste_percent: float | None
    needed_mm: float | None
    tried: list[TriedAnswer]
    layout: FitLayoutAnswer | None
    ways_out: list[WayOutAnswer]
    words: list[str]
