"""Rib bands out of rib stock: how many rows or strips, how each is cut, and where bands are joined.

Rib stretches across. A band's length runs across the stock, its depth along the wales. On a tube or on flat rib
the bands lie in rows across the width. A row takes as much of the length as its deepest part, or as several parts
above one another; ready strips hold rows within their depth. A band longer than the stock is wide is joined from
parts, where it can be at a seam of the garment. A ready set holds a hem band and two cuffs, which are cut across alone.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING

from nesting.errors import NestingError, StripTooShortError
from nesting.rib.plan import RibCut, RibPlan, RibRow
from nesting.rib.verify import check_rib
from pieces.length import length_in_mm
from pieces.units import bound_both, format_both, need_both

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nesting.rib.band import RibBand, RibStock
    from pieces.length import Written


def plan_rib(
    bands: Sequence[RibBand], stock: RibStock, *, seam: Written, least_part: Written = "4 in", effort: float = 10.0
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
        Seam allowance on each of the two edges of a join, with its unit: a join costs twice that.
    least_part
        No part of a joined band is shorter than this. 4 in unless told: common practice, no source.
    effort
        Work the exact solver may spend, in units of 1 to 4 seconds. Equal effort, equal plan.

    Raises
    ------
    StripTooShortError
        Where the rib cannot give a band, even with joins.
    """
    from nesting.rib.set import solve_set

    allowance = float(length_in_mm(seam, "the seam of a join"))
    least = float(length_in_mm(least_part, "the least part of a band"))
    _require_plannable(bands, stock, allowance, least)
    if stock.form == "set":
        plan = solve_set(bands, stock, effort)
    else:
        closed = [band for band in bands if stock.closes(band, allowance)]
        rest = [band for band in bands if band not in closed]
        plan = RibPlan(stock, (), (), 0.0, 0, 0, True, 0.0, True)
        if rest:
            plan = _best_of(tuple(rest), stock, allowance, least, effort)
        plan = _add_closed(plan, closed)
    check_rib(plan, bands, seam=allowance, least_part=least)
    return plan


def _best_of(bands: tuple[RibBand, ...], stock: RibStock, seam: float, least_part: float, effort: float) -> RibPlan:
    """Rows for bands; after an interrupt the best found before it, which is not kept."""
    from nesting.rib.rows import RibInterruptError

    try:
        return _solved(bands, stock, seam, least_part, effort)
    except RibInterruptError as interrupt:
        return interrupt.plan


@lru_cache(maxsize=32)
def _solved(bands: tuple[RibBand, ...], stock: RibStock, seam: float, least_part: float, effort: float) -> RibPlan:
    """Rows for bands; kept, since an order that changes in price or colour alone has the same bands to cut."""
    from nesting.rib.rows import solve_rows

    return solve_rows(bands, stock, seam, least_part, effort)


def _add_closed(plan: RibPlan, closed: Sequence[RibBand]) -> RibPlan:
    """A plan with bands added that stay closed tubes: each takes its depth of the tube, all round."""
    width, cuts, rows, added = plan.stock.width, list(plan.cuts), list(plan.rows), 0.0
    for band in closed:
        for copy in range(band.count):
            source = f"row {len(rows) + 1}"
            cuts.append(RibCut(band.name, copy, source, len(rows), 0.0, width, band.depth, 0, closed=True))
            rows.append(RibRow(source, plan.length + added, band.depth, width))
            added += band.depth
    if not closed:
        return plan
    return replace(plan, cuts=tuple(cuts), rows=tuple(rows), length=plan.length + added, bound=plan.bound + added)


def _require_plannable(bands: Sequence[RibBand], stock: RibStock, seam: float, least_part: float) -> None:
    if not bands:
        raise NestingError("there are no rib bands to cut: the list is empty")
    names = [band.name for band in bands]
    twice = {name for name in names if names.count(name) > 1}
    if twice:
        raise NestingError(f"each band needs its own name, got '{min(twice)}' twice: rename one, or use its count")
    if not seam >= 0 or not 2 * seam < least_part < math.inf:
        raise NestingError(
            f"a part must be longer than its two seam allowances, 2 × {seam:g} mm, but least_part is {least_part:g} "
            "mm: make it longer, or the seam narrower"
        )
    for band in bands:
        if stock.form != "set" and not stock.closes(band, seam):
            _require_room(band, stock, seam, least_part)


def _require_room(band: RibBand, stock: RibStock, seam: float, least_part: float) -> None:
    if stock.depth is not None and band.depth > stock.depth + 1e-6:
        raise StripTooShortError(
            band.name,
            band.depth,
            stock.depth,
            f"'{band.name}' needs rib {need_both(band.depth)} deep; the strips are {bound_both(stock.depth)}: buy "
            "deeper strips, or make the finished rib narrower",
        )
    if band.length <= stock.usable + 1e-6:
        return
    cost = 2 * seam
    parts = math.ceil((band.length - cost) / (stock.usable - cost) - 1e-9) if stock.usable > cost else 0
    if parts * least_part > band.length + (parts - 1) * cost + 1e-6 or stock.usable < least_part or not parts:
        raise StripTooShortError(
            band.name,
            band.length,
            stock.usable,
            f"'{band.name}' needs {need_both(band.length)} of rib; {bound_both(stock.usable)} across does not give it "
            f"in parts of {format_both(least_part)} or more with seams of {format_both(seam)}: buy wider rib,"
            " or allow shorter parts",
        )
