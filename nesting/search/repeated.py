"""Many equal pieces: a small section laid well, and the section laid again and again.

A marker of forty jackets need not be searched piece by piece: a section of a few is, and copies of it follow one
another as closely as their outlines interlock.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from nesting.search.fill import crossings
from nesting.shape.layout import Layout

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nesting.problem.problem import Problem
    from nesting.shape.nofit import NoFit

    Floats = NDArray[np.float64]

MANY = 100
"""With fewer outlines the search lays them one by one."""

SECTION = 42
"""Outlines that a section should have, about."""

CLEARANCE = 4
"""Steps kept between a section and the next: no-fit polygons are drawn a little too small."""


def section_of(problem: Problem) -> tuple[Problem, int] | None:
    """A share of a problem with many equal items, and how many such shares make the whole; None if there is none."""
    common = math.gcd(*(item.quantity for item in problem.items))
    times = [t for t in range(2, common + 1) if common % t == 0]
    if problem.num_placements < MANY or not times or problem.faults:
        return None
    best = min(times, key=lambda t: abs(problem.num_placements / t - SECTION))
    items = tuple(replace(item, quantity=item.quantity // best) for item in problem.items)
    return replace(problem, items=items), best


def repeat_section(section: Layout, times: int, nofit: NoFit) -> Layout:
    """The layout of a whole problem: a section's layout without overlap, `times` over, each a period behind the last.

    Parameters
    ----------
    nofit
        Of the section's problem.
    """
    step = period(section, nofit)
    number = np.repeat(np.arange(times), len(section.x))
    x = np.tile(section.x, times) + number * step
    return Layout(np.tile(section.shape, times), x, np.tile(section.y, times), section.length + (times - 1) * step)


def period(section: Layout, nofit: NoFit) -> float:
    """The least distance along the cloth at which copies of a section can follow one another, mm."""
    grid = nofit.shapes.grid
    starts, ends = _forbidden(section, nofit)
    least = math.ceil(float(grid.to_steps(section.length)) / 2)
    tries = np.unique(np.concatenate([np.ceil(ends[ends > 0]), [least, float(grid.to_steps(section.length))]]))
    if (repeat := nofit.shapes.problem.repeat) and repeat.along:
        # Whole repeats only, so that copies lie on the pattern as the section does.
        whole = np.arange(1, math.ceil(section.length / repeat.along) + 1) * repeat.along
        tries = grid.to_steps(whole).astype(np.float64) - CLEARANCE
    for distance in tries[tries >= least]:
        if all(not ((starts < k * distance) & (k * distance < ends)).any() for k in _copies(distance, ends)):
            return float(grid.to_mm(distance + CLEARANCE))
    raise AssertionError("copies of a section as far apart as it is long cannot overlap")


def _copies(distance: float, ends: Floats) -> range:
    """Which later copies may still reach back to a section."""
    return range(1, int(ends.max() // distance) + 2)


def _forbidden(section: Layout, nofit: NoFit) -> tuple[Floats, Floats]:
    """Distances, in steps, at which outlines of a copy overlap those of the section: starts and ends of stretches."""
    grid = nofit.shapes.grid
    x, y = np.rint(grid.to_steps(section.x)).astype(int), np.rint(grid.to_steps(section.y)).astype(int)
    stretches = []
    for i in range(len(x)):
        for j in range(len(x)):
            paths = nofit.paths(int(section.shape[i]), int(section.shape[j]))
            stretches += [(a - x[j], b - x[j]) for a, b in crossings(paths, int(x[i]), int(y[i]), int(y[j]))]
    starts, ends = np.array(stretches, dtype=np.float64).T
    return starts, ends
