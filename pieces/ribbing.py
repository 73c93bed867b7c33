"""Rib bands from the openings they are sewn to: cuff, hem band, neckband.

A band is a rectangle of rib, sewn to its opening folded double along its length. Rib stretches across, so
a band's length lies across the grain, and its depth along it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from pieces.curve import Line, Point
from pieces.errors import DraftError
from pieces.piece import Notch, Piece
from pieces.seam import Edge
from pieces.units import format_both

LEAST_SHARE = 0.6
"""A band shorter than this share of its opening would have to stretch by two thirds: noted."""


@dataclass(frozen=True)
class BandRule:
    """How long a band is cut for its opening.

    Parameters
    ----------
    kind
        ``"subtract"``: opening less `amount` mm; ``"share"``: opening times `amount` (two thirds to three
        quarters for a stretchy rib: Sewing & Craft Alliance, sewing.org).
    amount
        Millimetres or a share; a negative number of millimetres adds.
    """

    kind: Literal["subtract", "share"]
    amount: float

    def cut_length(self, name: str, opening: float) -> float:
        """Length to cut for an opening, mm.

        Raises
        ------
        DraftError
            If the band would have no length, or be longer than one and a half openings.
        """
        length = opening - self.amount if self.kind == "subtract" else opening * self.amount
        if not 0.2 * opening <= length <= 1.5 * opening:
            raise DraftError(
                f"the {name} for an opening of {format_both(opening)} comes out {format_both(length)} long;"
                " change its rule: what is taken off, or the share"
            )
        return length

    def describe(self) -> str:
        """The rule in words."""
        if self.kind == "share":
            return f"{self.amount * 100:g}% of the opening"
        less = "less" if self.amount >= 0 else "plus"
        return f"the opening {less} {format_both(abs(self.amount))}"


def cut_depth(finished: float, seam: float) -> float:
    """Depth to cut for a band folded double: twice the finished depth and two seam allowances, mm."""
    return 2 * finished + 2 * seam


def rib_band(name: str, length: float, depth: float, seam: float, *, cut: int, label: str = "") -> Piece:
    """A band of rib as a piece: `length` x `depth` mm are what is cut, seam allowances included."""
    corners: list[Point] = [(seam, seam), (depth - seam, seam), (depth - seam, length - seam), (seam, length - seam)]
    names = ("end", "edge", "other end", "other edge")
    edges = tuple(Edge(edge, Line(corners[i], corners[(i + 1) % 4]).flatten(), seam) for i, edge in enumerate(names))
    middle = length / 2
    return Piece(
        name,
        edges,
        cut=cut,
        material="rib",
        grain=((depth * 0.2, middle), (depth * 0.8, middle)),
        notches=(Notch("middle", (seam, middle)), Notch("middle", (depth - seam, middle))),
        label=label,
    )
