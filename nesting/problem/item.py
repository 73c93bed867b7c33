"""What is to be laid, and the ways in which it may lie."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from nesting.problem.outline import polygon_area
from nesting.problem.pierced import pierced

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from nesting.problem.transform import Transform
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
    tilt
        Degrees of the turn that take it off the grain.
    most_tilt
        Degrees by which it may be tilted either way. A few tilts are tried; a proof holds for all
        (`nesting.problem.tilt`).
    match
        Point of the outline, mm, that must lie on the lines of the cloth's pattern; None lies anywhere.
    transform
        What brings the piece as drafted into `outline`'s frame, marks and all; None of a bare outline.
    """

    outline: NDArray[np.float64]
    turn: float
    mirrored: bool
    band: int
    low: float
    high: float
    on_fold: bool = False
    tilt: float = 0.0
    most_tilt: float = 0.0
    match: tuple[float, float] | None = None
    transform: Transform | None = None

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
        Pieces wanted that one placement gives: 2 in a mirrored double layer, 1 of a half on its fold; a wasted
        twin is not counted.
    piece
        The pattern piece it comes from, if it comes from one.
    wastes_twin
        Whether it is cut double although not all of what is cut is needed.
    """

    name: str
    quantity: int
    variants: tuple[Variant, ...]
    yields: int = 1
    piece: Piece | None = None
    wastes_twin: bool = False

    def wasting(self, quantity: int, yields: int) -> Item:
        """The same cut double where not all of it is needed: so named, and its twin wasted."""
        name = f"{self.name} (twin wasted)"
        return replace(self, name=name, quantity=quantity, yields=yields, wastes_twin=True)

    @cached_property
    def area(self) -> float:
        """Area of one placement's outline, mm²: of one layer."""
        return polygon_area(self.variants[0].outline)

    @cached_property
    def piece_area(self) -> float:
        """Area of one piece as it is cut, mm²: of a half on a fold both halves; what is cut out of it is left out."""
        way = self.variants[0]
        area = self.area
        if self.piece and self.piece.has_hole and way.transform:
            area = float(pierced(way.outline, self.piece, way.transform, as_half=way.on_fold).area)
        return area * (2 if way.on_fold else 1)


@dataclass(frozen=True)
class Choice:
    """One item that others may stand in for: a pair cut at once from folded cloth, or one by one from a single layer.

    Parameters
    ----------
    item
        Index of the item that is laid as a rule.
    instead
        Indices of the items of which one placement each does the same; an index may be there twice. Each of them
        belongs to this choice alone, and its own quantity is 0.
    """

    item: int
    instead: tuple[int, ...]
