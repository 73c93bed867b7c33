"""The curves of one half of a leg, front or back: waist, crotch, inseam and side, all sew lines.

Its frame has x down the grain from the waist, y from the centre of the body outwards.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, hypot, radians, sin
from typing import TYPE_CHECKING

from pieces.piece.curve import Cubic, Line, flatten, polyline_length

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from pieces.piece.curve import Curve, Point

    Floats = NDArray[np.float64]

HOLLOW, MOST_HOLLOW = 1.5, radians(30)
"""How much more an inseam leans at the crotch than straight to the knee, and how far at the most."""

FRONT_CURVE, BACK_CURVE = 1.6, 0.8
"""How high the curve of a crotch is, as a share of what it reaches beyond the centre; of a back at the least."""

LEAST_SLANT = 1e-6
"""A side that lies in by less, mm, is straight."""


@dataclass(frozen=True)
class LegLevels:
    """How far below the waist the lines of the body lie, mm: the upper edge of the leg, hip, crotch, knee and hem.

    The knee is None where the hem lies above it or near it. Then the inseam runs down square to the hem for as far as
    that is turned up: front and back meet in a level line, and beyond its fold too.
    """

    top: float
    hip: float
    crotch: float
    knee: float | None
    hem: float
    turned_up: float = 0.0


@dataclass(frozen=True)
class SideSeam:
    """How far the side seam lies in from its place at the hip, mm, at waist, knee and hem: of front and back alike."""

    waist: float
    knee: float
    hem: float


@dataclass(frozen=True)
class LegPanel:
    """Half a leg.

    Parameters
    ----------
    hip
        From the centre to the side at the hip, mm.
    extension, drop
        How far the crotch reaches beyond the centre, and how far below the line of the crotch it ends, mm.
    slant, rise
        How far the centre leans in at the waist, and how far it rises above the side, mm; of the back alone.
    knee, hem
        Widths there, mm.
    """

    levels: LegLevels
    side: SideSeam
    hip: float
    extension: float
    slant: float
    rise: float
    knee: float
    hem: float
    drop: float = 0.0

    def waist_line(self) -> Floats:
        """From the side to the centre; square to both."""
        side, centre = (self.levels.top, self.hip - self.side.waist), self._centre_top
        if self.rise == 0:
            return Line(side, centre).flatten()
        third, (down, across) = (side[1] - centre[1]) / 3, self._centre_way
        lead, trail = (side[0], side[1] - third), (centre[0] - across * third, centre[1] + down * third)
        return Cubic(side, lead, trail, centre).flatten()

    def crotch_line(self) -> Floats:
        """From the waist down the centre and round to the inseam; it meets that square."""
        down, across = self._centre_way
        tip, lean, begin = self._tip, self._lean, (self.curve_begins, 0.0)
        reach = tip[0] - begin[0]
        lead = (begin[0] + 0.6 * reach * down, begin[1] + 0.6 * reach * across)
        trail = (tip[0] - 0.6 * self.extension * sin(lean), tip[1] + 0.6 * self.extension * cos(lean))
        return flatten([Line(self._centre_top, begin), Cubic(begin, lead, trail, tip)])

    @property
    def curve_begins(self) -> float:
        """The level where the straight centre runs into the curve of the crotch: of a back at the hip, if not above."""
        if self.rise == 0:
            return self.levels.crotch - FRONT_CURVE * self.extension
        return min(self.levels.hip, self.levels.crotch - BACK_CURVE * self.extension)

    def inseam(self) -> Floats:
        """From the crotch down to the hem."""
        hem = self._inner(self.levels.hem, self.side.hem, self.hem)
        if self.levels.knee is None:
            begin = (hem[0] - self.levels.turned_up, hem[1])
            return flatten([self._leaning(begin, 0.0), Line(begin, hem)] if begin != hem else [self._leaning(hem, 0.0)])
        knee = self._inner(self.levels.knee, self.side.knee, self.knee)
        return flatten([self._leaning(knee, _angle(knee, hem)), Line(knee, hem)])

    def side_seam(self) -> Floats:
        """From the hem up to the waist."""
        return flatten(self._side_curves())

    def side_to_hip(self) -> float:
        """The side seam from the waist to the hip, mm."""
        return self._side_curves()[-1].length

    def side_to_knee(self) -> float:
        """The side seam from the hem to the knee, mm; 0 without one."""
        return 0.0 if self.levels.knee is None else self._side_curves()[0].length

    def inseam_to_knee(self) -> float:
        """The inseam from the hem to the knee, mm; 0 without one."""
        if self.levels.knee is None:
            return 0.0
        knee = self._inner(self.levels.knee, self.side.knee, self.knee)
        return Line(knee, self._inner(self.levels.hem, self.side.hem, self.hem)).length

    @property
    def inseam_length(self) -> float:
        """Length of the inseam, mm."""
        return polyline_length(self.inseam())

    def _side_curves(self) -> list[Curve]:
        levels, side = self.levels, self.side
        hip, top = (levels.hip, self.hip), (levels.top, self.hip - side.waist)
        hem = (levels.hem, self.hip - side.hem)
        knee = hem if levels.knee is None else (levels.knee, self.hip - side.knee)
        way = _angle(hip if levels.knee is None else knee, hem)
        third = (knee[0] - hip[0]) / 3
        leg = Cubic(knee, (knee[0] - third * cos(way), knee[1] - third * sin(way)), (hip[0] + third, hip[1]), hip)
        half = (levels.hip - levels.top) / 2
        above: Curve = Line(hip, top)
        if abs(side.waist) > LEAST_SLANT:
            above = Cubic(hip, (hip[0] - half, hip[1]), (top[0] + half, top[1]), top)
        return [leg, above] if levels.knee is None else [Line(hem, knee), leg, above]

    @property
    def _tip(self) -> Point:
        return self.levels.crotch + self.drop, -self.extension

    @property
    def _lean(self) -> float:
        """The way of the inseam at the crotch: an angle off the grain, outwards."""
        knee = self._inner(self.levels.hem, self.side.hem, self.hem)
        if self.levels.knee is not None:
            knee = self._inner(self.levels.knee, self.side.knee, self.knee)
        return max(-MOST_HOLLOW, min(HOLLOW * _angle(self._tip, knee), MOST_HOLLOW))

    def _leaning(self, end: Point, way: float) -> Cubic:
        """From the crotch to a point, into which it comes at an angle."""
        tip, lean = self._tip, self._lean
        third = hypot(end[0] - tip[0], end[1] - tip[1]) / 3
        lead = (tip[0] + third * cos(lean), tip[1] + third * sin(lean))
        return Cubic(tip, lead, (end[0] - third * cos(way), end[1] - third * sin(way)), end)

    def _inner(self, level: float, inwards: float, width: float) -> Point:
        """The point of the inseam at a level."""
        return level, self.hip - inwards - width

    @property
    def _centre_top(self) -> Point:
        return self.levels.top - self.rise, self.slant

    @property
    def _centre_way(self) -> Point:
        """The way down the centre, of length 1."""
        down, across = self.curve_begins - self.levels.top + self.rise, -self.slant
        size = hypot(down, across)
        return down / size, across / size


def _angle(start: Point, end: Point) -> float:
    """The way from a point to one below it, as an angle off the grain, outwards."""
    return atan2(end[1] - start[1], end[0] - start[0])
