"""What is sewn of a garment: each seam with its whole length, its layers and its stitches."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from pieces.piece.pieces import PieceSet

Stitch = Literal["lockstitch", "overlock"]
"""The straight stitch that holds a seam, and the one that neatens its edges."""

BOTH: tuple[Stitch, ...] = ("lockstitch", "overlock")
"""A seam is sewn once, and its allowances are neatened together: common practice, no source."""


@dataclass(frozen=True)
class Sewn:
    """A line of stitches through so many layers; `length` is that of all its copies in a garment, mm."""

    name: str
    length: float
    layers: int = 2
    stitches: tuple[Stitch, ...] = BOTH


def sewn_seams(drafted: PieceSet, without: Collection[str] = ()) -> Iterator[Sewn]:
    """Each seam of a set of pieces, left and right, but for those that are sewn together with others.

    Where an edge is sewn to its like, as at a centre back, two of them make one seam.
    """
    for seam in drafted.seams:
        if seam.name not in without:
            piece = drafted[seam.first[0][0]]
            times = piece.cut * (2 if piece.on_fold else 1) / (2 if seam.first == seam.second else 1)
            yield Sewn(seam.name, times * sum(drafted[name].edge(edge).length for name, edge in seam.first))
