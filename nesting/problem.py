"""The layout problem: what is to be laid, and in which ways each thing may lie.

Everything a cloth asks for (bands, nap, folds, mirrored layers) is settled before the search starts:
each item comes with the list of its *variants*, and a variant is an outline already turned and mirrored,
with the range of heights at which it may lie. The search moves outlines; it knows nothing of cloth.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from nesting.band import Band
from nesting.errors import NestingError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray

    from pieces import Piece


@dataclass(frozen=True, eq=False)
class Variant:
    """One way in which an item may lie.

    Parameters
    ----------
    outline
        Shape (n, 2), mm: the true cut line, turned and mirrored, counter-clockwise, without the
        repeated last point, its bounding box starting at (0, 0). x runs along the cloth.
    turn
        Degrees by which the piece as drafted was turned (after mirroring).
    mirrored
        Whether the piece as drafted was turned over (y to -y) before it was turned.
    band
        Index into the problem's bands.
    low, high
        The bounding box's lowest and highest allowed y. Equal for an item pinned to a fold.
    on_fold
        Whether the outline is half a piece, with its fold edge on the fold of its band.
    """

    outline: NDArray[np.float64]
    turn: float
    mirrored: bool
    band: int
    low: float
    high: float
    on_fold: bool = False

    @property
    def length(self) -> float:
        """Size along the cloth, mm."""
        return float(self.outline[:, 0].max())

    @property
    def height(self) -> float:
        """Size across the cloth, mm."""
        return float(self.outline[:, 1].max())


@dataclass(frozen=True, eq=False)
class Item:
    """Something to be laid a number of times: a piece, or one hand of a mirrored pair.

    Parameters
    ----------
    name
        The piece's name.
    quantity
        How many times it must lie on the cloth.
    variants
        The ways it may lie; at least one.
    yields
        Pieces of cloth wanted that one placement gives (2 in a mirrored double layer); a wasted
        twin is not counted.
    piece
        The pattern piece it comes from, if it comes from one.
    """

    name: str
    quantity: int
    variants: tuple[Variant, ...]
    yields: int = 1
    piece: Piece | None = None

    @cached_property
    def area(self) -> float:
        """Area of one placement's outline, mm²: of one layer."""
        return polygon_area(self.variants[0].outline)


@dataclass(frozen=True, eq=False)
class Problem:
    """A frozen layout problem: bands, items, and the gap that cutting needs.

    Parameters
    ----------
    bands
        Strips of cloth side by side across the laid cloth; they share one length.
    items
        What is to be laid.
    gap
        Least distance between two outlines, mm (blade or shears). Edges of the cloth need none.
    """

    bands: tuple[Band, ...]
    items: tuple[Item, ...]
    gap: float = 0.0
    name: str = field(default="", kw_only=True)

    def __post_init__(self) -> None:
        if not self.items:
            raise NestingError("there is nothing to lay: the list of pieces is empty")
        for item in self.items:
            for variant in item.variants:
                variant.outline.flags.writeable = False

    @property
    def width(self) -> float:
        """Across the laid cloth, from the lowest band's edge to the highest's, mm."""
        return max(band.high for band in self.bands) - min(band.low for band in self.bands)

    @property
    def cloth_width(self) -> float:
        """Usable cloth over all bands and layers, mm: what the marker's length is multiplied by."""
        return sum(band.cloth_width for band in self.bands)

    @cached_property
    def piece_area(self) -> float:
        """Area of all pieces wanted, over all layers, mm²."""
        return sum(item.area * item.quantity * item.yields for item in self.items)

    @property
    def num_placements(self) -> int:
        """How many outlines are to be placed."""
        return sum(item.quantity for item in self.items)

    @classmethod
    def from_outlines(
        cls,
        width: float,
        outlines: Sequence[ArrayLike],
        quantities: Sequence[int],
        turns: Sequence[Sequence[float]],
        *,
        names: Sequence[str] | None = None,
        gap: float = 0.0,
        name: str = "",
    ) -> Problem:
        """Bare outlines on an open strip of cloth: open instances, jigsaws, tests.

        Parameters
        ----------
        width
            Across the strip, in the outlines' own unit.
        outlines
            One array of shape (n, 2) a kind of piece.
        quantities, turns
            How many of each kind, and the turns it allows, in degrees.
        """
        band = Band("strip", 0.0, width)
        labels = names or [f"piece {i}" for i in range(len(outlines))]
        items = []
        for label, outline, quantity, allowed in zip(labels, outlines, quantities, turns, strict=True):
            variants = []
            for turn in allowed:
                shape = place_outline(outline, turn=turn)
                height = float(shape[:, 1].max())
                if height <= width * (1 + 1e-9):
                    variants.append(Variant(shape, turn, False, 0, 0.0, max(0.0, width - height)))
            if not variants:
                raise NestingError(f"'{label}' fits across the strip of {width:g} in none of its turns")
            items.append(Item(label, quantity, tuple(variants)))
        return cls((band,), tuple(items), gap, name=name)


def polygon_area(outline: NDArray[np.float64]) -> float:
    """Area of a closed outline, shape (n, 2), by the shoelace formula; never negative."""
    x, y = outline[:, 0], outline[:, 1]
    return abs(float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))) / 2


def place_outline(outline: ArrayLike, *, turn: float = 0.0, mirrored: bool = False) -> NDArray[np.float64]:
    """Turn an outline over (y to -y) if mirrored, then by `turn` degrees, and move its box to (0, 0).

    The result runs counter-clockwise. Quarter turns are exact.
    """
    points = np.array(outline, dtype=np.float64)
    if mirrored:
        points[:, 1] *= -1
    quarter = turn / 90.0
    if quarter == round(quarter):
        cos, sin = [(1, 0), (0, 1), (-1, 0), (0, -1)][round(quarter) % 4]
    else:
        cos, sin = np.cos(np.radians(turn)), np.sin(np.radians(turn))
    points = points @ np.array([[cos, sin], [-sin, cos]], dtype=np.float64)
    x, y = points[:, 0], points[:, 1]
    if np.dot(x, np.roll(y, -1)) < np.dot(y, np.roll(x, -1)):
        points = points[::-1]
    return np.ascontiguousarray(points - points.min(axis=0))
