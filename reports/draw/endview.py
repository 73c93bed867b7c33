"""The cloth seen from the end of the table: its layers, folds and edges, and which side of each layer is the right one.

A layer is a line that runs with the right side of the cloth on its left; across to scale, upwards not.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from reports.draw.kit.sheet import BLACK, GREY

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from reports.draw.kit.sheet import Sheet

    Floats = NDArray[np.float64]

WIDTH, WIDE = 258.0, 140.0
"""Of the view with its words, and of the laid cloth in it, points."""

BETWEEN, THICK = 11.0, 1.7
"""From layer to layer, and what one is thick by, points."""

MOST_PLIES = 4
"""Plies of a stack that are drawn."""

MEET, TOUCH = 1.5, 0.01
"""Points that edges which meet are kept apart, and ends of a layer that goes on."""


@dataclass(frozen=True)
class EndView:
    """Layers of cloth as lines, in points, with what is said of them.

    Parameters
    ----------
    layers
        Lines of shape (n, 2), the lower left of the laid cloth at (0, 0).
    left, right, middle
        What lies at the sides, and where edges meet in between (its place in points, and its name).
    size
        What is written below: how far it is across.
    seen
        From where it is seen.
    """

    layers: tuple[Floats, ...]
    left: str
    right: str
    size: str
    middle: tuple[float, str] | None = None
    seen: str = "Seen from the end of the cloth, your edge at the left"

    @property
    def height(self) -> float:
        """All that it takes, with its words, points."""
        return self._high + 52.0

    @property
    def _high(self) -> float:
        return max(float(layer[:, 1].max()) for layer in self.layers)

    def draw(self, page: Sheet, x: float, top: float) -> None:
        """Draw it, its upper left corner at (x, top)."""
        page.text(x, top - 8, self.seen, 7)
        page.text(x, top - 18, "Black: right side of the cloth. Grey: wrong side.", 7)
        low, left = top - 36 - self._high, x + (WIDTH - WIDE) / 2
        for layer in self.layers:
            for side, colour in ((-THICK / 2, GREY), (THICK / 2, BLACK)):
                page.line(_beside(layer, side) + (left, low), THICK, colour=colour)
        middle = low + self._high / 2
        page.text(left - 8, middle, self.left, 7, side="right", upright="center")
        page.text(left + WIDE + 8, middle, self.right, 7, upright="center")
        page.text(left + WIDE / 2, low - 12, self.size, 7, side="center")
        if self.middle:
            page.text(left + self.middle[0], low + self._high + 4, self.middle[1], 7, side="center")


def end_view(spread: str, bands: Sequence[tuple[float, float]], size: str, plies: int = 1) -> EndView:
    """The view of cloth laid in a spread.

    Parameters
    ----------
    bands
        For each band where its cloth begins and ends across, selvedges included, from its lower edge, mm.
    size
        The words below: its width.
    plies
        Layers of a stack.
    """
    scale = WIDE / bands[-1][1]
    if spread == "folded":
        return EndView((_fold(WIDE),), "fold", "selvedges", size)
    if spread == "part-folded":
        depth = bands[0][1] * scale
        return EndView((_fold(depth),), "fold", "selvedge", size, (depth, "inner selvedge"))
    if spread == "crosswise":
        seen = "Seen from where you stand, the start at the left"
        return EndView((_fold(WIDE)[::-1] * (-1, 1) + (WIDE, 0),), "cut ends", "fold", size, None, seen)
    if spread == "double-folded":
        meet = bands[0][1] * scale
        return EndView((_two_folds(meet),), "lower fold", "upper fold", size, (meet, "selvedges meet"))
    if spread == "tube":
        return EndView((_two_folds(WIDE / 2, TOUCH),), "lower fold", "upper fold", size)
    drawn = min(plies, MOST_PLIES)
    faces = spread == "face-to-face"
    layers = (_flat(k * BETWEEN, turned=faces and k % 2 == 1) for k in range(drawn))
    words = "lower selvedge", "upper selvedge"
    middle = (WIDE / 2, f"{drawn} of {plies} plies drawn") if drawn < plies else None
    return EndView(tuple(layers), *words, size, middle)


def _beside(line: Floats, left: float) -> Floats:
    """A line moved to its left."""
    import shapely

    return shapely.get_coordinates(shapely.LineString(line).offset_curve(left))


def _flat(height: float, *, turned: bool) -> Floats:
    """A layer right side up or, turned, down."""
    ends = [(0.0, height), (WIDE, height)]
    return np.array(ends[::-1] if turned else ends)


def _fold(depth: float) -> Floats:
    """Cloth folded at the left, its upper layer `depth` wide: from the upper edge to the lower one."""
    return np.vstack([[(depth, BETWEEN)], _bend(), [(WIDE, 0.0)]])


def _two_folds(meet: float, apart: float = MEET) -> Floats:
    """Cloth folded at the left and at the right, its edges over one another's ends at `meet`."""
    right = _bend()[::-1] * (-1, 1) + (WIDE, 0)
    return np.vstack([[(meet - apart, BETWEEN)], _bend(), right, [(meet + apart, BETWEEN)]])


def _bend() -> Floats:
    """Half a circle round the left end, from the upper layer down to the lower one."""
    turn = np.linspace(np.pi / 2, 3 * np.pi / 2, 13)
    return (np.column_stack([np.cos(turn), np.sin(turn)]) + (1, 1)) * BETWEEN / 2
