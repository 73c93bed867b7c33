"""The second opinion on rib: whether a plan can be cut and sewn, by shapely alone."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from nesting.errors import CheckError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nesting.rib.band import RibBand
    from nesting.rib.plan import RibCut, RibPlan, RibRow

SLACK = 0.01
"""What the check forgives, mm: no rule or blade is finer."""


def check_rib(plan: RibPlan, bands: Sequence[RibBand], *, seam: float, least_part: float) -> None:
    """Make sure that a plan can be cut and sewn.

    Every part lies inside its stock, no two overlap, the parts of each copy, less their joins, add up, joins are
    where the plan says, and a tube is left closed only where it is as long as the band.

    Raises
    ------
    CheckError
        At the first thing that is wrong.
    """
    _check_parts(plan, bands, seam, least_part)
    _check_joins(plan, bands, seam)
    _check_places(plan)
    sources = {row.source for row in plan.rows}
    told = (plan.length, plan.count)
    if plan.stock.form == "set":
        found = (0.0, max((_set_number(plan, row) for row in plan.rows), default=0))
    else:
        found = (0.0, len(sources)) if plan.stock.form == "strips" else (sum(row.depth for row in plan.rows), 0)
    if abs(told[0] - found[0]) > SLACK or told[1] != found[1]:
        raise CheckError(f"the plan says {told[0]:.2f} mm, {told[1]} strips; its rows take {found[0]:.2f}, {found[1]}")
    if plan.bound > max(told) + SLACK or plan.joins != len(plan.cuts) - sum(band.count for band in bands):
        raise CheckError(f"the plan's bound {plan.bound:.2f} or its {plan.joins} joins do not match its cuts")


def _copies(plan: RibPlan) -> dict[tuple[str, int], list[RibCut]]:
    """The parts of each copy of each band, in their order along it."""
    parts = defaultdict(list)
    for cut in sorted(plan.cuts, key=lambda cut: cut.part):
        parts[cut.band, cut.copy].append(cut)
    return parts


def _check_parts(plan: RibPlan, bands: Sequence[RibBand], seam: float, least_part: float) -> None:
    parts = _copies(plan)
    wanted = {(band.name, copy): band for band in bands for copy in range(band.count)}
    if parts.keys() != wanted.keys():
        name, copy = min(parts.keys() ^ wanted.keys())
        raise CheckError(f"copy {copy + 1} of '{name}' is missing, or is one too many")
    for (name, copy), cuts in parts.items():
        band, total = wanted[name, copy], sum(cut.length for cut in cuts)
        joins = len(cuts) - 1
        if any(cut.joins != joins or abs(cut.depth - band.depth) > SLACK for cut in cuts):
            raise CheckError(f"'{name}' has {len(cuts)} parts; their depths or joins are not the band's")
        if cuts[0].closed:
            if joins or not plan.stock.closes(band, seam) or abs(total - plan.stock.width) > SLACK:
                raise CheckError(f"'{name}' is left a closed tube of {plan.stock.width:.1f} mm, which is not possible")
        elif abs(total - joins * 2 * seam - band.length) > SLACK:
            made = total - joins * 2 * seam
            raise CheckError(f"the parts of '{name}' make {made:.2f} mm instead of {band.length:.2f}")
        if joins and min(cut.length for cut in cuts) < least_part - SLACK:
            raise CheckError(f"'{name}' has a part shorter than {least_part:.1f} mm")


def _check_joins(plan: RibPlan, bands: Sequence[RibBand], seam: float) -> None:
    named = {band.name: band for band in bands}
    told = {(join.band, join.copy, join.part): join for join in plan.seams}
    for (name, copy), cuts in _copies(plan).items():
        band, at = named[name], 0.0
        for part, cut in enumerate(cuts[:-1]):
            at += cut.length - 2 * seam
            join = told.pop((name, copy, part), None)
            if cut.part != part or join is None or abs(join.at - at) > SLACK:
                raise CheckError(f"the plan does not say that '{name}' is joined {at:.1f} mm from its start")
            shares = dict(band.places)
            if join.place and abs(shares[join.place] * (band.length - 2 * seam) - at) > SLACK:
                raise CheckError(f"'{name}' is joined {at:.1f} mm from its start, which is not at the {join.place}")
    if told:
        raise CheckError(f"the plan lists {len(told)} joins that do not exist")


def _check_places(plan: RibPlan) -> None:
    import shapely

    placed = defaultdict(list)
    for cut in plan.cuts:
        row = plan.rows[cut.row]
        low = row.start + cut.rise
        box = shapely.box(cut.offset, low, cut.offset + cut.length, low + cut.depth)
        if cut.rise < -SLACK or cut.rise + cut.depth > row.depth + SLACK:
            raise CheckError(f"a part of '{cut.band}' reaches beyond its row in {cut.source}")
        along = plan.stock.depth if plan.stock.depth is not None else plan.length
        inside = shapely.box(-SLACK, -SLACK, plan.stock.across(row.ready) + SLACK, along + SLACK)
        if cut.source != row.source or not inside.covers(box):
            raise CheckError(f"a part of '{cut.band}' lies outside {cut.source}")
        placed[row.source if plan.stock.depth is not None else ""].append((cut, box))
    for parts in placed.values():
        boxes = shapely.buffer([box for _, box in parts], -SLACK, join_style="mitre")
        for first, second in shapely.STRtree(boxes).query(boxes, predicate="intersects").T:
            if first < second:
                cut, other = parts[first][0], parts[second][0]
                raise CheckError(f"parts of '{cut.band}' and '{other.band}' overlap in {cut.source}")


def _set_number(plan: RibPlan, row: RibRow) -> int:
    """Which set a ready band belongs to, from 1; it is called what it is."""
    if row.ready not in plan.stock.ready or row.source != f"set {row.set}, {row.ready}":
        raise CheckError(f"'{row.source}' is not a band of the set '{plan.stock.name}'")
    return row.set
