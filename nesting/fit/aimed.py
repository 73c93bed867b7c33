"""A search that ends once a marker is short enough for a remnant."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from nesting.search.solver import solve
from nesting.search.stop import AnyOf, Target
from pieces.length import mm

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from nesting.marker.marker import Result
    from nesting.problem.problem import Problem
    from nesting.search.stop import Aims, StopCriterion

    AimsOf = Callable[[Problem], Aims | None]
    Stops = Callable[[], Sequence[StopCriterion]]


def search_within(
    stop: Stops,
    aims: AimsOf | None,
    terms: dict[str, Any],
    problem: Problem,
    within: float,
    *more: StopCriterion,
    **options: Any,
) -> Result:
    """Search as any cloth is searched; or, on from a marker that is given, for the remnant's length.

    Parameters
    ----------
    stop, more
        Fresh criteria any of which ends the search, and others that do.
    aims
        What any search of a problem aims at.
    terms, options
        Of `solve`.
    within
        Length that is short enough, mm.
    """

    def at_remnant(length: float) -> float | None:
        return within if length > within else None

    aimed = at_remnant if "initial" in options else aims(problem) if aims else None
    return solve(problem, AnyOf(Target(mm(within)), *stop(), *more), aims=aimed, **terms, **options)
