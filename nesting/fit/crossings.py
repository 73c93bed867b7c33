"""A proof that pieces do not fit within a length: lines across the cloth, and the order of the pieces that cross them.

Draw lines across the cloth at whole multiples of a slice. Where two pieces cross the same lines, one lies above the
other, the same one on all of them, and as far above as the lines ask for. Which starts, heights and orders there are
under these rules is asked of CP-SAT; if there are none, no layout is as short. All that is known of a piece is how
far it surely reaches down and up on the lines it crosses, wherever within its slice it starts.
"""

from __future__ import annotations

import math
from itertools import combinations, pairwise
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from nesting.problem.pared import pared
from nesting.problem.tilt import over_all_tilts
from nesting.steps import repeatable_solver
from nesting.tolerance import ALLOWED

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray
    from ortools.sat.python import cp_model

    from nesting.fit.remnant import Zone
    from nesting.problem.item import Item
    from nesting.problem.problem import Problem

MOST_PLACEMENTS = 12
"""With more outlines the question is too hard."""

COARSE, FINE = (16, 24), (36, 54)
"""Slices in the length, tried one after another."""

HELD = "the order of the pieces on lines across the cloth"

ROUNDING = 0.05
"""By how much less than asked for a piece may lie above another, mm: a layout's own rounding."""

ANYWHERE = -(10**6)
"""How far above another a piece must lie that shares no line with it, mm."""


class Crossing(NamedTuple):
    """How far up, at least, an outline's lower side reaches on each line it crosses, and how far down its upper, mm.

    The k-th line crosses it at a distance in (k, k + 1] slices from its start. Not a number where it may come apart
    on the line, or is not of one part with its longest such run.
    """

    low: NDArray[np.float64]
    high: NDArray[np.float64]


class _Lying(NamedTuple):
    """One outline in the model: the slice it starts in, its height in whole mm, and its ways."""

    start: cp_model.IntVar
    height: cp_model.IntVar
    chosen: tuple[cp_model.IntVar, ...]
    crossings: tuple[Crossing, ...]
    first: int
    last: int


def cannot_lie_within(
    problem: Problem, length: float, zones: Sequence[Zone], effort: float, fineness: Sequence[int] = COARSE + FINE
) -> bool:
    """Whether it is proved that no layout of a problem is as short.

    Parameters
    ----------
    length
        Of the cloth, mm.
    zones
        Where on it no piece may lie.
    effort
        Deterministic time for CP-SAT in all; one unit is about a second.
    fineness
        Slices in the length, tried one after another.
    """
    problem = problem.to_prove
    if problem.num_placements > MOST_PLACEMENTS or problem.choices:
        return False
    # Pared pieces reach half the tolerance beyond either end; `ROUNDING` allows for where that moves the zones to.
    small, within = pared(over_all_tilts(problem)), length + ALLOWED
    for slices in fineness:
        model = _model(small, within, zones, within / slices)
        if effort <= 0 or model is None:
            return model is None
        solver = repeatable_solver(effort)
        solver.parameters.linearization_level = 0
        solver.parameters.cp_model_probing_level = 0  # takes longer than all else, and brings nothing
        status = solver.solve(model)
        effort -= solver.response_proto.deterministic_time
        if solver.status_name(status) == "INFEASIBLE":
            return True
    return False


def crossing(outline: NDArray[np.float64], slice_: float) -> Crossing:
    """What is sure of an outline, shape (n, 2), mm, wherever within its slice it starts."""
    count = int(outline[:, 0].max() / slice_)
    low, high, whole = np.full(count, -np.inf), np.full(count, np.inf), np.ones(count, dtype=bool)
    corners = np.unique(np.concatenate([outline[:, 0], np.arange(count + 1) * slice_]))
    for start, end in pairwise(corners.tolist()):
        number = int((start + end) / 2 / slice_)
        if number >= count:
            break
        # Between two neighbouring corners the sides are straight: their ends are carried over from just inside.
        near, beyond = (_sides(outline, start + share * (end - start)) for share in (0.25, 0.75))
        if len(near) != 2 or len(beyond) != 2:
            whole[number] = False
            continue
        half = (beyond - near) / 2
        low[number] = max(low[number], near[0] - half[0], beyond[0] + half[0])
        high[number] = min(high[number], near[1] - half[1], beyond[1] + half[1])
    kept = _longest_run(whole)
    return Crossing(np.where(kept, low, np.nan), np.where(kept, high, np.nan))


def _sides(outline: NDArray[np.float64], x: float) -> NDArray[np.float64]:
    """Where an outline crosses the line at `x`, upwards."""
    ahead = np.roll(outline, -1, axis=0)
    crosses = (outline[:, 0] > x) != (ahead[:, 0] > x)
    (x0, y0), (x1, y1) = outline[crosses].T, ahead[crosses].T
    sides: NDArray[np.float64] = np.sort(y0 + (x - x0) / (x1 - x0) * (y1 - y0))
    return sides


def _longest_run(whole: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """The longest run of what is true, and nothing else."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], whole, [False]]).astype(np.int8)))
    kept = np.zeros_like(whole)
    if edges.size:
        starts, ends = edges[::2], edges[1::2]
        longest = int(np.argmax(ends - starts))
        kept[starts[longest] : ends[longest]] = True
    return kept


def _model(problem: Problem, length: float, zones: Sequence[Zone], slice_: float) -> cp_model.CpModel | None:
    """The question at one fineness; None if a piece is too long for an answer."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    pieces: list[_Lying] = []
    for item in problem.items:
        copies = [_lay(model, item, length, slice_) for _ in range(item.quantity)]
        if any(copy.last < 0 for copy in copies):
            return None
        for before, after in pairwise(copies):
            model.add(before.start <= after.start)
        pieces += copies
    for one, other in combinations(pieces, 2):
        _keep_apart(model, one, other, problem.gap)
    for zone in zones:
        lost = _lose(model, zone, slice_)
        for piece in pieces:
            _keep_apart(model, piece, lost, 0.0)
    return model


def _lay(model: cp_model.CpModel, item: Item, length: float, slice_: float) -> _Lying:
    """One copy of an item, in one of its ways."""
    lasts = [math.floor((length - variant.length) / slice_ + 1e-6) for variant in item.variants]
    start = model.new_int_var(0, max(0, *lasts), "")
    spans = [(math.floor(v.low - ROUNDING), math.floor(v.high + ROUNDING)) for v in item.variants]
    height = model.new_int_var(min(low for low, _ in spans), max(high for _, high in spans), "")
    chosen = tuple(model.new_bool_var("") for _ in item.variants)
    model.add_exactly_one(chosen)
    for is_chosen, last, (low, high) in zip(chosen, lasts, spans, strict=True):
        model.add(start <= last).only_enforce_if(is_chosen)
        model.add_linear_constraint(height, low, high).only_enforce_if(is_chosen)
    return _Lying(start, height, chosen, tuple(crossing(v.outline, slice_) for v in item.variants), 0, max(lasts))


def _lose(model: cp_model.CpModel, zone: Zone, slice_: float) -> _Lying:
    """A zone, where it is, but for its rim: a piece may touch it."""
    first = math.floor((zone.start + ROUNDING) / slice_)
    lines = max(0, math.ceil((zone.end - ROUNDING) / slice_) - 1 - first)
    low, height = math.floor(zone.low), zone.high - zone.low
    sides = Crossing(np.zeros(lines), np.full(lines, height + zone.low - low))
    return _Lying(model.new_constant(first), model.new_constant(low), (model.new_constant(1),), (sides,), first, first)


def _keep_apart(model: cp_model.CpModel, one: _Lying, other: _Lying, gap: float) -> None:
    """Where both cross the same lines, the one lies above the other, or the other above the one."""
    is_above = model.new_bool_var("")
    shift = model.new_int_var(other.first - one.last, other.last - one.first, "")
    model.add(shift == other.start - one.start)
    shifts = range(other.first - one.last, other.last - one.first + 1)
    for lower, upper, sign, order in ((one, other, 1, is_above), (other, one, -1, ~is_above)):
        for lower_way, below in zip(lower.chosen, lower.crossings, strict=True):
            for upper_way, above in zip(upper.chosen, upper.crossings, strict=True):
                table = [_above(below, above, sign * by, gap) for by in shifts]
                if max(table) == ANYWHERE:
                    continue
                least = model.new_int_var(min(table), max(table), "")
                model.add_element(shift - shifts[0], table, least)
                model.add(upper.height - lower.height >= least).only_enforce_if(order, lower_way, upper_way)


def _above(below: Crossing, above: Crossing, shift: int, gap: float) -> int:
    """How much higher at least an outline lies that starts some slices later than one below it, whole mm."""
    first, last = max(0, shift), min(len(below.high), len(above.low) + shift)
    if first >= last:
        return ANYWHERE
    apart = below.high[first:last] - above.low[first - shift : last - shift]
    apart = apart[~np.isnan(apart)]
    # Both heights are rounded down: their difference may be less by a part of a millimetre.
    return math.floor(apart.max() + gap - ROUNDING) if apart.size else ANYWHERE
