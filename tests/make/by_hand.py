"""What anyone does by hand: boxes on shelves across the cloth, the shortest of all ways; for few outlines."""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nesting.problem.item import Item
    from nesting.problem.problem import Problem

SLACK = 1e-6
"""Boxes that fit to this, mm, fit."""

MOST = 6
"""Outlines of which all ways are tried."""


class HandBox(NamedTuple):
    """The box of one way to lie, mm, its band, and the edge that holds it there: "low", "high" or none."""

    length: float
    height: float
    band: int
    edge: str


def shortest_shelves(problem: Problem) -> float | None:
    """The length of the shortest shelves of boxes, mm; None where it is not for this kind of problem to say."""
    items = [item for item in problem.items for _ in range(item.quantity)]
    if len(items) > MOST or problem.faults or problem.repeat or problem.stretches:
        return None
    boxes = [list(_boxes(problem, item)) for item in items]
    lengths = []
    for bands in product(range(len(problem.bands)), repeat=len(items)):
        ends = []
        for number, band in enumerate(problem.bands):
            own = [[box for box in boxes[i] if box.band == number] for i in range(len(items)) if bands[i] == number]
            ends.append(min(_partitioned(own, band.high - band.low, problem.gap), default=float("inf")))
        lengths.append(max(ends))
    return min(lengths) if min(lengths) < float("inf") else None


def _boxes(problem: Problem, item: Item) -> Iterator[HandBox]:
    for variant in item.variants:
        band = problem.bands[variant.band]
        at_low = abs(variant.low - band.low) < SLACK
        at_high = abs(variant.high + variant.height - band.high) < SLACK
        if at_low or at_high:
            edge = "" if at_low and at_high else "low" if at_low else "high"
            yield HandBox(variant.length, variant.height, variant.band, edge)


def _partitioned(boxes: list[list[HandBox]], room: float, gap: float) -> Iterator[float]:
    """Lengths of all ways to part outlines among shelves."""
    if not boxes:
        yield 0.0
        return
    first, rest = boxes[0], boxes[1:]
    for taken in product((False, True), repeat=len(rest)):
        shelf = [first, *(one for one, is_taken in zip(rest, taken, strict=True) if is_taken)]
        length = _shelf(shelf, room, gap)
        if length is None:
            continue
        others = [one for one, is_taken in zip(rest, taken, strict=True) if not is_taken]
        for end in _partitioned(others, room, gap):
            yield length + (gap + end if others else 0.0)


def _shelf(boxes: list[list[HandBox]], room: float, gap: float) -> float | None:
    """The least length of a shelf that holds an outline of each list; None if none does."""
    for length in sorted({box.length for ways in boxes for box in ways}):
        kinds = [
            {(box.height, box.edge) for box in ways if box.length <= length + SLACK and box.height <= room + SLACK}
            for ways in boxes
        ]
        lowest = [
            [
                min((h, e) for h, e in some if e == edge)
                for edge in ("", "low", "high")
                if any(e == edge for _, e in some)
            ]
            for some in kinds
        ]
        for chosen in product(*lowest):
            edges = [edge for _, edge in chosen if edge]
            if len(edges) == len(set(edges)) and sum(h for h, _ in chosen) + gap * (len(chosen) - 1) <= room + SLACK:
                return length
    return None
