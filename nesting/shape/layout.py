"""Layout: positions of all outlines as arrays, as the search moves them about."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nesting.marker.marker import Marker, Placement

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nesting.shape.shapes import Shapes


@dataclass(eq=False)
class Layout:
    """Where each outline lies; outlines may overlap.

    Parameters
    ----------
    shape
        (n,), number of each outline's shape; faults are among them.
    x, y
        (n,), mm: lower left corner of the true outline's bounding box.
    length
        Of the strip they are to lie in, mm.
    """

    shape: NDArray[np.int64]
    x: NDArray[np.float64]
    y: NDArray[np.float64]
    length: float

    def copy(self) -> Layout:
        """The same layout, free to be changed."""
        return Layout(self.shape.copy(), self.x.copy(), self.y.copy(), self.length)

    def extent(self, shapes: Shapes) -> float:
        """How far the true outlines reach, mm."""
        lengths = np.array([shape.length for shape in shapes.all])
        return float((self.x + lengths[self.shape]).max())

    def to_marker(self, shapes: Shapes) -> Marker:
        """The marker, its length the true extent."""
        placements, copies = [], [0] * len(shapes.problem.items)
        for number, x, y in zip(self.shape.tolist(), self.x.tolist(), self.y.tolist(), strict=True):
            shape = shapes.all[number]
            if shape.item >= len(copies):
                continue
            placements.append(Placement(shape.item, copies[shape.item], shape.variant, x, y))
            copies[shape.item] += 1
        return Marker(shapes.problem, tuple(placements), self.extent(shapes))

    @classmethod
    def from_marker(cls, marker: Marker, shapes: Shapes) -> Layout:
        """The layout of a marker of the same problem."""
        placements = sorted(marker.placements, key=lambda p: (p.item, p.copy))
        placed = [(number, shapes.all[number].first, shapes.all[number].low) for number in shapes.faults]
        placed += [(shapes.number_of(p.item, p.variant), p.x, p.y) for p in placements]
        number, x, y = np.array(placed, dtype=np.float64).T
        return cls(number.astype(np.int64), x, y, marker.length)
