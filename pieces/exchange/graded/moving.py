"""What a block draws, brought to another size by the rules that its points have."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import numpy as np

from pieces.exchange.graded.sized import ON, POINTS
from pieces.exchange.standard import LAYERS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from pieces.exchange.graded.rule_table import RuleTable
    from pieces.exchange.standard import StandardRole
    from pieces.piece.curve import Point

    Floats = NDArray[np.float64]

    RuleKind = Literal["line", "grain", "notch", "drill", "sew"]

OF_POINTS: tuple[StandardRole, ...] = ("grain", "notch", "drill", "sew")
"""Parts whose points have rules on their own layer; all lines have theirs at turn and curve points."""

AT = 0.01
"""The number of a rule stands this near to the point that it is for, mm."""


def kind_of(layer: str) -> RuleKind | None:
    """Of what a rule is whose number stands on a layer; None if none is known there."""
    role = LAYERS.get(layer)
    if layer in POINTS:
        return "line"
    return role if role in OF_POINTS else None  # type: ignore[return-value]


class SizeMoves:
    """The moves of one block's points in a size.

    Parameters
    ----------
    table
        The rules.
    size
        The size that is wanted, one of the table's.
    """

    def __init__(self, table: RuleTable, size: str) -> None:
        self._table, self._size = table, size
        self._spots: dict[RuleKind, list[tuple[Point, Point]]] = {}
        self.without = 0

    def add(self, kind: RuleKind, place: Point, number: int) -> None:
        """Note that a point has a rule; FormatError if the table does not have it."""
        self._spots.setdefault(kind, []).append((place, self._table.move(number, self._size)))

    def point(self, kind: RuleKind, place: Point) -> Point:
        """Where a mark lies in the size; as drawn, and counted, if it has no rule."""
        for spot, (dx, dy) in self._spots.get(kind, ()):
            if np.hypot(spot[0] - place[0], spot[1] - place[1]) <= AT:
                return place[0] + dx, place[1] + dy
        self.without += 1
        return place

    def line(self, kind: RuleKind, points: Floats, *, is_closed: bool) -> Floats:
        """A line in the size: its points with rules move by these, what lies between two by its share of the way."""
        import shapely

        spots = self._spots.get(kind, [])
        closed = np.vstack([points, points[:1]]) if is_closed else points
        drawn = shapely.LineString(closed)
        places = shapely.points([place for place, _ in spots]) if spots else np.array([])
        on = shapely.dwithin(drawn, places, ON) if spots else np.array([], dtype=bool)
        if not on.any():
            self.without += 1
            return points
        along = np.append(0.0, np.cumsum(np.hypot(*np.diff(closed, axis=0).T)))
        moves = {
            self._snapped(along, float(drawn.project(place)), is_closed=is_closed): move
            for (_, move), place, is_on in zip(spots, places, on, strict=True)
            if is_on
        }
        return _between(closed, along, moves, is_closed=is_closed)

    @staticmethod
    def _snapped(along: Floats, at: float, *, is_closed: bool) -> float:
        corner = int(np.abs(along - at).argmin())
        if abs(along[corner] - at) > ON:
            return at
        return 0.0 if is_closed and corner == len(along) - 1 else float(along[corner])


def _between(closed: Floats, along: Floats, moves: dict[float, Point], *, is_closed: bool) -> Floats:
    order: Sequence[float] = sorted(moves)
    by = np.array([moves[at] for at in order])
    every = np.union1d(along[:-1] if is_closed else along, order)
    period = float(along[-1]) if is_closed else None
    lies = np.column_stack([np.interp(every, along, closed[:, axis]) for axis in (0, 1)])
    shift = np.column_stack([np.interp(every, order, by[:, axis], period=period) for axis in (0, 1)])
    moved: Floats = lies + shift
    return moved
