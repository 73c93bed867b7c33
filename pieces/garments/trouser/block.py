"""The block of trousers that are pulled on: front and back of a leg, and what they have in common."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from pieces.body.rules import measured_or_usual
from pieces.piece.curve import polyline_length

if TYPE_CHECKING:
    from collections.abc import Mapping

    from pieces.body.body import Body
    from pieces.body.ranges import Wearer
    from pieces.garments.trouser.panel import LegPanel

FOOT: Mapping[Wearer, float] = {"women": 310.0, "men": 345.0}
"""Girth round heel and instep, mm, that a hem must pass: means of a survey, from memory, not opened."""

FOOT_OF_CHILD = 0.37
"""A child's, as a share of its hip: common practice, no source."""

MATCHED = 0.05
"""Seams whose lengths differ by less, mm, were solved."""


@dataclass(frozen=True)
class TrouserBlock:
    """Front and back of a leg, and what they were worked out from, mm."""

    front: LegPanel
    back: LegPanel
    rise_ease: float
    widened: float

    @property
    def waist(self) -> float:
        """The upper edge of the legs, all round, mm."""
        return 2 * sum(polyline_length(panel.waist_line()) for panel in (self.front, self.back))

    @property
    def hip(self) -> float:
        """The garment at the hip, all round, mm."""
        return 2 * (self.front.hip + self.back.hip)

    @property
    def thigh(self) -> float:
        """A leg round at the crotch, mm."""
        return sum(panel.hip + panel.extension for panel in (self.front, self.back))


def to_floor(block: TrouserBlock, body: Body) -> float:
    """How long an inseam is that reaches the floor, mm."""
    return measured_or_usual(body, "inside_leg") - block.rise_ease


def foot_girth(body: Body) -> float:
    """Round heel and instep, mm: what a closed hem must pass."""
    return FOOT.get(body.wearer, FOOT_OF_CHILD * body.hip)
