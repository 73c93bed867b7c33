"""The plainest marker there is: one outline behind another, each where it may lie lowest."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nesting.cloth.repeat import ROUNDING
from nesting.marker.marker import Marker, Placement

if TYPE_CHECKING:
    from nesting.problem.problem import Problem


def lay_in_a_row(problem: Problem) -> Marker:
    """A marker that can always be cut: it stands in where a search has nothing that passes the check yet.

    Each outline begins behind the one before it and the gap, on the next line of the cloth's pattern if it is bound
    to one; all lie behind the last fault. Nothing stands in for anything else.
    """
    if problem.stretches:
        from nesting.marker.stretches import join_stretches

        return join_stretches(problem, [lay_in_a_row(stretch) for stretch in problem.stretches])
    start = max((float(fault[:, 0].max()) + problem.gap for fault in problem.faults), default=0.0)
    placements, end = [], 0.0
    for i, item in enumerate(problem.items):
        for copy in range(item.quantity):
            way = item.variants[0]
            x = start
            if problem.repeat and problem.repeat.along and way.match:
                first, step = problem.repeat.first_x(way.match), problem.repeat.along
                x = first + max(0, math.ceil((start - first) / step - ROUNDING)) * step
            placements.append(Placement(i, copy, 0, x, way.low))
            end = x + way.length
            start = end + problem.gap
    return Marker(problem, tuple(placements), end)
