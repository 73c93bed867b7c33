"""Markers of stretches put one behind the other, and taken apart again."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nesting.marker.marker import Marker, Placement

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nesting.problem.problem import Problem


def join_stretches(problem: Problem, markers: Sequence[Marker]) -> Marker:
    """The marker of a problem in stretches, one marker a stretch put behind the other.

    Each begins with its own place on the cloth's pattern: the cloth between is left over.
    """
    bands, placements = [], []
    start, items, repeat = 0.0, 0, problem.repeat
    for k, marker in enumerate(markers):
        own = marker.problem.repeat
        if k == 0:
            repeat = own or repeat
        else:
            start += problem.gap
            start += (repeat.start - own.start - start) % repeat.along if own and repeat and repeat.along else 0.0
        end = start + marker.length
        bands += [replace(band, start=start, end=end) for band in marker.problem.bands]
        placements += [replace(p, item=p.item + items, x=p.x + start) for p in marker.placements]
        start, items = end, items + len(marker.problem.items)
    return Marker(replace(problem, bands=tuple(bands), repeat=repeat), tuple(placements), start)


def split_stretches(marker: Marker) -> list[Marker]:
    """The markers of the stretches of a marker, each by itself."""
    parts, items, bands = [], 0, 0
    for stretch in marker.problem.stretches:
        band, last = marker.problem.bands[bands], items + len(stretch.items)
        placements = tuple(
            Placement(p.item - items, p.copy, p.variant, p.x - band.start, p.y)
            for p in marker.placements
            if items <= p.item < last
        )
        own, whole = stretch.repeat, marker.problem.repeat
        if own and whole and own.along:
            own = replace(own, start=(whole.start - band.start) % own.along)
        parts.append(Marker(replace(stretch, repeat=own), placements, band.end - band.start))
        items, bands = last, bands + len(stretch.bands)
    return parts
