"""What stands on a neckline instead of a rib band: a stand collar, or a hood of two halves.

All sizes are common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.errors import DraftError
from pieces.piece.curve import Cubic, Line, flatten, point_along, polyline_length
from pieces.piece.outline import Edge
from pieces.piece.piece import Notch, Piece
from pieces.piece.root import root
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from pieces.body.ranges import Wearer

    Floats = NDArray[np.float64]

RISE = 0.5 * INCH
"""How far the neck seam of a stand collar rises to its front, so that it leans to the neck."""

HOOD_HEIGHT: dict[Wearer, float] = {"women": 13.5 * INCH, "men": 14 * INCH, "children": 12 * INCH}
"""From the neckline over the top of the head."""

HOOD_DEPTH = 0.72
"""From the face to the back of the head, as a share of the height."""

FACE_HEM = INCH
"""Turned in round the face."""

NO_CORD = (
    "hood: drafted without a cord; at a child's neck a cord is dangerous, and often against the law: see local codes"
)


def stand_collar(half: float, height: float, ends: float, neck_seam: float, shoulder: float) -> Piece:
    """A stand collar, cut twice on a fold at the centre back.

    Parameters
    ----------
    half
        Half the neckline that it is sewn to, up to the finished front edge, mm.
    height, ends, neck_seam
        Finished height; allowance of the front ends, and of upper edge and neckline, mm.
    shoulder
        How far from the centre back it meets the shoulder seam, mm.
    """

    def neck(reach: float) -> Floats:
        lean = 1.6 * RISE / reach
        start, end = (height, 0.0), (height - RISE, reach)
        return Cubic(start, (height, 0.4 * reach), (end[0] + 0.35 * reach * lean, 0.65 * reach), end).flatten()

    reach = root(lambda y: polyline_length(neck(y)) - half, 0.5 * half, half)
    low = neck(reach)
    dx, dy = -1.6 * RISE / reach, 1.0
    size = (dx**2 + dy**2) ** 0.5
    top = (float(low[-1, 0]) - height * dy / size, float(low[-1, 1]) + height * dx / size)
    upper = Cubic(top, (top[0] - 0.35 * reach * dx, top[1] - 0.35 * reach), (0.0, 0.4 * reach), (0.0, 0.0))
    edges = (
        Edge("centre back", Line((0.0, 0.0), (height, 0.0)).flatten(), 0.0, "fold"),
        Edge("neck", low, neck_seam),
        Edge("front end", Line((float(low[-1, 0]), float(low[-1, 1])), top).flatten(), ends),
        Edge("upper edge", upper.flatten(), neck_seam),
    )
    grain = ((0.2 * height, 0.0), (0.8 * height, 0.0))
    notches = (Notch("shoulder seam", point_along(low, shoulder)),)
    return Piece("collar", edges, cut=2, grain=grain, notches=notches, label="centre back on fold")


def hood(half: float, height: float, seam: float, neck_seam: float, shoulder: float) -> Piece:
    """A hood of two halves with a seam over the head, hemmed round the face.

    Parameters
    ----------
    half
        Half the neckline, up to the finished front edge, mm.
    shoulder
        How far from the front edge it meets the shoulder seam, mm.

    Raises
    ------
    DraftError
        If the neckline is longer than the hood is deep.
    """
    deep, drop = HOOD_DEPTH * height, 1.5 * INCH

    def neck(reach: float) -> Floats:
        start, end = (height + drop, 0.0), (height, reach)
        return Cubic(start, (height + drop, 0.45 * reach), (height, 0.6 * reach), end).flatten()

    reach = root(lambda y: polyline_length(neck(y)) - half, 0.3 * half, half)
    if not 0.5 * deep < reach <= 1.8 * deep:
        raise DraftError(
            f"a hood {format_both(height)} high does not go with half a neckline of {format_both(half)}: choose"
            " another hood_height",
            about="hood_height",
        )
    low, back = neck(reach), max(deep, reach + 0.5 * INCH)
    over = flatten(
        [
            Cubic((height, reach), (0.85 * height, reach), (0.7 * height, back), (0.45 * height, back)),
            Cubic((0.45 * height, back), (0.15 * height, back), (0.0, 0.75 * back), (0.0, 0.45 * back)),
            Line((0.0, 0.45 * back), (0.0, 0.0)),
        ]
    )
    edges = (
        Edge("face", Line((0.0, 0.0), (height + drop, 0.0)).flatten(), FACE_HEM),
        Edge("neck", low, neck_seam),
        Edge("over the head", over, seam),
    )
    grain = ((0.3 * height, 0.35 * back), (0.8 * height, 0.35 * back))
    notches = (Notch("shoulder seam", point_along(low, shoulder)),)
    return Piece("hood", edges, cut=2, mirrored_pair=True, grain=grain, notches=notches)
