"""The cloth as it is sold."""

from __future__ import annotations

from dataclasses import dataclass

from nesting.errors import SpreadError
from pieces.units import format_both


@dataclass(frozen=True)
class Fabric:
    """A fabric off the roll.

    Parameters
    ----------
    name
        What the buyer calls it.
    width
        Full width, selvedges included, mm; of a tube its circumference: its flat width once opened.
    selvedge
        Width of each selvedge, mm, of which no piece is cut.
    nap
        Whether it has a nap or a one-way print, so that the tops of all pieces must lie one way.
    gap
        Distance to keep between pieces for the blade, mm.

    Raises
    ------
    SpreadError
        If nothing is left between the selvedges, or a size is negative or not finite.
    """

    name: str
    width: float
    selvedge: float = 0.0
    nap: bool = False
    gap: float = 0.0

    def __post_init__(self) -> None:
        for what in ("width", "selvedge", "gap"):
            if not 0 <= getattr(self, what) < float("inf"):
                raise SpreadError(f"the {what} of '{self.name}' must be 0 mm or more, not {getattr(self, what)}")
        if self.usable_width <= 0:
            raise SpreadError(
                f"'{self.name}' is {format_both(self.width)} wide and its selvedges take"
                f" {format_both(2 * self.selvedge)}: nothing is left to cut; check width and selvedge"
            )

    @property
    def usable_width(self) -> float:
        """Width between the selvedges, mm."""
        return self.width - 2 * self.selvedge

    @property
    def turns(self) -> tuple[float, ...]:
        """Turns that keep the grainline parallel to the selvedge, and the nap running one way if there is one."""
        return (0.0,) if self.nap else (0.0, 180.0)
