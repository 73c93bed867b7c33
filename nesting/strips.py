"""Rib bands out of rib stock: how many rows or strips, how each is cut, and where bands are joined.

Rib stretches across. A band's length runs across the stock, its depth along the wales. On a tube or on flat rib
the bands lie in rows across the width, and a row takes as much of the length as its deepest part; ready strips
hold rows within their depth. A band longer than the stock is wide is joined from parts.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from nesting.errors import CheckError, NestingError, StripTooShortError
from pieces.units import format_both

if TYPE_CHECKING:
    from collections.abc import Sequence

SLACK = 0.01
"""What the check forgives, mm: no rule or blade is finer."""


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
    """

    name: str
    length: float
    depth: float
    count: int = 1

    def __post_init__(self) -> None:
        _require_size(f"band '{self.name}'", self.length, "length")
        _require_size(f"band '{self.name}'", self.depth, "depth")
        if self.count < 1:
            raise NestingError(f"band '{self.name}' needs a count of 1 or more, got {self.count}: leave it out instead")


@dataclass(frozen=True)
class RibStock:
    """Rib as it is sold.

    Parameters
    ----------
    name
        What the shop calls it.
    form
        ``"tube"`` and ``"flat"`` are sold by length, ``"strips"`` by the strip.
    width
        Across the stretch, mm: a tube's opened out (twice its lay-flat width), a strip's own length.
    depth
        Along the wales, mm: of one strip; strips only.
    selvedge
        Left unused at each side of flat rib, mm.
    """

    name: str
    form: Literal["tube", "flat", "strips"]
    width: float
    depth: float | None = None
    selvedge: float = 0.0

    def __post_init__(self) -> None:
        _require_size(f"rib '{self.name}'", self.width, "width")
        if self.form == "strips":
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

    @property
    def usable(self) -> float:
        """Width between the selvedges, mm."""
        return self.width - 2 * self.selvedge


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
    """

    band: str
    copy: int
    source: str
    row: int
    offset: float
    length: float
    depth: float
    joins: int


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


def plan_rib(
    bands: Sequence[RibBand], stock: RibStock, *, seam: float, least_part: float = 101.6, effort: float = 10.0
) -> RibPlan:
    """Cut bands from rib: the least stock first, then the fewest joins, then parts as even as they can be.

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
    from nesting.stripplan import solve_rows

    _require_plannable(bands, stock, seam, least_part)
    plan = solve_rows(bands, stock, seam, least_part, effort)
    check_rib(plan, bands, seam=seam, least_part=least_part)
    return plan


def check_rib(plan: RibPlan, bands: Sequence[RibBand], *, seam: float, least_part: float) -> None:
    """Make sure, by shapely alone, that a plan can be cut and sewn.

    Every part lies inside its stock, no two overlap, and the parts of each copy, less their joins, add up.

    Raises
    ------
    CheckError
        At the first thing that is wrong.
    """
    _check_parts(plan, bands, seam, least_part)
    _check_places(plan)
    sources = {row.source for row in plan.rows}
    told = (plan.length, plan.count)
    found = (0.0, len(sources)) if plan.stock.form == "strips" else (sum(row.depth for row in plan.rows), 0)
    if abs(told[0] - found[0]) > SLACK or told[1] != found[1]:
        raise CheckError(f"the plan says {told[0]:.2f} mm, {told[1]} strips; its rows take {found[0]:.2f}, {found[1]}")
    if plan.bound > max(told) + SLACK or plan.joins != len(plan.cuts) - sum(band.count for band in bands):
        raise CheckError(f"the plan's bound {plan.bound:.2f} or its {plan.joins} joins do not go with its cuts")


def _check_parts(plan: RibPlan, bands: Sequence[RibBand], seam: float, least_part: float) -> None:
    parts = defaultdict(list)
    for cut in plan.cuts:
        parts[cut.band, cut.copy].append(cut)
    wanted = {(band.name, copy): band for band in bands for copy in range(band.count)}
    if parts.keys() != wanted.keys():
        name, copy = min(parts.keys() ^ wanted.keys())
        raise CheckError(f"copy {copy + 1} of '{name}' is missing, or one too many")
    for (name, copy), cuts in parts.items():
        band, total = wanted[name, copy], sum(cut.length for cut in cuts)
        joins = len(cuts) - 1
        if any(cut.joins != joins or abs(cut.depth - band.depth) > SLACK for cut in cuts):
            raise CheckError(f"'{name}' has {len(cuts)} parts; their depths or joins are not the band's")
        if abs(total - joins * 2 * seam - band.length) > SLACK:
            made = total - joins * 2 * seam
            raise CheckError(f"the parts of '{name}' make {made:.2f} mm, wanted are {band.length:.2f}")
        if joins and min(cut.length for cut in cuts) < least_part - SLACK:
            raise CheckError(f"'{name}' has a part shorter than {least_part:.1f} mm")


def _check_places(plan: RibPlan) -> None:
    import shapely

    placed = defaultdict(list)
    for cut in plan.cuts:
        row = plan.rows[cut.row]
        box = shapely.box(cut.offset, row.start, cut.offset + cut.length, row.start + cut.depth)
        along = plan.stock.depth if plan.stock.depth is not None else plan.length
        inside = shapely.box(-SLACK, -SLACK, plan.stock.usable + SLACK, along + SLACK)
        if cut.source != row.source or not inside.covers(box):
            raise CheckError(f"a part of '{cut.band}' lies outside {cut.source}")
        placed[row.source if plan.stock.form == "strips" else ""].append((cut, box))
    for parts in placed.values():
        boxes = [box for _, box in parts]
        for first, second in shapely.STRtree(boxes).query(boxes, predicate="intersects").T:
            if first < second and boxes[first].buffer(-SLACK).intersects(boxes[second].buffer(-SLACK)):
                cut, other = parts[first][0], parts[second][0]
                raise CheckError(f"parts of '{cut.band}' and '{other.band}' overlap in {cut.source}")


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
        _require_room(band, stock, seam, least_part)


def _require_room(band: RibBand, stock: RibStock, seam: float, least_part: float) -> None:
    if stock.depth is not None and band.depth > stock.depth + 1e-6:
        raise StripTooShortError(
            f"'{band.name}' needs rib {format_both(band.depth)} deep; the strips are {format_both(stock.depth)}: "
            "buy deeper strips, or a narrower finished rib"
        )
    if band.length <= stock.usable + 1e-6:
        return
    cost = 2 * seam
    parts = math.ceil((band.length - cost) / (stock.usable - cost) - 1e-9) if stock.usable > cost else 0
    if parts * least_part > band.length + (parts - 1) * cost + 1e-6 or stock.usable < least_part or not parts:
        raise StripTooShortError(
            f"'{band.name}' needs {format_both(band.length)} of rib; {format_both(stock.usable)} across cannot"
            f" give it in parts of {format_both(least_part)} or more with seams of {format_both(seam)}: buy wider rib,"
            " or allow shorter parts"
        )
