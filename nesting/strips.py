"""Rib bands out of rib stock: how many rows or strips, how each is cut, and where bands are joined.

Rib stretches across. A band's length runs across the stock, its depth along the wales. On a tube or on flat rib
the bands lie in rows across the width, and a row takes as much of the length as its deepest part; ready strips
hold rows within their depth. A band longer than the stock is wide is joined from parts, where it can be at a seam of
the garment. A ready set holds a hem band and two cuffs, which are cut across alone.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING, Literal

from nesting.errors import NestingError, StripTooShortError
from nesting.ribcheck import check_rib
from pieces.units import bound_both, format_both, need_both

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from pieces import PieceSet

__all__ = ["RibBand", "RibCut", "RibJoin", "RibPlan", "RibRow", "RibStock", "bands_of", "check_rib", "plan_rib"]

CLOSED_TOLERANCE = 0.03
"""Share by which a tube may be wider or narrower than the sewn band it stays (common practice, no source)."""


@dataclass(frozen=True)
class RibBand:
    """A rectangle of rib: a cuff, a hem band, a neckband.

    Parameters
    ----------
    name
        What a sewer calls it; each band of a plan has its own.
    length, depth
        As cut, mm, seam allowances included: across the rib (in the stretch), and along it.
    count
        How many are wanted.
    places
        What it meets when it is sewn on, in order from its start: a name, and the share of its sewn length at which
        it does. Joins fall there where they can.
    ring
        Whether its ends are sewn to one another, as a cuff's are.
    """

    name: str
    length: float
    depth: float
    count: int = 1
    places: tuple[tuple[str, float], ...] = ()
    ring: bool = False

    def __post_init__(self) -> None:
        _require_size(f"band '{self.name}'", self.length, "length")
        _require_size(f"band '{self.name}'", self.depth, "depth")
        if self.count < 1:
            raise NestingError(f"band '{self.name}' needs a count of 1 or more, got {self.count}: leave it out instead")
        shares = [0.0, *(share for _, share in self.places), 1.0]
        if any(share >= after for share, after in pairwise(shares)) or len(dict(self.places)) < len(self.places):
            raise NestingError(
                f"band '{self.name}' needs places of different names, in order from its start, at shares between 0 and"
                f" 1, got {', '.join(f'{name} {share:g}' for name, share in self.places)}"
            )


@dataclass(frozen=True)
class RibStock:
    """Rib as it is sold.

    Parameters
    ----------
    name
        What the shop calls it.
    form
        ``"tube"`` and ``"flat"`` are sold by length, ``"strips"`` by the strip, ``"set"`` as a hem band and two cuffs.
    width
        Across the stretch, mm: a tube's opened out (twice its lay-flat width), the length of a strip or of the hem
        band of a set.
    depth
        Along the wales, mm: of one strip, or of a set's bands; these only.
    selvedge
        Left unused at each side of flat rib, mm.
    cuff
        Length of each of a set's two cuffs, mm; sets only.
    closed
        Whether a band sewn to a ring may stay a closed tube where the tube is as wide as it; tubes only.
    """

    name: str
    form: Literal["tube", "flat", "strips", "set"]
    width: float
    depth: float | None = None
    selvedge: float = 0.0
    cuff: float | None = None
    closed: bool = False

    def __post_init__(self) -> None:
        _require_size(f"rib '{self.name}'", self.width, "width")
        if self.form in ("strips", "set"):
            _require_size(f"rib '{self.name}'", self.depth, "depth")
        elif self.depth is not None:
            raise NestingError(
                f"rib '{self.name}' is sold by length, got a depth of {format_both(self.depth)}: leave it out"
            )
        if self.selvedge < 0 or not self.usable > 0:
            raise NestingError(
                f"rib '{self.name}' needs selvedges of 0 or more that leave some width, "
                f"got {format_both(self.selvedge)} on {format_both(self.width)}: measure one selvedge"
            )
        if self.selvedge and self.form != "flat":
            raise NestingError(f"rib '{self.name}' is no flat rib, and has no selvedge: leave selvedge out")
        if self.form == "set":
            _require_size(f"set '{self.name}'", self.cuff, "cuff length")
        elif self.cuff is not None:
            raise NestingError(f"rib '{self.name}' is no ready set, and has no cuffs of its own: leave cuff out")
        if self.closed and self.form != "tube":
            raise NestingError(f"rib '{self.name}' is no tube, and nothing of it can stay closed: leave closed out")

    @property
    def usable(self) -> float:
        """Width between the selvedges, mm."""
        return self.width - 2 * self.selvedge

    @property
    def ready(self) -> Mapping[str, float]:
        """The bands of a ready set and their lengths, mm; of other rib, none."""
        return {} if self.cuff is None else {"hem band": self.width, "cuff 1": self.cuff, "cuff 2": self.cuff}

    def across(self, source: str) -> float:
        """Width of a row or strip, or of a set's band, such as ``"set 1, cuff 2"``, mm."""
        return self.ready.get(source.partition(", ")[2], self.usable)

    def closes(self, band: RibBand, seam: float) -> bool:
        """Whether a band may stay a closed tube: sewn to a ring, and as long, sewn, as the tube is round."""
        sewn = band.length - 2 * seam
        return self.closed and band.ring and abs(self.width - sewn) <= CLOSED_TOLERANCE * sewn + 1e-6


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
    """One row: its source, where it starts along the source, its depth, and how much of the width is cut, mm."""

    source: str
    start: float
    depth: float
    used: float


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
        Whether no plan needs less stock.
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


def bands_of(pieces: PieceSet, garments: int = 1) -> list[RibBand]:
    """The rib bands of some garments, with what they meet (their notches), and which are sewn to a ring (its seams)."""
    rings = {seam.first[0][0] for seam in pieces.seams if {*seam.first, *seam.second} == _ends(seam.first[0][0])}
    bands = []
    for piece in pieces.of("rib"):
        (x, low), (_, high) = piece.edge("edge").points[[0, -1]]
        places = (
            (n.name, float((n.point[1] - low) / (high - low))) for n in piece.notches if abs(n.point[0] - x) < 1e-6
        )
        bands.append(
            RibBand(piece.name, piece.width, piece.length, piece.cut * garments, tuple(places), piece.name in rings)
        )
    return bands


def _ends(name: str) -> set[tuple[str, str]]:
    return {(name, "end"), (name, "other end")}


def plan_rib(
    bands: Sequence[RibBand], stock: RibStock, *, seam: float, least_part: float = 101.6, effort: float = 10.0
) -> RibPlan:
    """Cut bands from rib: the least stock first, then the fewest joins, most of them at places, then even parts.

    A band that may stay a closed tube does, and what is said to be least holds with that.

    Parameters
    ----------
    bands
        What is wanted; equal bands are interchangeable.
    stock
        What it is cut from.
    seam
        Seam allowance on each of the two edges of a join, mm: a join costs twice that.
    least_part
        No part of a joined band is shorter than this, mm. 4 in unless told: common practice, no source.
    effort
        Work the exact solver may spend, in units of 1 to 4 seconds. Equal effort, equal plan.

    Raises
    ------
    StripTooShortError
        Where the rib cannot give a band, even with joins.
    """
    from nesting.ribset import solve_set
    from nesting.stripplan import solve_rows

    _require_plannable(bands, stock, seam, least_part)
    if stock.form == "set":
        plan = solve_set(bands, stock, effort)
    else:
        closed = [band for band in bands if stock.closes(band, seam)]
        rest = [band for band in bands if band not in closed]
        plan = RibPlan(stock, (), (), 0.0, 0, 0, True, 0.0, True)
        plan = _add_closed(solve_rows(rest, stock, seam, least_part, effort) if rest else plan, closed)
    check_rib(plan, bands, seam=seam, least_part=least_part)
    return plan


def _add_closed(plan: RibPlan, closed: Sequence[RibBand]) -> RibPlan:
    """A plan with bands added that stay closed tubes: each takes its depth of the tube, all round."""
    width = plan.stock.width
    for band in closed:
        for copy in range(band.count):
            source = f"row {len(plan.rows) + 1}"
            cut = RibCut(band.name, copy, source, len(plan.rows), 0.0, width, band.depth, 0, closed=True)
            row = RibRow(source, plan.length, band.depth, width)
            length, bound = plan.length + band.depth, plan.bound + band.depth
            plan = replace(plan, cuts=(*plan.cuts, cut), rows=(*plan.rows, row), length=length, bound=bound)
    return plan


def _require_size(what: str, size: float | None, called: str) -> None:
    if size is None or not (size > 0 and math.isfinite(size)):
        got = "none" if size is None else f"{size:g}"
        raise NestingError(f"{what} needs a {called} above 0 mm, got {got}: measure it")


def _require_plannable(bands: Sequence[RibBand], stock: RibStock, seam: float, least_part: float) -> None:
    if not bands:
        raise NestingError("there is no rib band to cut: the list is empty")
    names = [band.name for band in bands]
    twice = {name for name in names if names.count(name) > 1}
    if twice:
        raise NestingError(f"each band needs its own name, got '{min(twice)}' twice: rename one, or use its count")
    if not seam >= 0 or not 2 * seam < least_part < math.inf:
        raise NestingError(
            f"a part needs more than its two seam allowances, 2 × {seam:g} mm, got a least part of {least_part:g} mm: "
            "make it longer, or the seam narrower"
        )
    for band in bands:
        if stock.form != "set" and not stock.closes(band, seam):
            _require_room(band, stock, seam, least_part)


def _require_room(band: RibBand, stock: RibStock, seam: float, least_part: float) -> None:
    if stock.depth is not None and band.depth > stock.depth + 1e-6:
        raise StripTooShortError(
            f"'{band.name}' needs rib {need_both(band.depth)} deep; the strips are {bound_both(stock.depth)}: "
            "buy deeper strips, or a narrower finished rib"
        )
    if band.length <= stock.usable + 1e-6:
        return
    cost = 2 * seam
    parts = math.ceil((band.length - cost) / (stock.usable - cost) - 1e-9) if stock.usable > cost else 0
    if parts * least_part > band.length + (parts - 1) * cost + 1e-6 or stock.usable < least_part or not parts:
        raise StripTooShortError(
            f"'{band.name}' needs {need_both(band.length)} of rib; {bound_both(stock.usable)} across cannot"
            f" give it in parts of {format_both(least_part)} or more with seams of {format_both(seam)}: buy wider rib,"
            " or allow shorter parts"
        )
