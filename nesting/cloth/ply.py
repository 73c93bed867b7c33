"""A ply: one layer of cloth under the blade, and what a placement cuts of it."""

from __future__ import annotations

from typing import NamedTuple


class Ply(NamedTuple):
    """How one layer of cloth lies on the table.

    Everything a layer does to what is cut of it follows from these two: which hand of a piece it gives, which way the
    grain and the nap of that hand run, and where the lines of a pattern lie.

    Parameters
    ----------
    mirrored
        Whether it lies right side down: it gives the mirror image of what is seen from above.
    turn
        Degrees by which the direction of its nap is turned against the lowest layer's: 0 or 180.
    """

    mirrored: bool = False
    turn: float = 0.0

    def hand(self, mirrored: bool) -> bool:
        """Whether it gives the mirror image of the piece as drafted, which lies on top turned over or not."""
        return self.mirrored ^ mirrored

    def angle(self, degrees: float) -> float:
        """The angle at which a line on the table runs in this layer, seen from its right side, against its nap."""
        return (self.turn + (-degrees if self.mirrored else degrees)) % 360.0
