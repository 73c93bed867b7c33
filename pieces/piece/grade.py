"""Grading: a piece that is not drafted from measurements, made larger or smaller by rules.

Either points of the outline move, and what lies between them by its share of the way; or whole edges move out, and
meet again. Rules count for one size; so many steps larger (or smaller, below 0) they count so many times.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from pieces.errors import OutlineError, PieceError
from pieces.piece.curve import Point, point_along, polyline_length
from pieces.piece.outline import Edge, move_out, trim
from pieces.piece.pieces import PieceSet

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from pieces.piece.piece import InnerLine, Piece

    Floats = NDArray[np.float64]

NEAR = 1.0
"""A graded point lies no farther than this from the outline, or from the mark that it means, mm."""


@dataclass(frozen=True)
class PointGrade:
    """How a point moves from one size to the next: along the grain and across it, mm."""

    point: Point
    along: float
    across: float


@dataclass(frozen=True)
class EdgeGrade:
    """How far an edge moves outwards from one size to the next, mm."""

    edge: str
    out: float


GradeRules = Sequence[PointGrade] | Sequence[EdgeGrade]


def grade_set(pieces: PieceSet, rules: Mapping[str, GradeRules], steps: float) -> PieceSet:
    """All pieces so many sizes larger, each by the rules for its name; those without rules stay as they are.

    Raises
    ------
    PieceError
        If a rule names no piece, point or edge.
    OutlineError
        If a graded outline crosses itself, or graded edges no longer fit one another.
    """
    for name in rules:
        if name not in {piece.name for piece in pieces}:
            raise PieceError(f"grade rules for '{name}': the pieces are {', '.join(p.name for p in pieces)}")
    graded = tuple(grade(piece, rules[piece.name], steps) if piece.name in rules else piece for piece in pieces)
    result = PieceSet(pieces.garment, graded, pieces.seams, {}, pieces.notes)
    result.check()
    return result


def grade(piece: Piece, rules: GradeRules, steps: float) -> Piece:
    """A piece so many sizes larger.

    By points: what lies on the outline between two graded points moves by its share of the way between them; marks
    and lines within the piece move with the graded points nearest to them, unless they have rules of their own; a sew
    line goes with the outline beside it, a cutout as a whole. By edges: notches keep their share of their edge, marks
    and lines within stay.

    Parameters
    ----------
    rules
        All for points, or all for edges. A mark within the piece may be one of the points.

    Raises
    ------
    PieceError
        If a rule names no edge, or a point that is neither on the outline nor a mark.
    OutlineError
        If the graded outline crosses itself, or two edges that run on in one line part.
    """
    points = [rule for rule in rules if isinstance(rule, PointGrade)]
    edges = {rule.edge: rule.out * steps for rule in rules if isinstance(rule, EdgeGrade)}
    if points and edges:
        raise PieceError(f"'{piece.name}' is graded by points or by edges, not by both")
    if not rules or steps == 0:
        return piece
    return _by_points(piece, points, steps) if points else _by_edges(piece, edges)


class _Ring:
    """How far each place on a sew line moves: by graded points, and by their shares between them."""

    def __init__(self, piece: Piece, rules: Sequence[PointGrade], steps: float) -> None:
        import shapely

        self._line = shapely.LinearRing(piece.sew_line)
        on_line = [rule for rule in rules if self._line.distance(shapely.Point(rule.point)) <= NEAR]
        if not on_line:
            raise PieceError(f"no graded point of '{piece.name}' lies on its sew line")
        self.rules = sorted(on_line, key=lambda rule: self.place(rule.point))
        self._places = [self.place(rule.point) for rule in self.rules]
        self._moves = steps * np.array([(rule.along, rule.across) for rule in self.rules])

    def place(self, point: Point) -> float:
        """Distance along the sew line of the place nearest to a point."""
        import shapely

        return float(self._line.project(shapely.Point(point)))

    def moved(self, point: Point) -> Point:
        """A point of the sew line, moved; one beside it goes with the place that it is nearest to."""
        along, across = (
            np.interp(self.place(point), self._places, self._moves[:, axis], period=self._line.length)
            for axis in (0, 1)
        )
        return point[0] + float(along), point[1] + float(across)

    def inside(self, point: Point) -> Point:
        """A point within, moved by the mean of the graded points, each weighing less by the square of its distance."""
        away = np.array([np.hypot(rule.point[0] - point[0], rule.point[1] - point[1]) for rule in self.rules])
        weights = 1 / np.maximum(away, NEAR) ** 2
        along, across = weights @ self._moves / weights.sum()
        return point[0] + float(along), point[1] + float(across)


def _by_points(piece: Piece, rules: Sequence[PointGrade], steps: float) -> Piece:
    ring = _Ring(piece, rules, steps)
    marks = [rule for rule in rules if rule not in ring.rules]
    within = [*piece.drill_points, *((piece.match,) if piece.match else ())]
    for rule in marks:
        if not any(_near(rule.point, mark) for mark in within):
            raise PieceError(
                f"graded point ({rule.point[0]:g}, {rule.point[1]:g}) of '{piece.name}' is neither on its sew line nor "
                "on one of its marks"
            )

    def mark_moved(point: Point) -> Point:
        for rule in marks:
            if _near(rule.point, point):
                return point[0] + rule.along * steps, point[1] + rule.across * steps
        return ring.inside(point)

    def line_moved(line: InnerLine) -> InnerLine:
        if line.kind == "cutout":
            x, y = np.mean(line.points, axis=0).tolist()
            to_x, to_y = ring.inside((x, y))
            return replace(line, points=tuple((a + to_x - x, b + to_y - y) for a, b in line.points))
        return replace(line, points=tuple(map(ring.moved if line.kind == "sew" else ring.inside, line.points)))

    def edge_moved(edge: Edge) -> Edge:
        path = _with_places(edge.points, [rule.point for rule in ring.rules])
        return replace(edge, points=np.array([ring.moved((float(x), float(y))) for x, y in path]))

    return replace(
        piece,
        edges=tuple(map(edge_moved, piece.edges)),
        notches=tuple(replace(notch, point=ring.moved(notch.point)) for notch in piece.notches),
        drill_points=tuple(map(mark_moved, piece.drill_points)),
        match=mark_moved(piece.match) if piece.match else None,
        inner=tuple(map(line_moved, piece.inner)),
    )


def _with_places(points: Floats, places: Sequence[Point]) -> Floats:
    """An edge with a point of its own at each graded place between two of its points."""
    import shapely

    line = shapely.LineString(points)
    along = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))))
    new = [line.project(shapely.Point(place)) for place in places if line.distance(shapely.Point(place)) <= NEAR]
    added = [at for at in new if np.abs(along - at).min() > NEAR]
    where = np.sort(np.concatenate((along, added)))
    return np.array([point_along(points, at) for at in where])


def _near(a: Point, b: Point) -> bool:
    return float(np.hypot(a[0] - b[0], a[1] - b[1])) <= NEAR


def _by_edges(piece: Piece, out: Mapping[str, float]) -> Piece:
    names = [edge.name for edge in piece.edges]
    for name in out:
        if name not in names:
            raise PieceError(f"'{piece.name}' has no edge '{name}' to grade: it has {', '.join(names)}")
    if piece.fold_edge is not None and out.get(piece.fold_edge.name):
        raise PieceError(
            f"'{piece.fold_edge.name}' of '{piece.name}' is on the fold and cannot move: grade the other edges"
        )
    if len(piece.edges) < 2:
        raise PieceError(f"'{piece.name}' has a single edge: grade it by points")
    moved = [move_out(edge, out.get(edge.name, 0.0)) for edge in piece.edges]
    for first in range(len(moved)):
        second = (first + 1) % len(moved)
        moved[first], moved[second] = _meet(moved[first], moved[second], f"'{names[first]}' and '{names[second]}'")
    edges = tuple(replace(edge, points=points) for edge, points in zip(piece.edges, moved, strict=True))

    def notch_moved(point: Point) -> Point:
        import shapely

        lines = [shapely.LineString(edge.points) for edge in piece.edges]
        number = int(np.argmin([line.distance(shapely.Point(point)) for line in lines]))
        share = lines[number].project(shapely.Point(point), normalized=True)
        return point_along(edges[number].points, share * polyline_length(edges[number].points))

    return replace(piece, edges=edges, notches=tuple(replace(n, point=notch_moved(n.point)) for n in piece.notches))


def _meet(before: Floats, after: Floats, which: str) -> tuple[Floats, Floats]:
    """Two neighbours, moved: each drawn out, or cut off, to where they meet."""
    if np.hypot(*(before[-1] - after[0])) < 1e-9:
        return before, after
    heading, leaving = before[-1] - before[-2], after[1] - after[0]
    turn = heading[0] * leaving[1] - heading[1] * leaving[0]
    if abs(turn) <= 1e-3 * np.hypot(*heading) * np.hypot(*leaving):
        raise OutlineError(f"{which} continue in one line: move both by the same amount, or grade by points")
    across = after[0] - before[-1]
    along = (across[0] * leaving[1] - across[1] * leaving[0]) / turn
    first, second = trim(before, after, before[-1] + along * heading)
    return first, np.vstack([first[-1:], second[1:]])
