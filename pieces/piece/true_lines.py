"""The lines of a piece as curves: sew lines as they were drafted, and the cut line that lies an allowance beyond."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from itertools import product
from math import ceil, sqrt
from typing import TYPE_CHECKING

import numpy as np

from pieces.errors import OutlineError
from pieces.piece.curve import TOLERANCE, Cubic, Line
from pieces.piece.fitted import FIT, fit
from pieces.piece.outline import apart, cut_edges
from pieces.piece.recovered import curves_of, recover

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from numpy.typing import NDArray

    from pieces.piece.curve import Curve, Point
    from pieces.piece.outline import Edge
    from pieces.piece.piece import Piece

    Floats = NDArray[np.float64]
    Placing = Callable[[Floats], Floats]

FINE = 0.002
"""How far the many chords stray from a curve that is moved outwards, mm."""

APART = 1.0
"""How far their ends are apart at the most, mm."""

HOLLOW = 0.5
"""Where a curve that is moved outwards keeps less of its length, it is too hollow for that."""

BESIDE: tuple[float, ...] = (0.0, 2.0, 4.0, 8.0, 16.0, 32.0, float("inf"))
"""How far beside a place that is too hollow an edge keeps its own points as well, mm: the first that does is taken."""

NEAR = TOLERANCE + FIT
"""How far a drawn cut line may be from the one that was laid and checked, mm: what a draft's chords may, and a fit."""


def has_curves(piece: Piece) -> bool:
    """Whether any of its sew lines was drafted with a curve."""
    return any(curves_of(edge.points) for edge in piece.edges)


@lru_cache(maxsize=512)
def cut_curves(piece: Piece) -> tuple[Curve, ...]:
    """The cut line of a piece, closed: lines, and curves within 0.01 mm of what lies an allowance beyond the sewn ones.

    Without an allowance these are the curves of the draft. Where no curve is known, or the cut line would be farther
    than `NEAR` from that which is laid and checked, these are its chords.
    """
    if not has_curves(piece):
        return _chords(piece.cut_line)
    if not any(edge.allowance for edge in piece.edges):
        return tuple(curve for edge in piece.edges for curve in recover(edge.points))
    return next((found for found, _ in _tried(piece)), _chords(piece.cut_line))


@lru_cache(maxsize=512)
def cut_runs(piece: Piece) -> tuple[Floats, ...]:
    """The drawn cut line edge by edge, as `cut_edges` has it: of curves, points close to one another."""
    if not has_curves(piece):
        return tuple(cut_edges(piece.edges))
    if not any(edge.allowance for edge in piece.edges):
        return tuple(fine(recover(edge.points)) for edge in piece.edges)
    return tuple(next((runs for _, runs in _tried(piece)), cut_edges(piece.edges)))


def _tried(piece: Piece) -> Iterator[tuple[tuple[Curve, ...], list[Floats]]]:
    """Cut lines that are near to what was laid and checked, as curves and edge by edge; most curves first."""
    edges = [(edge, recover(edge.points)) for edge in piece.edges]
    for ends, beside in product((False, True), BESIDE):
        moved = [(edge, _many(edge, curves, beside)) for edge, curves in edges]
        moved = [(edge, _with_ends(edge, many) if ends else many) for edge, many in moved]
        try:
            runs = cut_edges([replace(edge, points=many) for edge, many in moved])
        except OutlineError:
            continue
        found = tuple(fit(_from_a_corner(apart(np.vstack(runs)))))
        if _are_near(found, piece.cut_line):
            yield found, runs


def opened_curves(piece: Piece) -> tuple[Curve, ...]:
    """The cut line of a whole piece, both halves where it is drawn on a fold."""
    curves = cut_curves(piece)
    if piece.fold_edge is None:
        return curves
    level = float(piece.fold_edge.points[0, 1])
    on_fold = [isinstance(curve, Line) and _is_at(curve, level) for curve in curves]
    first = next(k for k, is_on in enumerate(on_fold) if is_on and not on_fold[k - 1])
    half = [curve for k in range(len(curves)) if not on_fold[at := (first + k) % len(curves)] for curve in [curves[at]]]
    other = placed(half, lambda points: points * (1, -1) + (0, 2 * level))
    return (*half, *(_back(curve) for curve in reversed(other)))


def placed(curves: Sequence[Curve], pose: Placing) -> tuple[Curve, ...]:
    """Curves moved by what keeps straight lines straight."""
    found: list[Curve] = []
    for curve in curves:
        points = pose(np.array(_points(curve), dtype=np.float64))
        found.append(type(curve)(*((float(x), float(y)) for x, y in points)))
    return tuple(found)


def refined(curves: Sequence[Curve], tolerance: float) -> Floats:
    """Curves as one polyline that strays from them by no more than so much, mm, each point once."""
    parts = [
        curve.flatten() if isinstance(curve, Line) else curve.at(np.linspace(0.0, 1.0, _chord_count(curve, tolerance)))
        for curve in curves
    ]
    points = np.vstack([parts[0], *(part[1:] for part in parts[1:])])
    is_closed = bool(np.hypot(*(points[0] - points[-1])) < 1e-9)
    return points[:-1] if is_closed else points


def _chord_count(curve: Cubic, tolerance: float) -> int:
    """How many points at even steps keep chords so near to a curve, mm; see `Cubic.flatten`."""
    p0, p1, p2, p3 = np.array([curve.start, curve.lead, curve.trail, curve.end])
    bend = max(np.hypot(*(p0 - 2 * p1 + p2)), np.hypot(*(p1 - 2 * p2 + p3)))
    return 1 + max(2, ceil(sqrt(0.75 * bend / tolerance)))


def _points(curve: Curve) -> tuple[Point, ...]:
    return (curve.start, curve.end) if isinstance(curve, Line) else (curve.start, curve.lead, curve.trail, curve.end)


def _back(curve: Curve) -> Curve:
    """The same from its end to its start."""
    return type(curve)(*reversed(_points(curve)))


def _is_at(line: Line, level: float) -> bool:
    return abs(line.start[1] - level) < 1e-6 and abs(line.end[1] - level) < 1e-6


def _chords(outline: Floats) -> tuple[Curve, ...]:
    ends = np.roll(outline, -1, axis=0)
    return tuple(Line((a, b), (c, d)) for (a, b), (c, d) in zip(outline.tolist(), ends.tolist(), strict=True))


def fine(curves: Sequence[Curve]) -> Floats:
    """Curves as chords that are short all along."""
    parts = []
    for curve in curves:
        if isinstance(curve, Line):
            parts.append(curve.flatten())
            continue
        count = max(_chord_count(curve, FINE), ceil(1.5 * curve.length / APART), 9)
        parts.append(curve.at(np.linspace(0.0, 1.0, count)))
    return np.vstack([parts[0], *(part[1:] for part in parts[1:])])


def _many(edge: Edge, curves: Sequence[Curve], beside: float) -> Floats:
    """The curves of an edge as chords that are short all along, but where it is too hollow for its allowance.

    There, what lies an allowance beyond the curve runs backwards, or nearly, and the edge keeps its own points, and so
    many mm beside as well.
    """
    many = fine(curves)
    steps = np.diff(many, axis=0)
    long = np.hypot(*steps.T)
    ways = steps / long[:, np.newaxis]
    between = np.vstack([ways[:1], ways[1:] + ways[:-1], ways[-1:]])
    normals = between[:, ::-1] * (1, -1) / np.hypot(*between.T)[:, np.newaxis]
    moved = np.diff(many + edge.allowance * normals, axis=0)
    hollow = (moved * ways).sum(axis=1) < HOLLOW * long
    if not hollow.any():
        return many
    tight = np.append(hollow, False) | np.append(False, hollow)
    along = np.append(0.0, np.cumsum(long))
    tight = np.abs(along[:, np.newaxis] - along[tight]).min(axis=1) <= beside
    nearest = np.hypot(*(edge.points[:, np.newaxis] - many).transpose(2, 0, 1)).argmin(axis=1)
    tight[[0, -1]] = True  # its ends stay
    places = np.concatenate([np.flatnonzero(~tight), nearest[tight[nearest]]])
    kept = np.vstack([many[~tight], edge.points[tight[nearest]]])
    return np.ascontiguousarray(kept[np.argsort(places, kind="stable")])


def _with_ends(edge: Edge, many: Floats) -> Floats:
    """The same with the edge's own first and last chord, which may meet a neighbour elsewhere than the curve does."""
    if len(edge.points) < 4:
        return many
    first, last = (int(np.hypot(*(many - at).T).argmin()) for at in (edge.points[1], edge.points[-2]))
    return np.vstack([edge.points[:2], many[first + 1 : last], edge.points[-2:]])


def _from_a_corner(outline: Floats) -> Floats:
    """A closed outline from its sharpest corner round to it again."""
    chords = np.roll(outline, -1, axis=0) - outline
    before = np.roll(chords, 1, axis=0)
    turn = np.arctan2(before[:, 0] * chords[:, 1] - before[:, 1] * chords[:, 0], (before * chords).sum(axis=1))
    turned = np.roll(outline, -int(np.argmax(np.abs(turn))), axis=0)
    return np.vstack([turned, turned[:1]])


def _are_near(curves: Sequence[Curve], outline: Floats) -> bool:
    """Whether two closed lines are near to one another all along."""
    import shapely

    drawn, checked = shapely.LinearRing(refined(curves, FINE)), shapely.LinearRing(outline)
    if not shapely.Polygon(drawn).is_valid:
        return False
    there = shapely.distance(checked, shapely.points(shapely.get_coordinates(drawn))).max()
    back = shapely.distance(drawn, shapely.points(shapely.get_coordinates(checked))).max()
    return bool(max(there, back) <= NEAR)
