"""Outlines cut along their grain: half of one on a fold, or panels that are joined again."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import groupby
from typing import TYPE_CHECKING

import numpy as np

from pieces.piece.outline import Edge, cut_line
from pieces.piece.piece import Piece

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

JOIN = "join"
"""What an edge is called at which parts are joined."""

PARTS = " parts, joined by "
"""What is said of every part of a shape that is pieced, and of nothing else."""

SAME = 1e-3
"""Corners nearer than this, mm, are one."""


def above(edges: Sequence[Edge], at: float, cut: Edge) -> tuple[Edge, ...]:
    """What lies above a line along the grain, with an edge along it.

    Parameters
    ----------
    edges
        The sides of a shape that the line enters once and leaves once.
    at
        Where across the piece the line runs, mm.
    cut
        Name, allowance and kind of the new edge; its points are not looked at.
    """
    kept = [
        (kept, edge)
        for edge in edges
        for pair in zip(edge.points[:-1], edge.points[1:], strict=True)
        if (kept := _part_above(*pair, at)) is not None
    ]
    first = next(i for i in range(len(kept)) if np.hypot(*(kept[i - 1][0][1] - kept[i][0][0])) > SAME)
    ordered = [*kept[first:], *kept[:first]]
    sides: list[Edge] = [replace(cut, points=np.array([ordered[-1][0][1], ordered[0][0][0]]))]
    for edge, run in groupby(ordered, key=lambda one: one[1]):
        chords = [chord for chord, _ in run]
        sides.append(replace(edge, points=np.array([chords[0][0], *(end for _, end in chords)])))
    return tuple(sides)


def below(edges: Sequence[Edge], at: float, cut: Edge) -> tuple[Edge, ...]:
    """What lies below such a line; see `above`."""
    return turned_over(above(turned_over(edges), -at, cut))


def turned_over(edges: Sequence[Edge]) -> tuple[Edge, ...]:
    """The mirror image about the grain, its sides in order again."""
    return tuple(replace(edge, points=np.ascontiguousarray(edge.points[::-1] * (1, -1))) for edge in reversed(edges))


def _part_above(first: Floats, second: Floats, at: float) -> tuple[Floats, Floats] | None:
    """The part of a chord above a line along the grain; None where there is none."""
    low, high = first[1] - at, second[1] - at
    if max(low, high) <= SAME:
        return None
    if min(low, high) >= 0:
        return first, second
    crossing = first + (second - first) * (low / (low - high))
    crossing[1] = at
    return (crossing, second) if low < 0 else (first, crossing)


def panels(whole: Piece, number: int, seam: float, widest: float = math.inf) -> tuple[Piece, ...]:
    """A piece in so many panels as wide as one another, cut, joined by seams along the grain.

    Panels that are alike are one piece, cut as often; left and right ones are a pair.

    Parameters
    ----------
    seam
        Allowance at each join, mm.
    widest
        Of wider panels there are none: nothing is cut. mm.
    """
    low, high = float(whole.cut_line[:, 1].min()), float(whole.cut_line[:, 1].max())
    wide = (high - low + 2 * (number - 1) * seam) / number
    if wide <= 2 * seam or wide > widest:
        return ()
    lines = [low + k * wide - (2 * k - 1) * seam for k in range(1, number)]
    join = Edge(JOIN, np.zeros((2, 2)), seam)
    cut: list[tuple[Edge, ...]] = []
    for under, over in zip((None, *lines), (*lines, None), strict=True):
        edges = whole.edges
        edges = edges if under is None else above(edges, under, join)
        cut.append(edges if over is None else below(edges, over, join))
    return tuple(_gathered(whole, cut))


def _gathered(whole: Piece, cut: list[tuple[Edge, ...]]) -> Iterator[Piece]:
    """A piece for each panel that differs."""
    kinds: list[tuple[tuple[Edge, ...], int, int]] = []  # with how often it is there, and its mirror image
    for edges in cut:
        for i, (known, times, over) in enumerate(kinds):
            if _alike(known, edges):
                kinds[i] = known, times + 1, over
                break
            if _alike(known, turned_over(edges)):
                kinds[i] = known, times, over + 1
                break
        else:
            kinds.append((edges, 1, 0))
    for number, (edges, times, over) in enumerate(kinds, 1):
        name = whole.name if len(kinds) == 1 else f"{whole.name}, part {number}"
        has_hands = over > 0 and not _alike_cut(edges, turned_over(edges))
        yield Piece(
            name,
            edges,
            cut=whole.cut * (times + over),
            mirrored_pair=whole.mirrored_pair or has_hands,
            material=whole.material,
            grain=grain_within(edges),
            label=joined_label(len(cut), len(cut) - 1),
            lies=whole.lies,
        )


def joined_label(parts: int, joins: int) -> str:
    """What a part says of the whole it belongs to."""
    return f"1 of {parts}{PARTS}{joins} {'seam' if joins == 1 else 'seams'}"


def grain_within(edges: Sequence[Edge]) -> tuple[tuple[float, float], tuple[float, float]]:
    """A grainline along the middle of an outline."""
    outline = cut_line(edges)
    (x0, y0), (x1, y1) = outline.min(axis=0), outline.max(axis=0)
    middle, long = float(y0 + y1) / 2, float(x1 - x0)
    return (float(x0) + 0.3 * long, middle), (float(x0) + 0.7 * long, middle)


def _alike(edges: Sequence[Edge], others: Sequence[Edge]) -> bool:
    """Whether two panels are the same, sewn and cut, wherever they lie."""
    sewn, its = (np.vstack([edge.points for edge in sides]) for sides in (edges, others))
    offset, other = (line.min(axis=0) - cut_line(sides).min(axis=0) for line, sides in ((sewn, edges), (its, others)))
    return _same_points(sewn, its) and bool(np.abs(offset - other).max() < SAME) and _alike_cut(edges, others)


def _alike_cut(edges: Sequence[Edge], others: Sequence[Edge]) -> bool:
    """Whether two panels are cut to the same outline, wherever they lie."""
    return _same_points(cut_line(edges), cut_line(others))


def _same_points(line: Floats, other: Floats) -> bool:
    """Whether two outlines have the same corners, wherever they lie."""
    apart = np.hypot(*((line - line.min(axis=0))[:, None] - (other - other.min(axis=0))[None]).T)
    return bool(apart.min(axis=0).max() < SAME and apart.min(axis=1).max() < SAME)
