"""Loose lines joined, end to end, into closed outlines."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from pieces.exchange.mend.chained import called, chained, clusters

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    from pieces.exchange.drawing import DrawnLine
    from pieces.exchange.mend.chained import LineChain

    Floats = NDArray[np.float64]

SAME = 1e-6
"""Points this near to one another are the same, mm."""


@dataclass(frozen=True, eq=False)
class JoinedLine:
    """Lines joined to one: closed outlines do not repeat their first point.

    Parameters
    ----------
    groups
        What the lines were drawn under.
    gap
        The widest gap that was closed, mm.
    doubled
        How many lines were drawn twice.
    branched
        Whether other lines met the outline between its corners; they lie within it.
    numbers, dropped
        The lines' numbers in the account, and those of lines that were drawn twice.
    called, area, is_ground, is_unlined
        The name that its lines have of their own, the filled area that it bounds, and whether it has no line; see
        `DrawnLine`.
    """

    points: Floats
    closed: bool
    groups: frozenset[str]
    gap: float = 0.0
    doubled: int = 0
    branched: bool = False
    numbers: tuple[int, ...] = ()
    dropped: tuple[int, ...] = ()
    called: str = ""
    area: int = 0
    is_ground: bool = False
    is_unlined: bool = False


def as_ring(points: Floats, *, closed: bool) -> tuple[Floats, bool]:
    """A line that ends where it begins is closed, whether or not the file says so; its first point is not repeated."""
    back = len(points) > 3 and float(np.hypot(*(points[-1] - points[0]))) <= SAME
    return (points[:-1], True) if back else (points, closed)


def join(strokes: Iterable[DrawnLine], tolerance: float) -> list[JoinedLine]:
    """Closed lines as they are; open ones joined where their ends lie within `tolerance` of one another, mm."""
    done: list[JoinedLine] = []
    loose = []
    for stroke in strokes:
        points = stroke.points
        apart = float(np.hypot(*(points[-1] - points[0])))
        if stroke.closed and len(points) > (3 if apart <= SAME else 2):
            done.append(_alone(stroke, points[:-1] if apart <= SAME else points))
        elif len(points) > 3 and apart <= max(tolerance, SAME) and apart < _length(points) / 2:
            done.append(_alone(stroke, points[:-1], apart if apart > SAME else 0.0))
        elif len(points) > 1:
            loose.append(stroke)
    if not loose:
        return done
    chains, doubled = chained(loose)
    done += [_closed(chain) for chain in chains if chain.closed]
    still = [chain for chain in chains if not chain.closed]
    done += _Net(still, tolerance).joined() if still else []
    return _told(done, doubled)


def _closed(chain: LineChain) -> JoinedLine:
    """Lines that meet exactly, all the way round."""
    gap = chain.gap if chain.gap > SAME else 0.0
    return JoinedLine(chain.points, True, chain.groups, gap, numbers=chain.numbers, called=called(chain.members))


def _told(found: list[JoinedLine], doubled: Sequence[DrawnLine]) -> list[JoinedLine]:
    """What was found, the first of it with the lines that were drawn twice; alone, these stay open lines."""
    if not doubled:
        return found
    if not found:
        return [JoinedLine(s.points, False, frozenset([s.group]), numbers=s.numbers) for s in doubled]
    numbers = tuple(number for stroke in doubled for number in stroke.numbers)
    first = found[0]
    more = replace(first, doubled=first.doubled + len(doubled), dropped=(*first.dropped, *numbers))
    return [more, *found[1:]]


def _alone(stroke: DrawnLine, ring: Floats, gap: float = 0.0) -> JoinedLine:
    """A line that is an outline by itself."""
    groups = frozenset([stroke.group])
    return JoinedLine(
        ring,
        True,
        groups,
        gap,
        numbers=stroke.numbers,
        called=stroke.called,
        area=stroke.area,
        is_ground=stroke.is_ground,
        is_unlined=stroke.is_unlined,
    )


def _length(points: Floats) -> float:
    return float(np.hypot(*np.diff(points, axis=0).T).sum())


class _Net:
    """Open lines as a net: its nodes are ends that lie near to one another."""

    def __init__(self, strokes: Sequence[LineChain], tolerance: float) -> None:
        self._strokes = strokes
        ends = np.array([[s.points[0], s.points[-1]] for s in strokes]).reshape(-1, 2)
        self._nodes = clusters(ends, max(tolerance, SAME)).reshape(-1, 2)
        self._doubled: set[int] = set()
        self._at: dict[int, list[int]] = {}
        known: dict[tuple[int, int, int, int], int] = {}
        for index, (stroke, (a, b)) in enumerate(zip(strokes, self._nodes.tolist(), strict=True)):
            middle = np.round(stroke.points.mean(axis=0) / max(tolerance, SAME))
            key = (min(a, b), max(a, b), int(middle[0]), int(middle[1]))
            if key in known or (a == b and _length(stroke.points) <= 2 * max(tolerance, SAME)):
                self._doubled.add(index)
                continue
            known[key] = index
            for node in (a, b):
                self._at.setdefault(node, []).append(index)

    def joined(self) -> list[JoinedLine]:
        """All closed outlines, then the lines that stay open."""
        found, seen = [], set(self._doubled)
        for index in range(len(self._strokes)):
            if index not in seen:
                net = self._connected(index)
                seen |= set(net)
                found += self._line(net) if self._is_line(net) else self._faces(net)
        if found and self._doubled:
            found[0] = replace(found[0], doubled=len(self._doubled), dropped=self._numbers(sorted(self._doubled)))
        elif self._doubled:
            found = [self._open(index) for index in sorted(self._doubled)]
        return found

    def _numbers(self, net: Iterable[int]) -> tuple[int, ...]:
        return tuple(number for index in net for number in self._strokes[index].numbers)

    def _called(self, net: Iterable[int]) -> str:
        """The name of its own that all lines have which have one."""
        return called(line for index in net for line in self._strokes[index].members)

    def _gap(self, net: Iterable[int]) -> float:
        return max(self._strokes[index].gap for index in net)

    def _groups(self, net: Iterable[int]) -> frozenset[str]:
        return frozenset(group for index in net for group in self._strokes[index].groups)

    def _open(self, index: int) -> JoinedLine:
        stroke = self._strokes[index]
        return JoinedLine(stroke.points, False, stroke.groups, numbers=stroke.numbers)

    def _connected(self, index: int) -> list[int]:
        found, passed, waiting = {index}, set[int](), [index]
        while waiting:
            for node in self._nodes[waiting.pop()].tolist():
                if node not in passed:
                    passed.add(node)
                    new = [other for other in self._at[node] if other not in found]
                    found.update(new)
                    waiting += new
        return sorted(found)

    def _is_line(self, net: list[int]) -> bool:
        return all(len(self._at[node]) <= 2 for index in net for node in self._nodes[index].tolist())

    def _line(self, net: list[int]) -> list[JoinedLine]:
        """Lines that follow one another."""
        start = next((i for i in net for node in self._nodes[i].tolist() if len(self._at[node]) == 1), net[0])
        node = next((n for n in self._nodes[start].tolist() if len(self._at[n]) == 1), int(self._nodes[start][0]))
        parts: list[Floats] = []
        gap, index, seen = self._gap(net), start, set[int]()
        first_node = node
        while True:
            seen.add(index)
            a, b = self._nodes[index].tolist()
            points = self._strokes[index].points if a == node else self._strokes[index].points[::-1]
            node = b if a == node else a
            if parts:
                gap = max(gap, float(np.hypot(*(points[0] - parts[-1][-1]))))
            parts.append(points if not parts else points[1:])
            after = [other for other in self._at[node] if other not in seen]
            if not after:
                break
            index = after[0]
        points = np.vstack(parts)
        closed = node == first_node and len(points) > 3
        if closed:
            gap, points = max(gap, float(np.hypot(*(points[-1] - points[0])))), points[:-1]
        groups = self._groups(net)
        gap = gap if gap > SAME else 0.0
        return [JoinedLine(points, closed, groups, gap, numbers=self._numbers(net), called=self._called(net))]

    def _faces(self, net: list[int]) -> list[JoinedLine]:
        """Lines that meet in more than twos: the outer outlines of all they enclose, and what lies within."""
        import shapely

        place: dict[int, Floats] = {}
        for index in net:
            for node, point in zip(self._nodes[index].tolist(), self._strokes[index].points[[0, -1]], strict=True):
                place.setdefault(node, point)
        lines, gap = [], self._gap(net)
        for index in net:
            points = self._strokes[index].points.copy()
            a, b = (place[node] for node in self._nodes[index].tolist())
            gap = max(gap, *(float(np.hypot(*(p - q))) for p, q in ((points[0], a), (points[-1], b))))
            points[0], points[-1] = a, b
            lines.append(shapely.LineString(points))
        groups = self._groups(net)
        whole = shapely.union_all(shapely.get_parts(shapely.polygonize(lines)))
        rings = [part.exterior for part in shapely.get_parts(whole) if part.geom_type == "Polygon"]
        near = [ring.buffer(1e-3) for ring in rings]
        of_ring: dict[int, list[int]] = {i: [] for i in range(len(rings))}
        loose: list[int] = []
        for index, line in zip(net, lines, strict=True):
            at = next((i for i, band in enumerate(near) if band.covers(line)), None)
            (loose if at is None else of_ring[at]).append(index)
        found = [
            JoinedLine(
                shapely.get_coordinates(ring)[:-1],
                True,
                self._groups(of_ring[i]) or groups,
                gap if gap > SAME else 0.0,
                branched=True,
                numbers=self._numbers(of_ring[i]),
                called=self._called(of_ring[i]),
            )
            for i, ring in enumerate(rings)
        ]
        return found + [self._open(index) for index in loose]
