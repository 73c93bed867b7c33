"""A sharper bound for few pieces: their widths across, slice by slice, one after another (CP-SAT).

Draw lines across the cloth at whole multiples of a slice. Wherever a piece lies, each line it crosses is covered at
least as far as the narrowest place within one slice of the crossing; together no more of a line can be covered than
the bands are wide. So the pieces, freed to slide and split across but not along, need at least the length of the best
such arrangement: the relaxation of strip packing to a schedule with one resource (as in Martello, Monaci, Vigo, "An
exact approach to the strip-packing problem", INFORMS J. on Computing 15, 2003, from memory), for outlines.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from nesting.problem.pared import pared
from nesting.problem.tilt import over_all_tilts
from nesting.proof.bounds import chords, least_cloth, lower_bound
from nesting.steps import repeatable_solver
from nesting.tolerance import ALLOWED

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray
    from ortools.sat.python import cp_model

    from nesting.problem.item import Item
    from nesting.problem.problem import Problem

MOST_PLACEMENTS = 12
"""With more outlines the schedule is too hard, and the area a good bound by itself."""

FINENESS = ((32, 40), (64, 80))
"""Slices in the length that the area needs, and levels in the width: coarse first, then finer."""

FINE = 100
"""Whole numbers count hundredths of a slice."""

SHARE = 1 / (MOST_PLACEMENTS + 1)
"""Of a level, what counts as a whole one: together too little for one level more, since a line has whole levels."""

HELD = "the pieces' widths across, slice by slice"


class Profile(NamedTuple):
    """How far a piece covers the lines it crosses, in levels of the width; and its length, mm."""

    levels: tuple[int, ...]
    length: float


def slice_bound(problem: Problem, effort: float = 1.0) -> tuple[float, str]:
    """A length that no marker can undercut, for few pieces often much sharper than the area.

    Parameters
    ----------
    effort
        Deterministic time for CP-SAT in all; one unit is one to four seconds.

    Returns
    -------
    tuple of float and str
        The length, mm, and the argument that held: that of `lower_bound` where slices prove no more.
    """
    best, problem = lower_bound(problem), problem.to_prove
    if problem.num_placements > MOST_PLACEMENTS or problem.choices:
        return best
    small, depth = pared(over_all_tilts(problem)), ALLOWED
    laid = least_cloth(pared(problem)) / small.cloth_width
    for slices, levels in FINENESS:
        proved, spent = _schedule(small, laid / slices, levels, best[0] + depth, effort)
        effort -= spent
        if proved - depth > best[0]:
            best = proved - depth, HELD
        if effort <= 0:
            break
    return best


def profile(outline: NDArray[np.float64], slice_: float, level: float) -> Profile:
    """The profile of an outline, shape (n, 2), mm: for its k-th line the least chord across within slice k.

    Wherever the outline starts, its k-th line crosses it at a distance in (k - 1, k] slices from its start.
    """
    turned = outline[:, ::-1]
    length = float(outline[:, 0].max())
    count = int(length / slice_)
    corners = np.unique(np.concatenate([outline[:, 0], np.arange(count + 1) * slice_, [length]]))
    # Between two neighbouring places the chord is linear: its ends there are carried over from just inside.
    starts, ends = corners[:-1], corners[1:]
    near = chords(turned, starts * 0.75 + ends * 0.25)
    far = chords(turned, starts * 0.25 + ends * 0.75)
    least = np.minimum(near - (far - near) / 2, far + (far - near) / 2)
    number = np.floor(starts / slice_ + 1e-9).astype(np.int64)
    levels = tuple(math.floor(least[number == k].min() / level + SHARE) for k in range(count))
    return Profile(tuple(max(0, value) for value in levels), length)


def _schedule(problem: Problem, slice_: float, levels: int, known: float, effort: float) -> tuple[float, float]:
    """The bound at one fineness, mm, and the effort it took."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    level = sum(band.width for band in problem.bands) / levels
    longest = sum(max(v.length for v in item.variants) * item.quantity for item in problem.items)
    horizon = math.ceil(longest / slice_) + 1
    end = model.new_int_var(math.floor(known / slice_ * FINE), horizon * FINE, "end")
    runs: list[tuple[cp_model.IntervalVar, int]] = []
    for item in problem.items:
        ways = {profile(variant.outline, slice_, level) for variant in item.variants}
        runs += _add_item(model, item, sorted(ways), slice_, horizon, end)
    model.add_cumulative([interval for interval, _ in runs], [demand for _, demand in runs], levels)
    model.minimize(end)
    solver = repeatable_solver(effort)
    solver.parameters.linearization_level = 0
    solver.solve(model)
    return solver.best_objective_bound / FINE * slice_, solver.response_proto.deterministic_time


def _add_item(
    model: cp_model.CpModel, item: Item, ways: list[Profile], slice_: float, horizon: int, end: cp_model.IntVar
) -> Iterator[tuple[cp_model.IntervalVar, int]]:
    """All copies of an item, in order of their starts, each in one of its ways: the runs of lines, and their levels."""
    before: cp_model.IntVar | None = None
    for _ in range(item.quantity):
        start = model.new_int_var(0, horizon, "")
        chosen = [model.new_bool_var("") for _ in ways]
        model.add_exactly_one(chosen)
        for is_chosen, way in zip(chosen, ways, strict=True):
            length = math.floor(way.length / slice_ * FINE)
            model.add(end >= start * FINE + length).only_enforce_if(is_chosen)
            for first, last, demand in _runs(way.levels):
                interval = model.new_optional_fixed_size_interval_var(start + first, last - first, is_chosen, "")
                yield interval, demand
        if before is not None:
            model.add(before <= start)
        before = start


def _runs(levels: tuple[int, ...]) -> list[tuple[int, int, int]]:
    """Runs of one level, without those of none: first line, line after the last, level."""
    edges = [0, *(i for i in range(1, len(levels)) if levels[i] != levels[i - 1]), len(levels)]
    return [(first, last, levels[first]) for first, last in pairwise(edges) if first < last and levels[first] > 0]
