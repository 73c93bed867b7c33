"""From bands and stock to a plan: a bound, a first plan, patterns, and the joining model where it can still help."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from typing import TYPE_CHECKING

from nesting.rib.bound import least_of_any
from nesting.rib.even import even_parts
from nesting.rib.fill import cut_parts, first_fit, next_fit, stack_rows
from nesting.rib.joined.rows import joined_rows
from nesting.rib.many.rows import ManyRows
from nesting.rib.model import RibModel
from nesting.rib.patterns import pattern_rows
from nesting.rib.placed import placed_rows
from nesting.rib.plan import RibCut, RibJoin, RibPlan, RibRow
from nesting.rib.stack import lay_stacked
from nesting.rib.task import RibTask
from nesting.rib.verify import SLACK

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nesting.rib.band import RibBand, RibStock
    from nesting.rib.task import StripRow

MOST_FEW = 60
"""Bands up to which rows and joins are looked for all at once; more are cut in bays."""

MOST_ALIKE = 4, 240
"""Kinds, and bands of no more kinds than these, up to which it is so as well."""

MOST_FITTED = 3_000
"""Parts up to which each is laid in the first row with room: that takes their number times the rows'."""

MOST_CELLS = 60
"""Copies that may be joined × rows: beyond this, the joining model is left alone."""


class RibInterruptError(Exception):
    """An interrupt from the keyboard came; the best plan found before it."""

    def __init__(self, plan: RibPlan) -> None:
        super().__init__()
        self.plan = plan


def solve_rows(bands: Sequence[RibBand], stock: RibStock, seam: float, least_part: float, effort: float) -> RibPlan:
    """Plan bands that are known to fit; see `nesting.rib.planning.plan_rib`."""
    task = RibTask.from_bands(bands, stock, seam, least_part)
    number, is_mixed = sum(kind.count for kind in task.kinds), len(task.kinds) > MOST_ALIKE[0]
    if number > (MOST_FEW if is_mixed else MOST_ALIKE[1]):
        return _many_plan(task, bands, stock, seam, effort)
    many = _many_plan(task, bands, stock, seam, effort) if is_mixed else None
    if many is not None and many.optimal and many.fewest_joins and many.most_at_places:
        return many
    try:
        plan = _few_plan(task, bands, stock, seam, effort)
    except KeyboardInterrupt as error:
        raise RibInterruptError(many or _simple_plan(task, bands, stock, seam)) from error
    return plan if plan.optimal else _better(plan, many or _many_plan(task, bands, stock, seam, effort))


def _better(plan: RibPlan, other: RibPlan) -> RibPlan:
    """The plan with less stock, then fewer joins, then more of them at places; with the better bound of both."""

    def merit(one: RibPlan) -> tuple[int, int, int]:
        used = round((one.count or one.length) / SLACK)
        return used, one.joins, -sum(bool(join.place) for join in one.seams)

    best = min(plan, other, key=merit)
    used, bound = float(best.count or best.length), max(plan.bound, other.bound)
    return replace(best, bound=min(bound, used), optimal=best.optimal or used <= bound + SLACK / 10)


def _many_plan(task: RibTask, bands: Sequence[RibBand], stock: RibStock, seam: float, effort: float) -> RibPlan:
    """A plan of bays, however many bands there are (see `nesting.rib.many`)."""
    rows = _simple_rows(task)
    many, interrupt = ManyRows(task, effort), None
    try:
        many.look()
    except KeyboardInterrupt as error:
        interrupt = error
    if many.rows is not None and _merit(task, many.rows) < _merit(task, rows):
        rows = many.rows
    if interrupt is None and not any(task.may_join(kind) for kind in task.kinds) and task.stock_used(rows) > many.bound:
        whole, _ = _whole_plan(task, effort / 20)
        rows = whole if task.stock_used(whole) < task.stock_used(rows) else rows
    plan = _plain_plan(task, rows, bands, stock, seam, many.bound)
    if interrupt is not None:
        raise RibInterruptError(plan) from interrupt
    return plan


def _simple_rows(task: RibTask) -> list[StripRow]:
    """Rows that are there at once, for any number of bands."""
    parts = list(cut_parts(task))
    return stack_rows(task, first_fit(task, parts) if len(parts) <= MOST_FITTED else next_fit(task, parts))


def _simple_plan(task: RibTask, bands: Sequence[RibBand], stock: RibStock, seam: float) -> RibPlan:
    return _plain_plan(task, _simple_rows(task), bands, stock, seam, 0)


def _plain_plan(
    task: RibTask, rows: list[StripRow], bands: Sequence[RibBand], stock: RibStock, seam: float, bound: int
) -> RibPlan:
    """Rows written, of whose joins is said only what is plain."""
    bound, fewest = max(bound, _least_any(task, rows)), _joins(task, rows) == _least_joins(task)
    plan = _write_plan(task, rows, bands, stock, seam, bound, fewest)
    seams = _find_seams(plan, bands, seam)
    return replace(plan, seams=seams, most_at_places=all(join.place for join in seams))


def _least_any(task: RibTask, rows: Sequence[StripRow]) -> int:
    return task.least_stock() if len(task.depths) == 1 else least_of_any(task, task.stock_used(rows))


def _few_plan(task: RibTask, bands: Sequence[RibBand], stock: RibStock, seam: float, effort: float) -> RibPlan:
    """A plan of rows and joins decided all at once, for few bands."""
    joinable = [kind for kind in task.kinds if task.may_join(kind)]
    best, is_best_uncut = _whole_plan(task, effort / 20 if joinable else effort / 2)
    bound = task.least_stock()
    if not joinable and is_best_uncut:
        bound = task.stock_used(best)
    fewest_joins = not joinable or _joins(task, best) == _least_joins(task)
    if task.stock_used(best) > bound or not fewest_joins:
        best, bound, fewest_joins = _joined_plan(task, best, bound, effort)
    most_at_places = True
    if _joins(task, best):
        best, is_most = _placed_plan(task, best, effort / 40)
        most_at_places = is_most and fewest_joins
        best = even_parts(task, best, effort / 40)
    is_flat = len(task.depths) == 1  # else a layout with bands above one another may beat every one in rows
    joins = _joins(task, best)
    fewest_joins = fewest_joins if is_flat else joins == _least_joins(task)
    most_at_places = most_at_places and (is_flat or not joins)
    bound = bound if is_flat else least_of_any(task, task.stock_used(best))
    plan = _write_plan(task, best, bands, stock, seam, bound, fewest_joins)
    plan = replace(plan, seams=_find_seams(plan, bands, seam), most_at_places=most_at_places)
    return plan if is_flat else _stacked_plan(plan, task, bound, effort / 10, is_uncut=not joinable)


def _stacked_plan(plan: RibPlan, task: RibTask, bound: int, effort: float, *, is_uncut: bool) -> RibPlan:
    """The plan's parts above one another where that takes less; a proof of that holds where no band can be joined."""
    plan, is_least = lay_stacked(plan, task, bound, effort)
    used, least = plan.count or plan.length, bound * (1 if plan.count else task.depth_step)
    is_best = used <= least + SLACK / 10 or (is_least and is_uncut)
    return replace(plan, optimal=is_best, bound=float(used) if is_best else least)


def _whole_plan(task: RibTask, effort: float) -> tuple[list[StripRow], bool]:
    """The best rows for bands joined only where they must be, and whether there are none better for these parts."""
    parts = list(cut_parts(task))
    rows = first_fit(task, parts)
    floor = sum(task.kinds[part.kind].depth * part.length for part in parts)
    used, proved = sum(task.row_depth(row) for row in rows), False
    for target in dict.fromkeys((-(-floor // task.width), used - 1)):
        if target >= used:
            proved = True
            break
        better, proved = pattern_rows(task, parts, target, effort)
        if better:
            rows = better
            proved = proved or target == -(-floor // task.width)
            break
    is_stacked_best = task.strip_depth is None or len(task.depths) == 1
    return stack_rows(task, rows), proved and is_stacked_best


def _joined_plan(task: RibTask, best: list[StripRow], bound: int, effort: float) -> tuple[list[StripRow], int, bool]:
    """Better rows, if there are any; a bound on the stock; and whether no plan with this stock has fewer joins."""
    joined = joined_rows(task, task.stock_used(best), effort / 5)
    bound, fewest = max(bound, joined.stock_bound), False
    if joined.rows is not None and _merit(task, joined.rows) < _merit(task, best):
        best = joined.rows
    used, joins = _merit(task, best)
    fewest = joins == _least_joins(task) or (used == joined.stock and joins <= joined.joins_bound)
    if (used == bound and fewest) or _copies(task) * len(best) > MOST_CELLS:
        return best, bound, fewest
    if used > bound:
        better, proven = RibModel(task, best).improve(effort / 5)
        bound = max(bound, proven)
        best = better if better and _merit(task, better) < _merit(task, best) else best
    spared, fewest = RibModel(task, best).spare_joins(task.stock_used(best), effort / 5)
    return spared or best, bound, fewest


def _copies(task: RibTask) -> int:
    return sum(kind.count for kind in task.kinds if task.may_join(kind))


def _merit(task: RibTask, rows: Sequence[StripRow]) -> tuple[int, int]:
    """What plans are compared by: stock, then joins."""
    return task.stock_used(rows), _joins(task, rows)


def _placed_plan(task: RibTask, best: list[StripRow], effort: float) -> tuple[list[StripRow], bool]:
    """A plan with as many joins at places as can be, and whether that is proved."""
    joined = {part.kind for row in best for part in row.parts if part.joined is not None}
    if not any(task.kinds[kind].places for kind in joined):
        return best, all(not kind.places for kind in task.kinds if task.may_join(kind))
    all_placed = placed_rows(task, best, effort / 4)
    if all_placed:
        return all_placed, True
    if _copies(task) * len(best) > MOST_CELLS:
        return best, False
    placed, proved = RibModel(task, best).place_joins(task.stock_used(best), _joins(task, best), effort)
    return placed or best, proved


def _joins(task: RibTask, rows: Sequence[StripRow]) -> int:
    return sum(len(row.parts) for row in rows) - sum(kind.count for kind in task.kinds)


def _least_joins(task: RibTask) -> int:
    return sum((task.fewest_parts(kind) - 1) * kind.count for kind in task.kinds)


def _write_plan(
    task: RibTask,
    rows: list[StripRow],
    bands: Sequence[RibBand],
    stock: RibStock,
    seam: float,
    bound: int,
    fewest: bool,
) -> RibPlan:
    """Whole steps back to millimetres, and names to everything."""
    is_strips = task.strip_depth is not None
    rows = rows if is_strips else stack_rows(task, rows)
    parts = _write_parts(task, rows, bands, seam)
    written, cuts, sources = [], list[RibCut](), dict[int, str]()
    start = 0.0
    for index, row in enumerate(rows):
        source = f"row {index + 1}"
        if is_strips:
            start = start if row.strip in sources else 0.0
            source = sources.setdefault(row.strip, f"strip {len(sources) + 1}")
        depth, offset = max(bands[part.kind].depth * (part.level + 1) for part in row.parts), 0.0
        for own, (band, copy, length, joins, part) in zip(row.parts, parts[index], strict=True):
            across, rise = (cuts[-1].offset, own.level * band.depth) if own.level else (offset, 0.0)
            cuts.append(RibCut(band.name, copy, source, index, across, length, band.depth, joins, part, rise=rise))
            offset = max(offset, across + length)
        written.append(RibRow(source, start, depth, offset))
        start += depth
    length, count = (0.0, len(sources)) if is_strips else (start, 0)
    is_best = task.stock_used(rows) <= bound
    proven = (length or count) if is_best else bound * (1 if is_strips else task.depth_step)
    return RibPlan(stock, tuple(cuts), tuple(written), length, count, _joins(task, rows), is_best, proven, fewest)


def _write_parts(
    task: RibTask, rows: list[StripRow], bands: Sequence[RibBand], seam: float
) -> list[list[tuple[RibBand, int, float, int, int]]]:
    """For each row its parts: band, copy, true length, the copy's joins, and the part's number along the copy.

    The longest part of a copy takes back what whole steps left over.
    """
    copies: dict[tuple[int, int | str], list[tuple[int, int, int, int]]] = defaultdict(list)
    for index, row in enumerate(rows):
        for place, part in enumerate(row.parts):
            whose = f"{index}.{place}" if part.joined is None else part.joined
            copies[part.kind, whose].append((part.group, part.length, index, place))
    numbers: dict[int, int] = defaultdict(int)
    written: dict[tuple[int, int], tuple[RibBand, int, float, int, int]] = {}
    for (kind, _), own in copies.items():
        band, joins = bands[kind], len(own) - 1
        left = band.length + joins * 2 * seam - sum(length for _, length, _, _ in own) * task.step
        longest = max(own, key=lambda one: one[1:])
        for order, one in enumerate(sorted(own)):
            _, length, index, place = one
            extra = left if one == longest else 0.0
            written[index, place] = (band, numbers[kind], length * task.step + extra, joins, order)
        numbers[kind] += 1
    return [[written[index, place] for place in range(len(row.parts))] for index, row in enumerate(rows)]


def _find_seams(plan: RibPlan, bands: Sequence[RibBand], seam: float) -> tuple[RibJoin, ...]:
    """Where each join falls on the sewn band, and what it meets there."""
    named, seams = {band.name: band for band in bands}, []
    reached: dict[tuple[str, int], float] = defaultdict(float)
    for cut in sorted(plan.cuts, key=lambda cut: (cut.band, cut.copy, cut.part)):
        if cut.part == cut.joins:
            continue
        band = named[cut.band]
        at = reached[cut.band, cut.copy] = reached[cut.band, cut.copy] + cut.length - 2 * seam
        sewn = band.length - 2 * seam
        missed = "" if band.places else None
        place = next((name for name, share in band.places if abs(share * sewn - at) <= SLACK), missed)
        seams.append(RibJoin(cut.band, cut.copy, cut.part, at, place))
    return tuple(seams)
