"""A rib plan: rows of rib, and what is cut of each."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from pieces.summary import aligned, units_asked
from pieces.units import Units, format_bound, format_need

if TYPE_CHECKING:
    from nesting.rib.band import RibStock
    from pieces.summary import UnitsAsked


@dataclass(frozen=True)
class RibCut:
    """One part of a band in its place.

    Parameters
    ----------
    band, copy
        Which band, and which copy of it (from 0).
    source, row
        The row or strip it is cut from, as a cutter would say it, and the index of its row in the plan.
    offset
        Where it starts across the usable width, mm.
    length, depth
        Its size, mm, seam allowances at joins included.
    joins
        Joins in the whole copy: one fewer than its parts.
    part
        Its place among the parts of its copy, from 0, in the order in which they are joined.
    closed
        Whether it stays a closed tube, which its length then is round.
    rise
        How far from the start of its row it lies, mm: more than 0 where it lies above another part of the row.
    """

    band: str
    copy: int
    source: str
    row: int
    offset: float
    length: float
    depth: float
    joins: int
    part: int = 0
    closed: bool = False
    rise: float = 0.0


@dataclass(frozen=True)
class RibJoin:
    """A seam between a part of a band and the next.

    Parameters
    ----------
    band, copy, part
        Which band, which copy of it, and the part before the join, each as in `RibCut`.
    at
        Its distance from the start of the sewn band, as it lies, mm.
    place
        What it meets, such as ``"centre back"``; empty where it meets nothing, None where nothing is known of that.
    """

    band: str
    copy: int
    part: int
    at: float
    place: str | None = None


@dataclass(frozen=True)
class RibRow:
    """One row of rib.

    Parameters
    ----------
    source
        What it is cut from, as a cutter would say it.
    start, depth, used
        Where it starts along the source, its depth, and how much of the width is cut, mm.
    set, ready
        Of a ready set: which of the sets, from 1, and which of its bands, such as ``"cuff 2"``.
    """

    source: str
    start: float
    depth: float
    used: float
    set: int = 0
    ready: str = ""


@dataclass(frozen=True)
class RibPlan:
    """How rib stock is cut into bands, and how good that is.

    Parameters
    ----------
    stock, cuts, rows
        What is cut, into which parts, in which rows.
    length
        Length to cut from a tube or flat rib, mm: the rows' depths added up. 0 for strips.
    count
        Strips to buy. 0 for a tube and flat rib.
    joins
        Joins over all bands.
    optimal
        Whether no layout of rectangles needs less stock, bands above one another and joined ones included.
    bound
        A length (mm) or number of strips that no plan can undercut.
    fewest_joins
        Whether no plan with this much stock has fewer joins.
    seams
        Where every join falls.
    most_at_places
        Whether no plan with this much stock and as few joins has more of them at the places of its bands.
    """

    stock: RibStock
    cuts: tuple[RibCut, ...]
    rows: tuple[RibRow, ...]
    length: float
    count: int
    joins: int
    optimal: bool
    bound: float
    fewest_joins: bool
    seams: tuple[RibJoin, ...] = ()
    most_at_places: bool = True

    def summary(self, units: UnitsAsked = Units.INCHES) -> str:
        """Aligned lines for a person: how much rib is cut, what no plan can undercut, and the joins."""
        written = units_asked(units)
        used = f"{self.count} {self.stock.form}" if self.count else format_need(self.length, written)
        least = f"{self.bound:.0f}" if self.count else format_bound(self.bound, written)
        return aligned(
            (
                ("rib", used),
                ("at least", f"{least}{', proved' if self.optimal else ''}"),
                ("joins", f"{self.joins}{', as few as can be' if self.fewest_joins else ''}"),
            )
        )
