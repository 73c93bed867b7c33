"""The answer of `sew`: the order of sewing, step by step."""

from __future__ import annotations

from typing import Literal

from reports.schema.sealed import Sealed


class SewnEdgeAnswer(Sealed):
    """An edge that is sewn in a step."""

    piece: str
    edge: str
    allowance_mm: float
    length_mm: float


class SewingStepAnswer(Sealed):
    """A step: what is done, to which pieces, at which edges, and the notches that meet."""

    number: int
    title: str
    text: str
    pieces: list[str]
    edges: list[SewnEdgeAnswer]
    notches: list[str]


class SewingAnswer(Sealed):
    """The order of sewing of a garment, or of several in turn; of those that are left out none is known."""

    schema: Literal[2]
    garment: str
    steps: list[SewingStepAnswer]
    left_out: list[str]
    cautions: list[str]
