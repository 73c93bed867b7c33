"""Hems: what is cut beyond the finished edge, to be turned in."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from pieces.piece.curve import point_along, polyline_length
from pieces.piece.outline import Edge, move_out
from pieces.piece.piece import InnerLine, Notch
from pieces.units import INCH

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

HEM_FOLD = "hem fold"
"""The notch on a seam where the hem is folded."""

LEAST = 0.1
"""A hem that is shallower, mm, is none."""

EASED = 1 / 4
"""Below a side that leans out by more, a millimetre down, the cloth is cut straight on, and eased in: there is too much
of it to be taken out at the sides alone. Common practice, no source."""

UNDER = INCH * 3 / 8
"""Turned under first, unless the hem itself is narrower: common practice, no source."""


def turned_twice(depth: float) -> float:
    """The allowance of a hem of a finished depth, mm, whose raw edge is turned under first."""
    return depth + min(depth, UNDER)


def turned_up(side: Floats, hem: Floats, deep: float) -> tuple[Floats, Floats]:
    """A side and the lower edge of a piece whose hem is cut on: as long as the garment where it lies once turned up.

    So it widens again below a garment that narrows. All are sew lines.

    Parameters
    ----------
    side, hem
        Down to the finished hem, which is square to it; from the middle to the side.
    deep
        How much is turned up, mm.

    Returns
    -------
    pair of arrays of shape (n, 2)
        The side down to the raw edge, and that edge.
    """
    if deep < LEAST:
        return side, hem
    drawn = Edge("hem", hem.copy(), deep)
    raw, lies_on = move_out(drawn, deep), move_out(drawn, -deep)
    raw[0] = hem[0] + (deep, 0.0)  # the middle runs straight on
    down, out = side[-1] - side[-2]
    more = polyline_length(lies_on) - polyline_length(raw) if out < EASED * down else 0.0
    if more >= 0:
        way = raw[-1] - raw[-2]
        raw[-1] += more * way / np.hypot(*way)
    else:
        raw = _up_to(raw, polyline_length(raw) + more)
    below = raw[-1] - side[-1]
    too_low = below * (1 - deep / np.hypot(*below))  # all sides go on as far, whether they turn in or out
    raw -= np.linspace(0, 1, len(raw))[:, np.newaxis] * too_low
    return np.vstack([side, raw[-1:]]), raw


def fold_of(side: Floats, deep: float) -> tuple[Notch, ...]:
    """The notch where a hem so deep, mm, is folded, on a side by `turned_up`."""
    return (Notch(HEM_FOLD, (float(side[-2, 0]), float(side[-2, 1]))),) if deep >= LEAST else ()


def fold_line(hem: Floats, deep: float) -> tuple[InnerLine, ...]:
    """The line that a hem so deep, mm, is folded at."""
    return (InnerLine("line", tuple((float(x), float(y)) for x, y in hem)),) if deep >= LEAST else ()


def _up_to(line: Floats, length: float) -> Floats:
    """A line as far as so many mm from its start."""
    along = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))))
    return np.vstack([line[along < length - 1e-6], point_along(line, length)])
