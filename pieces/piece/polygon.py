"""A bare polygon, from a program or a plotter's file, made the sides of a piece."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Any

import numpy as np

from pieces.errors import LengthError, OutlineError, WrongTypeError
from pieces.length import length_in_mm
from pieces.piece.outline import Edge
from pieces.require import told

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray
    from shapely import Polygon

    from pieces.length import Written
    from pieces.piece.curve import Point

    Floats = NDArray[np.float64]

CORNER = 30.0
"""Degrees by which an outline turns at a corner, where one side ends and the next begins; at less it is a curve.

Common practice, no source.
"""

AXES: dict[str, Point] = {"x": (1.0, 0.0), "y": (0.0, 1.0)}

FARTHEST = 1e6
"""No pattern reaches a kilometre from its origin, in mm or in any larger unit: a larger number is a mistake."""

ONE_SPOT = 1e-6
"""Points no further apart, mm, are one."""


def polygon_sides(points: ArrayLike | Polygon, name: str, unit: str, seam: Written | None) -> tuple[Edge, ...]:
    """The sides of a piece from a polygon: between corners, counter-clockwise, with one allowance all round.

    Parameters
    ----------
    points
        Shape (n, 2), or a shapely polygon: open or closed, in either direction.
    name
        The piece, as errors call it.
    unit
        What the numbers count, such as ``"cm"``.
    seam
        Allowance beyond the polygon, with its unit; none if the polygon is the cut line.

    Raises
    ------
    LengthError, WrongTypeError
        If the unit or the seam is missing or unknown, or the points are no pairs of numbers.
    OutlineError
        If there are fewer than three points, or a shapely polygon has holes.
    """
    ring = _counter_clockwise(_points(points, name) * unit_in_mm(unit, name), name)
    allowance = 0.0 if seam is None else float(length_in_mm(seam, f"the seam of '{name}'"))
    corners = _corners(ring)
    if not corners.size:
        return (Edge("outline", np.vstack([ring, ring[:1]]), allowance),)
    ring = np.roll(ring, -int(corners[0]), axis=0)
    ends = [*(corners - corners[0]).tolist(), len(ring)]
    closed = np.vstack([ring, ring[:1]])
    return tuple(
        Edge(f"side {number}", closed[first : last + 1].copy(), allowance)
        for number, (first, last) in enumerate(pairwise(ends), 1)
    )


def grain_ends(grain: Any, unit: str, name: str) -> tuple[Point, Point]:
    """The grainline's two ends, mm, from an axis or from two points in the polygon's unit."""
    if isinstance(grain, str):
        if grain not in AXES:
            raise WrongTypeError(f'the grain of \'{name}\' must be "x", "y" or two points, not {told(grain)}')
        return (0.0, 0.0), AXES[grain]
    first, *other = map(tuple, (_points(grain, f"{name}, grainline") * unit_in_mm(unit, name)).tolist())
    if len(other) != 1 or first == other[0]:
        raise WrongTypeError(f'the grain of \'{name}\' must be two points apart from each other, or "x" or "y"')
    return first, other[0]


def unit_in_mm(unit: Any, name: str) -> float:
    """How many mm one of a unit is; LengthError says what to write if it is none."""
    if not isinstance(unit, str) or not unit.strip() or unit.strip()[0].isdigit():
        raise LengthError(
            "" if unit is None else str(unit),
            'bare numbers need a unit: add one, such as unit="cm" or unit="in"',
            f"the points of '{name}'",
        )
    return length_in_mm(f"1 {unit}", f"the unit of the points of '{name}'")


def _points(points: Any, name: str) -> Floats:
    """The points as an array of shape (n, 2)."""
    kind = getattr(points, "geom_type", None)
    if kind == "Polygon" and not points.is_empty:
        if len(points.interiors):
            raise OutlineError(f"'{name}' has holes: give only its outline, and draw the holes as inner lines")
        points = points.exterior.coords
    elif kind is not None:
        raise WrongTypeError(f"the points of '{name}' must be one polygon that is not empty, not {told(points)}")
    try:
        given = np.asanyarray(points if hasattr(points, "__len__") else list(points))
        if given.dtype.kind not in "iufO":
            raise TypeError(given.dtype)
        array = np.array(given, dtype=np.float64)
    except (TypeError, ValueError, OverflowError) as error:
        raise WrongTypeError(f"the points of '{name}' must be pairs of numbers, not {told(points)}") from error
    if np.ma.is_masked(given):
        raise OutlineError(f"'{name}' has a point that is masked: leave it out")
    if array.ndim == 2 and array.shape[1] == 3 and kind is not None:
        array = array[:, :2]  # heights say nothing of a flat piece
    if array.ndim != 2 or array.shape[1] != 2:
        shape = " by ".join(map(str, array.shape))
        raise WrongTypeError(f"the points of '{name}' must be pairs of numbers, shape (n, 2), not {shape}")
    if not np.isfinite(array).all():
        raise OutlineError(f"'{name}' has a point that is not a number: leave it out")
    if (np.abs(array) > FARTHEST).any():
        raise OutlineError(f"'{name}' is too large: {np.abs(array).max():g} lies off any piece; check the points")
    return array


def _counter_clockwise(points: Floats, name: str) -> Floats:
    """The outline once round, no point twice on one spot."""
    apart = np.hypot(*(points - np.roll(points, 1, axis=0)).T) > ONE_SPOT
    ring = points[apart]
    if len(ring) < 3:
        raise OutlineError(
            f"'{name}' has {len(ring)} points apart from each other: an outline needs three or more; check the unit"
        )
    x, y = ring.T
    area = float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) / 2
    return ring if area >= 0 else np.ascontiguousarray(ring[::-1])


def _corners(ring: Floats) -> NDArray[np.intp]:
    """Numbers of the points at which the outline turns by `CORNER` or more."""
    leaving = np.roll(ring, -1, axis=0) - ring
    coming = np.roll(leaving, 1, axis=0)
    cross = coming[:, 0] * leaving[:, 1] - coming[:, 1] * leaving[:, 0]
    turn = np.degrees(np.arctan2(np.abs(cross), (coming * leaving).sum(axis=1)))
    return np.flatnonzero(turn >= CORNER)
