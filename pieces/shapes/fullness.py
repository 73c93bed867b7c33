"""Fullness: how much wider cloth is than the edge that it is gathered or pleated to."""

from __future__ import annotations

from dataclasses import dataclass

from pieces.errors import DraftError
from pieces.units import format_both

MOST_FULL = 6.0
"""No cloth is gathered or pleated to less than a sixth; common practice, no source."""


@dataclass(frozen=True)
class Gathers:
    """Cloth gathered to an edge `times` as short."""

    times: float

    @property
    def words(self) -> str:
        """What is done with the cloth."""
        return f"gathered {self.times:g} to 1"


@dataclass(frozen=True)
class Pleats:
    """Pleats of one depth, evenly spaced.

    Parameters
    ----------
    fold
        How deep each pleat is folded, mm.
    spacing
        From pleat to pleat, as sewn, mm.
    """

    fold: float
    spacing: float

    @property
    def times(self) -> float:
        """Cloth for each length of edge: a pleat takes twice its fold besides the spacing that shows."""
        return 1 + 2 * self.fold / self.spacing

    @property
    def words(self) -> str:
        """What is done with the cloth."""
        return f"pleated {format_both(self.fold)} deep every {format_both(self.spacing)}, {self.times:.4g} to 1"


Fullness = Gathers | Pleats


def full_width(name: str, edge: float, fullness: Fullness | None) -> tuple[float, tuple[str, ...]]:
    """How wide the cloth is for an edge, mm, and a line that says so.

    Raises
    ------
    DraftError
        If it is less than the edge, or more than `MOST_FULL` times as much.
    """
    if fullness is None:
        return edge, ()
    if not 1 <= fullness.times <= MOST_FULL:
        raise DraftError(f"'{name}' is {fullness.words}: fullness is from 1 to {MOST_FULL:g}")
    wide = edge * fullness.times
    return wide, (f"{name}: {fullness.words}: {format_both(wide)} for {format_both(edge)}",)
