"""Bands: the strips of usable cloth, side by side, that a spread turns a fabric into."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from nesting.cloth.ply import Ply

BandEdge = Literal["selvedge", "fold", "free"]


@dataclass(frozen=True)
class Band:
    """A strip of usable cloth that runs the length of the marker.

    Parameters
    ----------
    name
        What a cutter would call it, such as ``"folded cloth"``.
    low, high
        Its two long edges: distances across the laid cloth, mm, from the edge the drawing starts at.
    layers
        Layers of cloth cut at once.
    mirrored
        Whether every second layer lies right side down (right sides together), so that
        one placement yields a left and a right piece.
    low_edge, high_edge
        What lies along each edge.
    selvedge
        Width of the selvedge that lies beyond an edge of that kind, mm.
    start, end
        Where along the marker it begins and ends, mm, if the cloth does not lie in one way along all of it.
    nap_turned
        Whether the nap of every second layer runs the other way, as in cloth folded across its length.
    """

    name: str
    low: float
    high: float
    layers: int = 1
    mirrored: bool = False
    low_edge: BandEdge = "selvedge"
    high_edge: BandEdge = "selvedge"
    selvedge: float = 0.0
    start: float = 0.0
    end: float = math.inf
    nap_turned: bool = False

    @property
    def plies(self) -> tuple[Ply, ...]:
        """Its layers, the lowest first."""
        second = Ply(self.mirrored, 180.0 if self.nap_turned else 0.0)
        return tuple(second if number % 2 else Ply() for number in range(self.layers))

    @property
    def width(self) -> float:
        """Usable width of one layer, mm."""
        return self.high - self.low

    @property
    def cloth_width(self) -> float:
        """Usable width of cloth over all layers, mm."""
        return self.width * self.layers
