"""What marks and labels are drawn on: a picture's sheet, or paper at full scale."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, Protocol

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]
    Style = str | tuple[float, tuple[float, ...]]

Side = Literal["left", "center", "right"]
Upright = Literal["baseline", "center", "top", "bottom"]


class Surface(Protocol):
    """Lines, areas and lettering, in units of which a printed point takes `pt`."""

    @property
    def pt(self) -> float:
        """Units that a printed point takes."""

    def line(
        self, points: ArrayLike, width: float = 0.6, *, style: Style = "-", colour: str = "black", closed: bool = False
    ) -> None:
        """Draw a line through points, shape (n, 2)."""

    def lines(self, segments: Sequence[ArrayLike], width: float, colour: str) -> None:
        """Draw many short lines at once."""

    def area(self, points: ArrayLike, colour: str) -> None:
        """Fill an outline."""

    def arrow(self, start: ArrayLike, end: ArrayLike, width: float = 0.6, *, both: bool = False) -> None:
        """Draw a line with a head at its end, or at both ends."""

    def text(
        self,
        x: float,
        y: float,
        words: str,
        size: float = 7,
        *,
        bold: bool = False,
        side: Side = "left",
        upright: Upright = "baseline",
        rotation: float = 0,
    ) -> None:
        """Write words; `side` and `upright` say which point of them lies at (x, y)."""


def arrow_heads(start: ArrayLike, end: ArrayLike, pt: float, *, both: bool) -> list[Floats]:
    """The outlines of a line's head at its end, or of those at both ends."""
    a, b = np.asarray(start, dtype=np.float64), np.asarray(end, dtype=np.float64)
    heads = []
    for tip, tail in ((b, a), (a, b))[: 1 + both]:
        along = (tail - tip) / max(float(np.hypot(*(tail - tip))), 1e-9) * 5 * pt
        across = np.array([-along[1], along[0]]) * 0.32
        heads.append(np.array([tip, tip + along + across, tip + along - across]))
    return heads
