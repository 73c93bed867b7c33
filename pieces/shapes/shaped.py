"""A piece that may be pieced: cut in parts and joined, where the cloth is too narrow for the whole."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

from pieces.piece.piece import Piece

MOST_PARTS = 100
"""Nobody joins more; common practice, no source."""

SHORT = 1e-3
"""Cloth that is narrower than a part by no more, mm, is wide enough: rounding."""


WayToPiece = Callable[[int, float], tuple[Piece, ...]]
"""Gives the pieces that make a whole in a number of parts; it may give none where they are wider than some mm."""


class ClothRoom(NamedTuple):
    """How much cloth there is across.

    Parameters
    ----------
    across
        Usable width, mm.
    has_fold
        Whether a fold runs along it, on which half a piece may lie.
    """

    across: float
    has_fold: bool


class Pieced(NamedTuple):
    """What is cut for one shape: its pieces, of how many parts the whole is made, and how many seams join them."""

    pieces: tuple[Piece, ...]
    parts: int = 1
    joins: int = 0


@dataclass(frozen=True, eq=False)
class ShapedPiece(Piece):
    """A piece drafted from a shape, with the ways to cut it in parts.

    Parameters
    ----------
    ways
        None where it cannot be pieced. The one first named is taken where two do with as few parts.
    join
        Allowance of the seams that join its parts, mm.
    is_closed
        Whether the last part is joined to the first, so that there are as many joins as parts.
    drafted_as
        What its parts are called after, which follow it under another name.
    """

    ways: tuple[WayToPiece, ...] = ()
    join: float = 0.0
    is_closed: bool = False
    drafted_as: str = ""

    def pieced(self, rooms: Sequence[ClothRoom], *, turned: bool = True) -> Pieced:
        """The piece as it is cut where there is so much room: whole, or in the fewest parts that fit.

        Where no number of parts fits, it stays whole, and the layout says what it needs.

        Parameters
        ----------
        turned
            Whether the cloth lets pieces lie across that may: not with a nap.
        """
        if fits(self, rooms, turned=turned) or not rooms:
            return Pieced((self,))
        widest = math.inf if self.lies == "free" else max(room.across for room in rooms) + SHORT
        for number in range(2, MOST_PARTS + 1):
            for way in self.ways:
                parts = tuple(
                    replace(part, lies=self.lies, name=self.name + part.name.removeprefix(self.drafted_as))
                    for part in way(number, widest)
                )
                if parts and all(fits(part, rooms, turned=turned) for part in parts):
                    return Pieced(parts, number, number if self.is_closed else number - 1)
        return Pieced((self,))


def fits(piece: Piece, rooms: Sequence[ClothRoom], *, turned: bool = True) -> bool:
    """Whether a piece can lie in one of some rooms, its grain along them or as it may besides."""
    (x0, y0), (x1, y1) = piece.grain
    grain = np.arctan2(y1 - y0, x1 - x0)
    steps = {"straight": (0.0,), "cross": (0.0, 90.0), "free": (0.0, 45.0, 90.0, 135.0)}[
        piece.lies if turned else "straight"
    ]
    for step in np.radians(steps):
        across = np.array([-np.sin(grain + step), np.cos(grain + step)])
        whole, half = (float(np.ptp(outline @ across)) for outline in (piece.unfolded, piece.cut_line))
        if any(whole <= room.across + SHORT or (room.has_fold and half <= room.across + SHORT) for room in rooms):
            return True
    return False
