"""A pattern piece as a plain shape: its outline, what is marked on it, and the ways in which it is its own image."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from nesting.tolerance import TOLERANCE

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

    from pieces import Piece

    Floats = NDArray[np.float64]

STRAIGHT = 1e-6
"""A corner that lies nearer to the line through its neighbours, mm, is none."""


class Motion(NamedTuple):
    """A turn, or a turn over, of shape (2, 2), and then a move: ``turned @ point + move``."""

    turned: Floats
    move: Floats

    def __call__(self, points: Floats) -> Floats:
        """Points, shape (n, 2), moved."""
        moved: Floats = points @ self.turned.T + self.move
        return moved


@dataclass(frozen=True, eq=False)
class PieceShape:
    """A piece as it is laid in one go: a whole one, or a half.

    Parameters
    ----------
    outline
        The cut line, shape (n, 2), counter-clockwise.
    marks
        By kind, what is marked on it or cut out of it: arrays of points.
    grain
        The direction of the grainline's arrow, of length 1.
    match
        The point that lies on the lines of the cloth's pattern.
    fold
        The ends of a half's fold edge, shape (2, 2).
    """

    outline: Floats
    marks: Mapping[str, tuple[Floats, ...]]
    grain: Floats
    match: Floats | None = None
    fold: Floats | None = None

    @classmethod
    def whole(cls, piece: Piece) -> PieceShape:
        """A piece laid in one: one drawn as a half is opened out at its fold edge."""
        shape = cls.as_drawn(piece)
        if shape.fold is None:
            return shape
        at = float(shape.fold[0, 1])
        other = Motion(np.diag([1.0, -1.0]), np.array([0.0, 2 * at]))
        marks = {kind: (*lines, *_beyond(lines, other)) for kind, lines in shape.marks.items()}
        return cls(_opened(shape.outline, at), marks, shape.grain, shape.match)

    @classmethod
    def as_drawn(cls, piece: Piece) -> PieceShape:
        """A piece as it is drawn, which may be a half."""
        start, end = np.array(piece.grain, dtype=np.float64)
        fold = [edge.points[[0, -1]] for edge in piece.edges if edge.kind == "fold"]
        return cls(
            np.asarray(piece.cut_line, dtype=np.float64),
            dict(_marked(piece)),
            (end - start) / np.hypot(*(end - start)),
            None if piece.match is None else np.array([piece.match], dtype=np.float64),
            fold[0] if fold else None,
        )

    @cached_property
    def own_images(self) -> tuple[Motion, ...]:
        """Motions that bring it on to itself, marks and all, the one that moves nothing first; some turn it over."""
        found = [Motion(np.eye(2), np.zeros(2))]
        for motion in (*motions(self.outline, self.outline), *_by_axes(self.outline)):
            is_new = all(np.abs(motion.turned - other.turned).max() > 1e-6 for other in found)
            if is_new and apart(self.outline, motion(self.outline)) <= TOLERANCE and self._keeps_marks(motion):
                found.append(motion)
        return tuple(found)

    def _keeps_marks(self, motion: Motion) -> bool:
        return all(same_marks(kind, lines, [motion(line) for line in lines]) for kind, lines in self.marks.items())


def _marked(piece: Piece) -> Iterator[tuple[str, tuple[Floats, ...]]]:
    yield "notch", tuple(np.array([notch.point], dtype=np.float64) for notch in piece.notches)
    yield "drill point", tuple(np.array([point], dtype=np.float64) for point in piece.drill_points)
    for kind in ("cutout", "line", "sew"):
        yield kind, tuple(np.array(line.points, dtype=np.float64) for line in piece.inner if line.kind == kind)


def _beyond(lines: Sequence[Floats], other: Motion) -> Iterator[Floats]:
    """What lies on the other half; a mark on the fold is there already."""
    for line in lines:
        opposite = other(line)
        if np.abs(opposite - line).max() > STRAIGHT:
            yield opposite


def _opened(half: Floats, at: float) -> Floats:
    """A half opened out at its fold, the line y = `at`."""
    import shapely

    on_fold = np.abs(half[:, 1] - at) < STRAIGHT
    half = np.where(on_fold[:, None], np.column_stack([half[:, 0], np.full(len(half), at)]), half)
    return _rim(shapely.union(shapely.Polygon(half), shapely.Polygon(half * (1, -1) + (0, 2 * at))))


def _rim(shape: BaseGeometry) -> Floats:
    """The outline of a single shape, counter-clockwise, without the repeated last point."""
    import shapely

    assert isinstance(shape, shapely.Polygon)
    return np.asarray(shapely.geometry.polygon.orient(shape).exterior.coords)[:-1]


def apart(outline: Floats, other: Floats) -> float:
    """How far two closed outlines are from being one and the same, mm."""
    import shapely

    return float(shapely.hausdorff_distance(shapely.LinearRing(outline), shapely.LinearRing(other)))


def same_marks(kind: str, lines: Sequence[Floats], others: Sequence[Floats]) -> bool:
    """Whether marks of a kind are the same, in whatever order and direction."""
    import shapely

    left = [_drawn(kind, line) for line in others]
    for line in lines:
        shape = _drawn(kind, line)
        near = next((i for i, other in enumerate(left) if shapely.hausdorff_distance(shape, other) <= TOLERANCE), None)
        if near is None:
            return False
        del left[near]
    return not left


def _drawn(kind: str, points: Floats) -> BaseGeometry:
    import shapely

    if len(points) == 1:
        return shapely.Point(points[0])
    return shapely.LinearRing(points) if kind == "cutout" and len(points) > 2 else shapely.LineString(points)


def corners(outline: Floats) -> Floats:
    """The corners of a closed outline, counter-clockwise, without those that lie on a straight line."""
    import shapely

    first = int(np.lexsort((outline[:, 1], outline[:, 0]))[0])  # a true corner, which is kept
    return _rim(shapely.Polygon(np.roll(outline, -first, axis=0)).simplify(STRAIGHT))


def motions(outline: Floats, other: Floats, most: float = TOLERANCE) -> list[Motion]:
    """Motions that bring the corners of an outline on to those of another, to within so much on average, mm.

    Corner k of the one may go to any corner of the other: all these are tried at once, by the correlation of their
    corners taken as complex numbers.
    """
    one, two = corners(outline), corners(other)
    if len(one) != len(two):
        return []
    found = []
    centre = two.mean(axis=0)
    there = _complex(two - centre)
    for is_over in (False, True):
        here = (one * (1, -1))[::-1] if is_over else one
        middle = here.mean(axis=0)
        this = _complex(here - middle)
        matched = np.fft.ifft(np.fft.fft(there) * np.conj(np.fft.fft(this)))
        missed = (np.vdot(this, this) + np.vdot(there, there)).real - 2 * np.abs(matched)
        for k in np.flatnonzero(missed <= len(one) * max(most, TOLERANCE) ** 2):
            cos, sin = (matched[k] / abs(matched[k])).real, (matched[k] / abs(matched[k])).imag
            turn = np.array([[cos, -sin], [sin, cos]])
            turned = turn @ np.diag([1.0, -1.0]) if is_over else turn
            found.append(Motion(turned, centre - turn @ middle))
    return found


def _complex(points: Floats) -> NDArray[np.complex128]:
    return np.asarray(points[:, 0] + 1j * points[:, 1], dtype=np.complex128)


def _by_axes(outline: Floats) -> Iterator[Motion]:
    """Turns over on the main axes of an outline, and half a turn: all there can be unless all axes are alike."""
    import shapely

    shape = shapely.Polygon(outline)
    centre = np.array(shape.centroid.coords[0])
    x, y = (outline - centre).T
    x1, y1 = np.roll(x, -1), np.roll(y, -1)
    cross = x * y1 - x1 * y
    xx, yy = float(np.dot(cross, x * x + x * x1 + x1 * x1)), float(np.dot(cross, y * y + y * y1 + y1 * y1))
    xy = float(np.dot(cross, x * y1 + 2 * x * y + 2 * x1 * y1 + x1 * y)) / 2
    angle = np.arctan2(2 * xy, xx - yy)  # twice that of the main axis
    over = np.array([[np.cos(angle), np.sin(angle)], [np.sin(angle), -np.cos(angle)]])
    for turned in (over, -over, -np.eye(2)):
        yield Motion(turned, centre - turned @ centre)
