"""Seam allowances: the cut line from the sew line, edge by edge; and seams walked against one another."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

import numpy as np

from pieces.errors import OutlineError
from pieces.piece.curve import polyline_length

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

MITRE_LIMIT = 4.0
"""A corner of the cut line may reach this many allowances beyond the sewn corner; then it is cut square."""


@dataclass(frozen=True, eq=False)
class Edge:
    """One side of a piece: a stretch of its sew line, and the allowance beyond it.

    Parameters
    ----------
    name
        What the sewer calls it, such as ``"side"`` or ``"armhole"``.
    points
        The sew line, shape (n, 2), mm, in the order in which the outline runs (counter-clockwise).
    allowance
        Seam allowance outside it, mm; 0 on a fold.
    kind
        ``"seam"`` or ``"fold"``.
    turned
        How deep a hem is turned up that is cut on, mm: the line is its raw edge, and the finished one so far within.
    """

    name: str
    points: Floats
    allowance: float
    kind: Literal["seam", "fold"] = "seam"
    turned: float = 0.0

    def __post_init__(self) -> None:
        self.points.flags.writeable = False

    @property
    def length(self) -> float:
        """Length of the sew line, mm."""
        return polyline_length(self.points)


def cut_line(edges: Sequence[Edge]) -> Floats:
    """The outline to cut: each edge moved outwards by its allowance, corners mitred.

    Where a corner is so sharp that its mitre would reach beyond `MITRE_LIMIT` allowances, it is cut square.
    Where neighbours run on in one line with different allowances, the cut line steps between them.

    Parameters
    ----------
    edges
        The sides of a piece, counter-clockwise, each starting where the one before ends.

    Returns
    -------
    array of shape (n, 2)
        Closed outline without the repeated last point.

    Raises
    ------
    OutlineError
        If an allowance is wider than a curve is deep, so that the cut line crosses itself.
    """
    if not any(edge.allowance for edge in edges):
        return apart(np.vstack([edge.points[:-1] for edge in edges]))
    return apart(np.vstack(cut_edges(edges)))


def cut_edges(edges: Sequence[Edge]) -> list[Floats]:
    """The same edge by edge, each from corner to corner; a closed edge in two. Where one steps, the next begins apart.

    Raises
    ------
    OutlineError
        As of `cut_line`.
    """
    if not any(edge.allowance for edge in edges):
        return [edge.points for edge in edges]
    if len(edges) == 1:  # a closed edge has no neighbour to meet but itself: take it in two
        (edge,) = edges
        half = len(edge.points) // 2
        edges = [replace(edge, points=edge.points[: half + 1]), replace(edge, points=edge.points[half:])]
    moved = [move_out(edge, edge.allowance) for edge in edges]
    for i in range(len(edges)):
        _join(moved, i, (i + 1) % len(edges), edges)
    return moved


def apart(points: Floats) -> Floats:
    """Points of an outline, shape (n, 2), no two of them on one spot: moved, they would make it cross itself."""
    keep = np.hypot(*(points - np.roll(points, 1, axis=0)).T) > 1e-6
    return np.ascontiguousarray(points[keep])


def move_out(edge: Edge, by: float) -> Floats:
    """The points of an edge moved outwards by so much, mm, inwards where it is negative; its ends meet no neighbour.

    Raises
    ------
    OutlineError
        If the edge curves more tightly than that.
    """
    if by == 0:
        return edge.points.copy()
    points, taken_in = edge.points, 0.0
    while True:
        steps = np.diff(points, axis=0)
        chords = np.hypot(*steps.T)
        steps /= chords[:, np.newaxis]
        normals = steps[:, ::-1] * (1, -1)  # to the right of the way the outline runs: outwards
        between = normals[1:] + normals[:-1]
        squared = (between**2).sum(axis=1)
        if (squared < 1e-12).any():
            raise OutlineError(f"edge '{edge.name}' goes back on itself: check its measurements")
        between *= 2 / squared[:, np.newaxis]  # the mitre of two neighbours
        moved: Floats = points + by * np.vstack([normals[:1], between, normals[-1:]])
        turned_back = np.flatnonzero((np.diff(moved, axis=0) * steps).sum(axis=1) <= 0)
        if not turned_back.size:
            return moved
        # In a hollow the moved edge is shorter: chords that would run backwards are taken in by their neighbours.
        chord = int(turned_back[0])
        taken_in += float(chords[chord])
        if taken_in > abs(by) or len(points) < 3:
            raise OutlineError(
                f"edge '{edge.name}' curves too tightly to be moved by {abs(by):.1f} mm: use a narrower"
                " allowance there, or a smaller grade"
            )
        points = _take_in(points, chord)


def _take_in(points: Floats, chord: int) -> Floats:
    """The polyline without one of its chords; its two ends stay."""
    if chord == 0:
        return np.delete(points, 1, axis=0)
    if chord == len(points) - 2:
        return np.delete(points, -2, axis=0)
    middle = (points[chord] + points[chord + 1]) / 2
    return np.vstack([points[:chord], middle, points[chord + 2 :]])


def _join(moved: list[Floats], first: int, second: int, edges: Sequence[Edge]) -> None:
    """Make the moved edge `first` end where the moved edge `second` starts."""
    before, after = moved[first], moved[second]
    heading, leaving = before[-1] - before[-2], after[1] - after[0]
    turn = heading[0] * leaving[1] - heading[1] * leaving[0]
    if abs(turn) <= 1e-6 * np.hypot(*heading) * np.hypot(*leaving):
        return  # they run on in one line: a step, or nothing, between them
    across = after[0] - before[-1]
    along = (across[0] * leaving[1] - across[1] * leaving[0]) / turn
    corner = before[-1] + along * heading
    sewn = edges[second].points[0]
    reach = MITRE_LIMIT * max(edges[first].allowance, edges[second].allowance)
    if turn > 0 and np.hypot(*(corner - sewn)) <= reach:
        onward = -(heading[0] * across[1] - heading[1] * across[0]) / turn
        if along < -1 or onward > 1:  # behind the last chord, or past the first one: of a wide edge beside a narrow one
            far = reach / np.hypot(*heading), reach / np.hypot(*leaving)
            drawn_out = (
                np.vstack([before, before[-1] + far[0] * heading]),
                np.vstack([after[0] - far[1] * leaving, after]),
            )
            moved[first], moved[second] = trim(*drawn_out, corner)
            return
        moved[first], moved[second] = np.vstack([before[:-1], corner]), np.vstack([corner, after[1:]])
    elif turn < 0:
        moved[first], moved[second] = trim(before, after, corner)


def trim(before: Floats, after: Floats, corner: Floats) -> tuple[Floats, Floats]:
    """Two moved edges that meet: each up to where they cross; where they do not, drawn out to a corner."""
    import shapely
    from shapely.ops import substring

    first, second = shapely.LineString(before), shapely.LineString(after)
    crossing = first.intersection(second)
    if crossing.is_empty:
        return np.vstack([before[:-1], corner]), np.vstack([corner, after[1:]])
    crossings = shapely.get_coordinates(crossing)
    point = shapely.Point(crossings[np.argmin(np.hypot(*(crossings - corner).T))])
    kept = substring(first, 0, first.project(point)), substring(second, second.project(point), second.length)
    return np.array(kept[0].coords), np.array(kept[1].coords)
