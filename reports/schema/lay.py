"""The answer of `lay`: each cloth's marker, with true cut lines in place, and what is to be said of it."""

from __future__ import annotations

from typing import Literal, NotRequired

from nesting.cloth.spread import Spread
from reports.schema.buy import BestAnswer, FabricAnswer, RefusedAnswer
from reports.schema.draft import XY, InnerAnswer
from reports.schema.head import SearchedAnswer
from reports.schema.sealed import Sealed


class BandAnswer(Sealed):
    """A stretch of cloth that lies in one way: x along the cloth, y across it, mm."""

    name: str
    x0: float
    x1: float
    y0: float
    y1: float
    layers: int
    mirrored: bool
    low_edge: str
    high_edge: str


class PlacedAnswer(Sealed):
    """One outline in its place, turned by `turn` degrees; a bare outline has no marks."""

    piece: str
    item: str
    copy: int
    yields: int
    band: str
    turn: float
    mirrored: bool
    on_fold: bool
    outline: list[XY]
    grain: NotRequired[list[XY]]
    notches: NotRequired[list[XY]]
    drill_points: NotRequired[list[XY]]
    inner: NotRequired[list[InnerAnswer]]


class LayoutAnswer(Sealed):
    """A layout alone, mm."""

    length: float
    gap: float
    density_percent: float
    bands: list[BandAnswer]
    placements: list[PlacedAnswer]


class LayOfRunAnswer(Sealed):
    """The lay of a run that a marker is of: garments on it by size, plies by colour, and what they cut."""

    ticket: int
    order: str
    part: str
    stack: Literal["face-up", "face-to-face", "folded", "tube"]
    garments: dict[str, int]
    plies: dict[str, int]
    ply_mm: float
    cut: dict[str, dict[str, int]]


class MarkerAnswer(Sealed):
    """A marker that anyone can check with a geometry library, as can `check`: what its file holds. In mm."""

    schema: Literal[1]
    unit: Literal["mm"]
    fabric: str
    spread: Spread
    width: float
    fold_depth: float | None
    plies: int
    garments: int
    pattern_start: float | None
    length: float
    gap: float
    density_percent: float
    bands: list[BandAnswer]
    placements: list[PlacedAnswer]
    lay: NotRequired[LayOfRunAnswer]


class LayAnswer(SearchedAnswer):
    """The markers of a job; `fabrics`, `best` and `remarks` are as in the answer of `buy`."""

    schema: Literal[7]
    best: list[BestAnswer]
    fabrics: list[FabricAnswer | RefusedAnswer]
    remarks: list[str]
    markers: list[MarkerAnswer]
