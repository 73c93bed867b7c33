"""Loose lines that meet exactly put end to end, before ends that lie only near to one another are joined.

So a curve of many short chords is one long line: a tolerance wider than a chord can then not swallow it.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    from pieces.exchange.drawing import DrawnLine

    Floats = NDArray[np.float64]

TOUCH = 2e-3
"""Ends this near to one another meet, mm: files are written to a hundredth or a thousandth of their unit."""


@dataclass(frozen=True, eq=False)
class LineChain:
    """Lines that follow one another.

    Parameters
    ----------
    points
        Where it runs; where it is closed, the first point is not repeated.
    members
        The lines that it is made of.
    gap
        How far two of them lie apart at the most, mm.
    """

    points: Floats
    members: tuple[DrawnLine, ...]
    closed: bool = False
    gap: float = 0.0

    @property
    def groups(self) -> frozenset[str]:
        """What its lines were drawn under."""
        return frozenset(line.group for line in self.members)

    @property
    def numbers(self) -> tuple[int, ...]:
        """The numbers of its lines in the account."""
        return tuple(number for line in self.members for number in line.numbers)


def chained(lines: Sequence[DrawnLine]) -> tuple[list[LineChain], list[DrawnLine]]:
    """Lines put end to end where just two of them meet; and those that were drawn twice, or have no length."""
    ends = np.array([[line.points[0], line.points[-1]] for line in lines]).reshape(-1, 2)
    nodes = clusters(ends, TOUCH).reshape(-1, 2)
    kept, doubled = _once(lines, nodes)
    at: dict[int, list[int]] = {}
    for index in kept:
        for node in nodes[index].tolist():
            at.setdefault(node, []).append(index)
    seen = set[int]()
    starts = [index for index in kept if any(len(at[node]) != 2 for node in nodes[index].tolist())]
    found = [_walk(index, lines, nodes, at, seen) for index in [*starts, *kept] if index not in seen]
    return found, doubled


def _once(lines: Sequence[DrawnLine], nodes: NDArray[np.int64]) -> tuple[list[int], list[DrawnLine]]:
    """The numbers of lines that are there once, and the lines that are not: between the same ends, as long, as far."""
    known: set[tuple[int, int, int, int, int]] = set()
    kept, doubled = [], []
    for index, (line, (a, b)) in enumerate(zip(lines, nodes.tolist(), strict=True)):
        whole, x, y = _measured(line.points)
        key = (min(a, b), max(a, b), *(round(value / (10 * TOUCH)) for value in (x, y, whole)))
        if key in known or (a == b and whole <= 2 * TOUCH):
            doubled.append(line)
            continue
        known.add(key)
        kept.append(index)
    return kept, doubled


def _measured(points: Floats) -> tuple[float, float, float]:
    """How long a line is, and where its middle lies."""
    if len(points) == 2:
        (x0, y0), (x1, y1) = points.tolist()
        return hypot(x1 - x0, y1 - y0), (x0 + x1) / 2, (y0 + y1) / 2
    long = np.hypot(*np.diff(points, axis=0).T)
    whole = float(long.sum())
    x, y = ((points[1:] + points[:-1]) / 2 * long[:, np.newaxis]).sum(axis=0) / max(whole, TOUCH)
    return whole, float(x), float(y)


def _walk(
    index: int, lines: Sequence[DrawnLine], nodes: NDArray[np.int64], at: dict[int, list[int]], seen: set[int]
) -> LineChain:
    """From a line on, as long as just one other follows."""
    a, b = nodes[index].tolist()
    first = node = a if len(at[a]) != 2 or len(at[b]) == 2 else b
    parts: list[Floats] = []
    members: list[DrawnLine] = []
    gap = 0.0
    while True:
        seen.add(index)
        points = lines[index].points
        a, b = nodes[index].tolist()
        if a != node:
            points, b = points[::-1], a
        if parts:
            gap = max(gap, float(hypot(*(points[0] - parts[-1][-1]))))
        parts.append(points if not parts else points[1:])
        members.append(lines[index])
        node = b
        after = [other for other in at[node] if other not in seen]
        if len(at[node]) != 2 or not after:
            break
        index = after[0]
    whole = np.vstack(parts)
    closed = node == first and len(at[node]) == 2 and len(whole) > 3
    if closed:
        gap, whole = max(gap, float(np.hypot(*(whole[-1] - whole[0])))), whole[:-1]
    return LineChain(whole, tuple(members), closed, gap)


def clusters(points: Floats, tolerance: float) -> NDArray[np.int64]:
    """A number for each point, the same for those that lie within `tolerance` of one another.

    Points are first sorted into cells, so that however many lie in one place, few pairs are compared.
    """
    import shapely

    cells, member = np.unique(np.floor(points / (tolerance / 2)), axis=0, return_inverse=True)
    member = member.reshape(-1)
    chosen = np.zeros(len(cells), dtype=np.int64)
    chosen[member[::-1]] = np.arange(len(points))[::-1]
    places = np.asarray(shapely.points(points[chosen]))
    parent = list(range(len(cells)))

    def root(i: int) -> int:
        while parent[i] != i:
            parent[i] = parent[parent[i]]
            i = parent[i]
        return i

    pairs = shapely.STRtree(places).query(places, predicate="dwithin", distance=tolerance)
    for a, b in pairs.T.tolist():
        if a < b:
            parent[root(b)] = root(a)
    roots = np.array([root(i) for i in range(len(cells))], dtype=np.int64)
    numbers: NDArray[np.int64] = roots[member]
    return numbers


def called(lines: Iterable[DrawnLine]) -> str:
    """The name of its own that all lines have which have one."""
    names = {line.called for line in lines} - {""}
    return names.pop() if len(names) == 1 else ""
