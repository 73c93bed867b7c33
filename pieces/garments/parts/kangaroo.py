"""A kangaroo pocket: one patch across the middle of the front, open at both slanted sides.

Every size is common practice, no source, but for the mouth.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from pieces.errors import DraftError
from pieces.garments.parts.pocket import MOUTH_SHARE, PATCH_HEM
from pieces.piece.curve import Line, Point
from pieces.piece.outline import Edge
from pieces.piece.piece import InnerLine, Piece
from pieces.units import INCH, format_both

ACROSS = 0.68
"""Width at the lower edge, as a share of the front's."""

LEAN = 0.5
"""How far a mouth runs inwards, a millimetre of its length."""

BELOW_MOUTH = 0.4
"""How high the side goes straight up below a mouth, as a share of the mouth."""

LEAST_MOUTH, MOST_MOUTH = 2.5 * INCH, 7.5 * INCH
"""No mouth is smaller or larger, unless it is asked for."""

LEAST_TOP = INCH
"""Half of the upper edge is no shorter."""


class Kangaroo(NamedTuple):
    """The sizes of a pocket, half of it, mm: its mouth, and its lower edge from the centre."""

    mouth: float
    lower: float

    @property
    def upper(self) -> float:
        """Half of the upper edge."""
        return self.lower - LEAN * self.mouth

    @property
    def side(self) -> float:
        """The side below the mouth."""
        return BELOW_MOUTH * self.mouth

    @property
    def height(self) -> float:
        """From the lower to the upper edge."""
        return _height(self.mouth)

    def corners(self, foot: float) -> tuple[Point, ...]:
        """Its corners on a front whose hem lies at `foot`, from the lower edge at the centre up to the upper one."""
        top = foot - self.height
        return ((foot, 0.0), (foot, self.lower), (foot - self.side, self.lower), (top, self.upper), (top, 0.0))


def _height(mouth: float) -> float:
    return mouth * (BELOW_MOUTH + math.sqrt(1 - LEAN**2))


def kangaroo_of(bust: float, hem: float, room: float, mouth: float | None) -> Kangaroo:
    """The sizes of a pocket for a front.

    Parameters
    ----------
    hem, room
        Half the front's hem, and how high the pocket may reach, mm.
    mouth
        Its mouth as asked for, mm; by default a sixth of the bust, or what there is room for.

    Raises
    ------
    DraftError
        If there is no room for it.
    """
    lower = ACROSS * hem
    most = min((lower - LEAST_TOP) / LEAN, room / _height(1.0))
    usual = min(max(MOUTH_SHARE * bust, LEAST_MOUTH), MOST_MOUTH, max(most, LEAST_MOUTH))
    wanted = usual if mouth is None else mouth
    if not 0 < wanted <= most + 1e-6:
        raise DraftError(
            f"a kangaroo pocket with a mouth of {format_both(wanted)} finds no room on the front, which has it for"
            f" {format_both(max(most, 0.0))}: give more length, a smaller pocket_mouth, or leave pockets out",
            about="pockets" if mouth is None else "pocket_mouth",
        )
    return Kangaroo(wanted, lower)


def kangaroo_pocket(pocket: Kangaroo, seam: float) -> Piece:
    """The pocket, half of it on a fold: its mouths are hemmed, its lower edge is caught in the hem's seam."""
    corners = pocket.corners(pocket.height)
    names = ("bottom", "pocket side", "mouth", "top")
    edges = [Edge("middle", Line(corners[4], corners[0]).flatten(), 0.0, "fold")]
    for i, name in enumerate(names):
        allowance = PATCH_HEM if name == "mouth" else seam
        edges.append(Edge(name, Line(corners[i], corners[i + 1]).flatten(), allowance))
    middle = 0.4 * pocket.upper
    grain = ((0.2 * pocket.height, middle), (0.8 * pocket.height, middle))
    return Piece("kangaroo pocket", tuple(edges), grain=grain, label="centre front on fold")


def kangaroo_place(pocket: Kangaroo, foot: float) -> InnerLine:
    """Where it lies on the front, half of it; `foot` is the sewn hem, mm."""
    return InnerLine("line", pocket.corners(foot)[1:])
