"""The layout problem: what is to be laid, and in which ways each thing may lie.

Everything a cloth asks for (bands, nap, folds, mirrored layers) is settled before the search starts:
each item comes with the list of its *variants*, and a variant is an outline already turned and mirrored,
with the range of heights at which it may lie. The search moves outlines; it knows nothing of cloth.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING

from nesting.cloth.band import Band
from nesting.errors import NestingError
from nesting.problem.item import Choice, Item, Variant
from nesting.problem.transform import Transform

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    import numpy as np
    from numpy.typing import ArrayLike, NDArray

    from nesting.cloth.repeat import Repeat


@dataclass(frozen=True, eq=False)
class Problem:
    """A frozen layout problem: bands, items, and the gap that cutting needs.

    Parameters
    ----------
    bands
        Strips of cloth side by side across the laid cloth; they share one length, but for those of stretches.
    items
        What is to be laid.
    gap
        Least distance between two outlines, mm (blade or shears). Edges of the cloth need none.
    choices
        Which items others may stand in for.
    repeat
        The cloth's pattern, where pieces are to be matched on it.
    border
        Where across the laid cloth the border lies on which edges of pieces are pinned, mm; 0 where there is none.
    faults
        Outlines, each of shape (n, 2), mm, on which nothing may lie.
    lengths
        How many times the marker's length of cloth lies on the table, each with its layers counted in the bands.
    stretches
        Problems laid one after another along the cloth, of which this is the whole; their bands and items follow one
        another here. Pieces may choose their stretch, so that proofs are made of `loosest`, which has none.
    alternatives
        Problems of which any may be laid instead: the same pieces, with other garments turned on the nap. They have
        none in turn, and the same `loosest`.
    loosest
        The problem that proofs are made of, where this one is settled more strictly than the cloth asks: every marker
        of this one and of its alternatives, and of what might be settled in their stead, is a marker of it.
    """

    bands: tuple[Band, ...]
    items: tuple[Item, ...]
    gap: float = 0.0
    name: str = field(default="", kw_only=True)
    choices: tuple[Choice, ...] = field(default=(), kw_only=True)
    repeat: Repeat | None = field(default=None, kw_only=True)
    faults: tuple[NDArray[np.float64], ...] = field(default=(), kw_only=True)
    border: float = field(default=0.0, kw_only=True)
    lengths: int = field(default=1, kw_only=True)
    stretches: tuple[Problem, ...] = field(default=(), kw_only=True)
    alternatives: tuple[Problem, ...] = field(default=(), kw_only=True)
    loosest: Problem | None = field(default=None, kw_only=True)

    def __post_init__(self) -> None:
        if not self.num_placements:
            raise NestingError("there is nothing to lay: the list of pieces is empty")
        assert not self.stretches or (self.loosest and not self.loosest.stretches)
        for item in self.items:
            for variant in item.variants:
                variant.outline.flags.writeable = False

    @property
    def to_prove(self) -> Problem:
        """The problem that proofs are made of."""
        return self.loosest or self

    def proved_by(self, loosest: Problem) -> Problem:
        """The problem, and its alternatives, with another that proofs are made of."""
        others = tuple(replace(other, loosest=loosest) for other in self.alternatives)
        return replace(self, loosest=loosest, alternatives=others)

    def each(self, change: Callable[[Problem], Problem]) -> Problem:
        """The problem with a change made to it, to its alternatives, and to what proofs are made of."""
        loosest = change(self.loosest) if self.loosest else None
        alternatives = tuple(replace(change(other), loosest=loosest) for other in self.alternatives)
        return replace(change(self), alternatives=alternatives, loosest=loosest)

    @property
    def width(self) -> float:
        """Across the laid cloth, from the lowest band's edge to the highest's, mm."""
        return max(band.high for band in self.bands) - min(band.low for band in self.bands)

    @property
    def cloth_width(self) -> float:
        """Usable cloth over all bands and layers, mm: what the marker's length is multiplied by."""
        if self.stretches:
            return max(stretch.cloth_width for stretch in self.stretches)
        return sum(band.cloth_width for band in self.bands)

    @cached_property
    def piece_area(self) -> float:
        """Area of all pieces wanted, over all layers, mm²."""
        return sum(item.piece_area * item.quantity * item.yields for item in self.items)

    @property
    def num_placements(self) -> int:
        """How many outlines are to be placed, if no other items stand in."""
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
                raise NestingError(f"'{label}' does not fit across the strip of {width:g} in any of its turns")
            items.append(Item(label, quantity, tuple(variants)))
        return cls((band,), tuple(items), gap, name=name)


def place_outline(outline: ArrayLike, *, turn: float = 0.0, mirrored: bool = False) -> NDArray[np.float64]:
    """Turn an outline over (y to -y) if mirrored, then by `turn` degrees, and move its box to (0, 0).

    The result runs counter-clockwise. Quarter turns are exact.
    """
    return Transform.to_corner(outline, turn, mirrored).outline(outline)
