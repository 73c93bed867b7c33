"""A sleeve with one seam: its cap solved to the armhole it is sewn into, and its outline down to the wrist end.

Front and back halves of the cap each meet their own half of the armhole. Rules are common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from pieces.errors import DraftError
from pieces.piece.curve import Cubic, Line, flatten, point_along, polyline_length
from pieces.piece.outline import Edge
from pieces.piece.piece import Notch
from pieces.piece.root import root
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

LEAST_CAP = 0.75 * INCH
"""A cap lower than this would pull: the sleeve is then too wide for its armhole."""

HIGHEST_CAP = 1 / 3
"""No cap is higher, as a share of its armhole, where the width of the sleeve is free: common practice, no source."""

FRONT_LEAD, BACK_LEAD = 0.5, 0.42
"""How far the two halves of a cap run level at the underarm, as a share of their width."""


@dataclass(frozen=True)
class Cap:
    """A solved cap, sewn sizes in mm: its height, and the widths of its front and back half."""

    height: float
    front: float
    back: float

    @property
    def width(self) -> float:
        """Width at the base, sewn."""
        return self.front + self.back


def half_cap(height: float, width: float, lead: float) -> Floats:
    """Half a cap from the underarm (height, width) up to its top at (0, 0): a flat S, level at both ends."""
    return flatten([Cubic((height, width), (height, width * (1 - lead)), (0.0, width * 0.5), (0.0, 0.0))])


@lru_cache(maxsize=64)  # a draft asks for the same cap again and again
def solve_cap(front: float, back: float, width: float) -> Cap:
    """The cap of sewn `width` whose halves are as long as the two halves of the armhole, mm.

    Raises
    ------
    DraftError
        If the armhole is too short for a sleeve of that width (a cap is never shorter than it is wide),
        or too long for any cap up to one and a half times as high as wide.
    """

    def halves(height: float) -> Cap:
        def surplus(share: float) -> float:
            longer = _length(height, width * share, FRONT_LEAD) - _length(height, width * (1 - share), BACK_LEAD)
            return longer - (front - back)

        share = root(surplus, 0.25, 0.75)
        return Cap(height, width * share, width * (1 - share))

    def excess(height: float) -> float:
        cap = halves(height)
        sewn = _length(height, cap.front, FRONT_LEAD) + _length(height, cap.back, BACK_LEAD)
        return sewn - (front + back)

    if excess(LEAST_CAP) > 0:
        raise DraftError(
            f"the sleeve cap cannot meet its armhole: the sleeve is {format_both(width)} wide, but the armhole is only"
            f" {format_both(front + back)} round: deepen armhole_depth, give less sleeve_room, or drop the"
            " shoulder less",
            about="sleeve_room",
        )
    if excess(1.5 * width) < 0:
        raise DraftError(
            f"the sleeve cap cannot meet its armhole: the armhole is {format_both(front + back)} round, too large for "
            f"a sleeve {format_both(width)} wide: give more sleeve_room, or a smaller armhole_depth",
            about="sleeve_room",
        )
    return halves(root(excess, LEAST_CAP, 1.5 * width))


def cap_of_height(height: float, front: float, back: float) -> Cap:
    """The cap of a height whose halves are as long as the two halves of the armhole, mm: its width follows."""

    def half(length: float, lead: float) -> float:
        return root(lambda width: _length(height, width, lead) - length, 0.0, length)

    return Cap(height, half(front, FRONT_LEAD), half(back, BACK_LEAD))


def sleeve_edges(cap: Cap, foot: float, wrist: float, seam: float) -> tuple[Edge, ...]:
    """Underarm behind, wrist, underarm in front, cap in front and behind; the cap's top lies one seam down.

    Parameters
    ----------
    foot, wrist
        Where the wrist end lies, and its sewn width, mm.
    seam
        The allowance of all edges, mm.
    """
    inset, base = (cap.width - wrist) / 2, seam + cap.height
    low, high = -(cap.back - inset), cap.front - inset
    return (
        Edge("back underarm", _underarm((base, -cap.back), (foot, low)), seam),
        Edge("wrist", Line((foot, low), (foot, high)).flatten(), seam),
        Edge("front underarm", _underarm((base, cap.front), (foot, high))[::-1].copy(), seam),
        Edge("front cap", half_cap(cap.height, cap.front, FRONT_LEAD) + (seam, 0.0), seam),
        Edge("back cap", (half_cap(cap.height, cap.back, BACK_LEAD) * (1, -1) + (seam, 0.0))[::-1].copy(), seam),
    )


def cap_notches(edges: tuple[Edge, ...]) -> tuple[Notch, ...]:
    """Notches that meet those of the armhole: a third of its length from the underarm, two behind."""
    front, back = edges[3], edges[4]
    ahead = Notch("front armhole", point_along(front.points, front.length / 3))
    behind = (Notch("back armhole", point_along(back.points, back.length * 2 / 3 - 10.0 * i)) for i in range(2))
    return ahead, *behind


def _underarm(top: tuple[float, float], foot: tuple[float, float]) -> Floats:
    reach = foot[0] - top[0]
    return flatten([Cubic(top, (top[0] + 0.25 * reach, top[1]), (foot[0] - 0.35 * reach, foot[1]), foot)])


def _length(height: float, width: float, lead: float) -> float:
    return polyline_length(half_cap(height, width, lead))
