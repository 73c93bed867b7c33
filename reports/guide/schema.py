"""The answer of `guide`: how to mark and cut by hand, step by step."""

from __future__ import annotations

from typing import Literal, NotRequired

from nesting.cloth.spread import Spread
from reports.schema.head import SearchedAnswer
from reports.schema.sealed import Sealed


class TextAnswer(Sealed):
    """A step in words."""

    step: int
    text: str


class SpotAnswer(Sealed):
    """A point on the cloth."""

    name: str
    from_start_mm: float
    from_edge_mm: float


class MarkedPieceAnswer(Sealed):
    """A piece to be marked: between which distances from the start and from the edge named it lies."""

    step: int
    piece: str
    copy: int
    item: str
    item_copy: int
    gives: str
    band: str
    layers: int
    on_fold: bool
    printed_side: Literal["up", "down"]
    mirrored: bool
    turn: float
    edge: str
    from_start_mm: tuple[float, float]
    from_edge_mm: tuple[float, float]
    grain: list[SpotAnswer]
    fold: list[SpotAnswer]
    notches: list[SpotAnswer]
    notch_edges: list[SpotAnswer]
    drill_points: list[SpotAnswer]
    match: list[SpotAnswer]
    text: list[str]


class StageAnswer(Sealed):
    """A stage: the cloth is laid, then pieces are marked."""

    stage: int
    title: str
    spread: Spread
    from_start_mm: float
    lay: list[TextAnswer]
    pieces: list[MarkedPieceAnswer]


class ClothGuideAnswer(Sealed):
    """One cloth's guide; `number` counts the cloths of the job from 1.

    Of a lay of a run it is the ticket's number; plies and their length then stand for what is bought.
    """

    number: int
    fabric: str
    spread: Spread
    width_mm: float
    found_mm: float
    marker_mm: float
    tape_step_mm: float
    tolerance_mm: float
    buy_mm: NotRequired[float]
    buy: NotRequired[str]
    ply_mm: NotRequired[float]
    plies: NotRequired[dict[str, int]]
    rules: list[str]
    prepare: list[TextAnswer]
    stages: list[StageAnswer]
    finish: list[TextAnswer]
    cautions: list[str]
    checked: Literal[True]


class GuideAnswer(SearchedAnswer):
    """The guides of a job's cloths."""

    schema: Literal[3]
    guides: list[ClothGuideAnswer]
