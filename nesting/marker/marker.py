"""The marker: where each piece lies on the cloth."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from nesting.marker.picture import draw_marker
from pieces.summary import aligned, units_asked
from pieces.units import Units, format_bound, format_cloth, format_need, metres_bound, metres_need, percent_reached

if TYPE_CHECKING:
    from collections.abc import Iterator

    import numpy as np
    from numpy.typing import NDArray

    from nesting.problem.item import Item, Variant
    from nesting.problem.problem import Problem
    from pieces.summary import UnitsAsked


@dataclass(frozen=True)
class Placement:
    """One outline in place.

    Parameters
    ----------
    item, copy, variant
        Index of the item in the problem, which copy of it (from 0), and index into the item's variants.
    x, y
        Lower left corner of the outline's bounding box, mm: from the marker's start, and across the cloth.
    """

    item: int
    copy: int
    variant: int
    x: float
    y: float


@dataclass(frozen=True, eq=False)
class Marker:
    """A layout: every item of a problem in its place, and the length of cloth they take."""

    problem: Problem
    placements: tuple[Placement, ...]
    length: float

    @property
    def density(self) -> float:
        """Share of the usable cloth that becomes pieces, 0 to 1 (the trade's marker efficiency)."""
        return self.problem.piece_area / (self.length * self.problem.cloth_width)

    @property
    def cloth_length(self) -> float:
        """Length of cloth it takes, mm: more than its own where several lengths lie on one another."""
        return self.length * self.problem.lengths

    def outlines(self) -> Iterator[tuple[Placement, Item, Variant, NDArray[np.float64]]]:
        """Every placement with its item, its variant, and the true cut line in place, shape (n, 2)."""
        for placement in self.placements:
            item = self.problem.items[placement.item]
            variant = item.variants[placement.variant]
            yield placement, item, variant, variant.outline + (placement.x, placement.y)

    def __repr__(self) -> str:
        return (
            f"<Marker: {len(self.placements)} placements, {metres_need(self.length)}, {percent_reached(self.density)}>"
        )

    def _repr_svg_(self) -> str:
        placed = ((item.name, outline) for _, item, _, outline in self.outlines())
        return draw_marker(self.problem.bands, self.problem.faults, placed, self.length, repr(self))


@dataclass(frozen=True, eq=False)
class Result:
    """What a search found, and how far the best possible could still be.

    Parameters
    ----------
    marker
        The shortest checked marker.
    bound, bound_held
        A length that no marker can undercut, mm, and which argument proved it.
    iterations, seconds, work, seed
        How long the search went on, work in efforts as `MaxWork` counts it, and what it started from.
    stopped_by
        ``"proved"``, ``"time"``, ``"effort"``, ``"iterations"``, ``"no improvement"``, ``"target"`` or ``"interrupt"``;
        ``"purchase"`` once no length that was aimed at can be reached;
        ``"criterion"`` by a function that gives no reason; ``"hand"`` once pieces were moved by hand.
    """

    marker: Marker
    bound: float
    bound_held: str
    iterations: int
    seconds: float
    seed: int
    stopped_by: str
    work: float = field(default=0.0, kw_only=True)

    @property
    def at_least(self) -> float:
        """The bound as it is shown, mm: the marker's own length where it is proved that none is shorter.

        The bound itself is then less by what the check lets pass (`nesting.tolerance`), which no print shows.
        """
        return self.marker.length if self.stopped_by == "proved" else self.bound

    @property
    def gap(self) -> float:
        """Most that could still be saved, as a share of the marker's length."""
        return max(0.0, 1 - self.at_least / self.marker.length)

    def __repr__(self) -> str:
        return f"<Result: {metres_need(self.marker.length)}, at least {metres_bound(self.at_least)}, {self.stopped_by}>"

    def _repr_svg_(self) -> str:
        return self.marker._repr_svg_()

    def summary(self, units: UnitsAsked = Units.INCHES) -> str:
        """Aligned lines for a person: the marker's length, the cloth it takes, density, bound, effort, seed."""
        written = units_asked(units)
        return aligned(
            (
                ("length", format_need(self.marker.length, written)),
                ("cloth", f"{format_cloth(self.marker.cloth_length, written)}, before any allowance"),
                ("density", percent_reached(self.marker.density)),
                ("at least", f"{format_bound(self.at_least, written)} ({self.bound_held})"),
                ("effort", f"{self.work:.2f}"),
                ("time", f"{self.seconds:.2f} s ({self.stopped_by})"),
                ("seed", f"{self.seed}"),
            )
        )
