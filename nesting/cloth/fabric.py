"""The cloth as it is sold."""

from __future__ import annotations

from numbers import Real
from typing import Literal

from nesting.errors import SpreadError
from pieces.dimensioned import NO_LENGTH, Dimensioned, Mm
from pieces.require import is_one_of, require_all, require_whole, told
from pieces.units import format_both

MOST_SHRINKAGE = 50.0
"""Cloth that loses more, percent, is no cloth to cut: the figure is a mistake."""


class Fabric(Dimensioned):
    """A fabric off the roll. Lengths are given with their units, such as ``"60 in"``.

    Parameters
    ----------
    name
        What the buyer calls it.
    width
        Full width, selvedges included, mm; of a tube its circumference: its flat width once opened.
    selvedge
        Width of each selvedge, mm, of which no piece is cut.
    nap
        Whether it has a nap or a one-way print, so that the tops of all pieces must lie one way; or
        ``"by garment"``, where those of each garment must.
    gap
        Distance to keep between pieces for the blade, mm.
    repeat_along, repeat_across
        Length and width of a pattern on which pieces are to be matched, mm; 0 where there is none.
    shrinkage
        Percent that it loses along and across once pieces are cut of it: they are cut as much larger.
    border
        How far from its lower edge the named edges of pieces lie that have one (`Piece.border`), mm: on a motif that
        is printed along one selvedge; 0 where there is none.

    Raises
    ------
    SpreadError
        If nothing is left between the selvedges, or a size is negative or not finite.
    """

    name: str
    width: Mm
    selvedge: Mm = NO_LENGTH
    nap: bool | Literal["by garment"] = False
    gap: Mm = NO_LENGTH
    repeat_along: Mm = NO_LENGTH
    repeat_across: Mm = NO_LENGTH
    shrinkage: tuple[float, float] = (0.0, 0.0)
    border: Mm = NO_LENGTH

    def __post_init__(self) -> None:
        super().__post_init__()
        if not (isinstance(self.nap, bool) or is_one_of(self.nap, ("by garment",))):
            raise SpreadError(f"the nap of '{self.name}' must be True, False or \"by garment\", not {told(self.nap)}")
        percents = require_all(self.shrinkage, Real, f"the shrinkage of '{self.name}'", "two numbers, along and across")
        object.__setattr__(self, "shrinkage", percents)
        if len(percents) != 2:
            raise SpreadError(f"the shrinkage of '{self.name}' must be two percents, along and across, not {percents}")
        for what in ("width", "selvedge", "gap", "repeat_along", "repeat_across", "border"):
            if not 0 <= getattr(self, what) < float("inf"):
                raise SpreadError(
                    f"the {what.replace('_', ' ')} of '{self.name}' must be 0 mm or more, not {getattr(self, what)}"
                )
        if not all(0 <= percent < MOST_SHRINKAGE for percent in self.shrinkage):
            raise SpreadError(
                f"'{self.name}' shrinks by 0 to {MOST_SHRINKAGE:g} percent each way, not {self.shrinkage}:"
                " measure a square of it before and after the wash"
            )
        if self.usable_width <= 0:
            raise SpreadError(
                f"'{self.name}' is {format_both(self.width)} wide, but its selvedges take"
                f" {format_both(2 * self.selvedge)}: nothing is left to cut; check width and selvedge"
            )

    @property
    def growth(self) -> tuple[float, float]:
        """Factors along and across by which pieces are cut larger, so that they are right once the cloth has shrunk."""
        along, across = self.shrinkage
        return 1 / (1 - along / 100), 1 / (1 - across / 100)

    @property
    def usable_width(self) -> float:
        """Width between the selvedges, mm."""
        return self.width - 2 * self.selvedge

    def heads(self, garments: int, before: int = 0) -> list[tuple[tuple[float, ...], int]]:
        """Ways the tops of garments may point, degrees, and for how many garments each holds.

        Where only those of one garment must agree, every second garment points the other way, counted on from those
        laid before.
        """
        require_whole(garments, "the garments of heads", least=0)
        require_whole(before, "the garments before", least=0)
        if not self.nap:
            return [((0.0, 180.0), garments)]
        turned = (garments + before) // 2 - before // 2 if self.nap == "by garment" else 0
        ways = [((0.0,), garments - turned), ((180.0,), turned)]
        return [(heads, number) for heads, number in ways if number]
