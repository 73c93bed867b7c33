"""The work of a search, counted: the same on any machine, and about as much time whatever the problem's size."""

from __future__ import annotations

EFFORT = 5e6
"""Work that makes an effort of 1: so many millionths of a second on one core, about; all below are in such."""

RELOCATION, CELL = 8.0, 2.5e-4
"""Of moving an outline on the raster, and of each cell of the maps that is looked at for that."""

PROGRAM, ROW, PIVOT = 600.0, 2.5, 30.0
"""Of a linear program, of each of its rows, and of each step of the simplex method."""

PLACE = 42.0
"""Of looking for the leftmost place of an outline."""


class WorkMeter:
    """Counts the work of one call of `solve`.

    First layouts cost nothing: they are there however little is to be done.

    Parameters
    ----------
    searches
        How many go on by turns; all must have begun before there is any stop.

    Attributes
    ----------
    done
        The work so far, in efforts.
    """

    def __init__(self, searches: int = 1) -> None:
        self.done, self._waiting = 0.0, searches

    @property
    def has_begun(self) -> bool:
        """Whether all searches have their first layouts."""
        return self._waiting <= 0

    def begin(self) -> None:
        """One search has its first layouts."""
        self._waiting -= 1

    def relocate(self, outlines: int, cells: float) -> None:
        """Count outlines moved on the raster, each after a look at so many cells."""
        self.done += outlines * (RELOCATION + CELL * cells) / EFFORT

    def solve(self, rows: int, pivots: int) -> None:
        """Count a linear program."""
        self.done += (PROGRAM + ROW * rows + PIVOT * pivots) / EFFORT

    def place(self, places: int) -> None:
        """Count places looked for."""
        self.done += PLACE * places / EFFORT
