"""Other pieces laid on what a marker leaves of its cloth: its own pieces lie fast."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import shapely

from nesting.edit.carry import carry
from nesting.fit.aimed import search_within
from nesting.marker.marker import Marker, Placement
from nesting.tolerance import TOLERANCE
from nesting.verify import LaidMarker, verify_asked
from nesting.verify.cloth import cloth_of
from nesting.verify.places import region_of

if TYPE_CHECKING:
    from nesting.fit.aimed import Stops
    from nesting.problem.problem import Problem
    from nesting.search.listener import AnyListener
    from nesting.verify import Asked

MOVED = 1.0
"""Pieces whose outlines differ by less than this, mm², lie where they lay: rounding."""


def lay_beside(
    fixed: Marker,
    problem: Problem,
    asked: Asked,
    length: float,
    stop: Stops,
    *,
    seed: int = 0,
    workers: int = 1,
    listener: AnyListener | None = None,
) -> Marker | None:
    """Both together on one cloth, checked; None if no place was found for the others.

    Parameters
    ----------
    fixed
        The marker whose pieces stay where they are.
    problem
        The other pieces on the same cloth, laid in the same way.
    asked
        What both together have to give.
    length
        Of the cloth, mm.
    stop
        Fresh criteria any of which ends a search; there may be two.

    Raises
    ------
    WrongMarkerError
        If what was found does not give what was asked for.
    """
    outlines = tuple(outline for *_, outline in fixed.outlines())
    around = problem.each(
        lambda each: replace(each, faults=(*each.faults, *outlines), repeat=fixed.problem.repeat or each.repeat)
    )
    within, terms = length + TOLERANCE, {"seed": seed, "listener": listener}
    found = search_within(stop, None, terms, around, within, workers=workers)
    if found.marker.length > within:
        found = search_within(stop, None, terms, around, within, workers=workers, initial=found.marker)
    if found.marker.length > within:
        return None
    both = _together(fixed, found.marker)
    verify_asked(both, replace(asked, length=length))
    return both


def _together(fixed: Marker, other: Marker) -> Marker:
    """One marker of two that lie beside one another on the same cloth."""
    own, more = fixed.problem, len(fixed.problem.items)
    choices = tuple(
        replace(choice, item=choice.item + more, instead=tuple(i + more for i in choice.instead))
        for choice in other.problem.choices
    )
    problem = replace(
        own,
        items=(*own.items, *other.problem.items),
        choices=(*own.choices, *choices),
        repeat=own.repeat or other.problem.repeat,
        alternatives=(),
        loosest=None,
    )
    moved: list[Placement] = [replace(placement, item=placement.item + more) for placement in other.placements]
    return Marker(problem, (*fixed.placements, *moved), max(fixed.length, other.length))


def laid_open(marker: Marker, asked: Asked, problem: Problem) -> Marker | None:
    """A marker of folded cloth once that is laid open, with all cut as it is; None if it cannot lie so.

    Parameters
    ----------
    asked
        What the marker gives.
    problem
        The same pieces on the cloth laid open.
    """
    again = carry(marker, problem)
    if again is None:
        return None
    layout = LaidMarker.of(marker)
    cloth = cloth_of(asked, layout.length, layout.opened)
    cut = [
        shapely.Polygon(layer.to_cloth(laid.outline)) for laid in layout.laid for layer in region_of(cloth, laid).layers
    ]
    there = [shapely.Polygon(outline) for *_, outline in again.outlines()]
    one, other = (shapely.union_all(shapes, grid_size=1e-4) for shapes in (cut, there))
    return again if one.symmetric_difference(other).area < MOVED else None
