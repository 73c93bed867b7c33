"""Notches as they are cut: from the edge of the cut line inwards, so that they meet their point on the sew line."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from pieces.piece.curve import Point
    from pieces.piece.outline import Edge
    from pieces.piece.piece import Notch, Piece

    Floats = NDArray[np.float64]

NotchKind = Literal["slit", "v", "t"]

DEPTH = 6.0
"""How deep a notch is cut, mm: about a quarter of an inch, common practice, no source."""

SHALLOW = 3.0
"""How deep it is cut at the most where nothing is cut beyond the sew line, mm: common practice, no source."""

WIDE = 0.5
"""Half the mouth of a V and half the bar of a T, in depths: common practice, no source."""

ON = 1e-3
"""A point nearer to a line, mm, lies on it."""


@dataclass(frozen=True)
class CutNotch:
    """Where a notch is cut.

    Parameters
    ----------
    name
        The notch's.
    sewn
        Its point on the sew line.
    edge
        The point on the cut line from which it is cut.
    inward
        Which way it is cut, a vector of length 1.
    """

    name: str
    sewn: Point
    edge: Point
    inward: Point

    @property
    def apart(self) -> float:
        """How far its two points are from one another, mm."""
        return float(np.hypot(*np.subtract(self.sewn, self.edge)))

    def opposite(self, at: float) -> CutNotch:
        """The same beyond a line along the grain."""
        (x, y), (to_x, to_y), (along, across) = self.sewn, self.edge, self.inward
        return replace(self, sewn=(x, 2 * at - y), edge=(to_x, 2 * at - to_y), inward=(along, -across))


@dataclass(frozen=True)
class NotchCut:
    """How notches are cut: their kind, and how deep, mm; never deeper than half of what is cut beyond the sew line."""

    kind: NotchKind = "slit"
    depth: float = DEPTH

    def depth_of(self, notch: CutNotch) -> float:
        """How deep one notch is cut, mm."""
        return min(self.depth, SHALLOW if notch.apart < ON else notch.apart / 2)

    def strokes(self, notch: CutNotch) -> tuple[Floats, ...]:
        """The lines that are cut: a slit, the two sides of a V in one, or a slit and the bar at its end."""
        edge, way = np.array(notch.edge), np.array(notch.inward)
        deep = self.depth_of(notch)
        tip, aside = edge + deep * way, WIDE * deep * np.array([-way[1], way[0]])
        if self.kind == "v":
            return (np.array([edge - aside, tip, edge + aside]),)
        slit = np.array([edge, tip])
        return (slit,) if self.kind == "slit" else (slit, np.array([tip - aside, tip + aside]))


USUAL_CUT = NotchCut()


def cut_notches(piece: Piece, outline: Floats | None = None) -> tuple[CutNotch, ...]:
    """The notches of a piece as they are cut.

    Parameters
    ----------
    outline
        The cut line as it is drawn, in the piece's own frame; by default its cut line.
    """
    if not piece.notches:
        return ()
    starts = piece.cut_line if outline is None else outline
    ends = np.roll(starts, -1, axis=0)
    if piece.fold_edge is not None:  # nothing is cut there
        level = piece.fold_edge.points[0, 1]
        cut = (np.abs(starts[:, 1] - level) > ON) | (np.abs(ends[:, 1] - level) > ON)
        starts, ends = starts[cut], ends[cut]
    return tuple(_cut(notch, piece, starts, ends) for notch in piece.notches)


def _cut(notch: Notch, piece: Piece, starts: Floats, ends: Floats) -> CutNotch:
    at = np.array(notch.point, dtype=np.float64)
    reach = 4 * max((edge.allowance for edge in piece.edges), default=0.0) + 1.0
    for out in _ways_out(at, piece.edges):
        far = _first_on(at, out, starts, ends, reach)
        if far is not None:
            return _notch(notch.name, at, at + far * out, -out)
    edge = _nearest(at, starts, ends)
    inward = at - edge
    apart = float(np.hypot(*inward))
    return _notch(notch.name, at, edge, inward / apart if apart > ON else np.array([1.0, 0.0]))


def _notch(name: str, sewn: Floats, edge: Floats, inward: Floats) -> CutNotch:
    (x, y), (to_x, to_y), (along, across) = sewn.tolist(), edge.tolist(), inward.tolist()
    return CutNotch(name, (x, y), (to_x, to_y), (along, across))


def _ways_out(at: Floats, edges: tuple[Edge, ...]) -> Iterator[Floats]:
    """Square outwards from the edges that a point lies on, those first beyond which something is cut."""
    for edge in sorted((edge for edge in edges if edge.kind != "fold"), key=lambda edge: edge.allowance == 0):
        points = edge.points
        steps = np.diff(points, axis=0)
        long = np.hypot(*steps.T)
        share = ((at - points[:-1]) * steps).sum(axis=1) / np.maximum(long**2, 1e-12)
        share = np.clip(share, 0.0, 1.0)
        off = np.hypot(*(points[:-1] + share[:, np.newaxis] * steps - at).T)
        beside = np.flatnonzero(off < ON)
        if beside.size:
            out = (steps[beside][:, ::-1] * (1, -1) / long[beside][:, np.newaxis]).sum(axis=0)
            yield out / np.hypot(*out)


def _first_on(at: Floats, out: Floats, starts: Floats, ends: Floats, reach: float) -> float | None:
    """How far from a point an outline is met on a way out, mm; None where that is beyond reach."""
    steps, to = ends - starts, starts - at
    turn = out[0] * steps[:, 1] - out[1] * steps[:, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        far = (to[:, 0] * steps[:, 1] - to[:, 1] * steps[:, 0]) / turn
        share = (to[:, 0] * out[1] - to[:, 1] * out[0]) / turn
    met = (np.abs(turn) > 1e-12) & (share >= -1e-9) & (share <= 1 + 1e-9) & (far >= -0.25) & (far <= reach)
    return max(0.0, float(far[met].min())) if met.any() else None


def _nearest(at: Floats, starts: Floats, ends: Floats) -> Floats:
    """The nearest point of an outline."""
    steps = ends - starts
    share = ((at - starts) * steps).sum(axis=1) / np.maximum((steps**2).sum(axis=1), 1e-12)
    points: Floats = starts + np.clip(share, 0.0, 1.0)[:, np.newaxis] * steps
    nearest: Floats = points[np.argmin(np.hypot(*(points - at).T))]
    return nearest
