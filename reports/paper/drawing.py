"""What is printed, at full scale: lines, areas and words in mm, y upwards, kept to be painted on any page."""

from __future__ import annotations

from contextlib import contextmanager
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
import shapely
import shapely.affinity

from pieces.piece.curve import Cubic
from pieces.piece.recovered import curves_of
from pieces.piece.true_lines import refined
from pieces.units import INCH
from reports.draw.kit.sheet import BLACK, printable, short_signs, text_width
from reports.draw.kit.surface import arrow_heads
from reports.paper.script import as_printed

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import ArrayLike, NDArray
    from shapely.geometry.base import BaseGeometry

    from pieces.piece.curve import Curve
    from reports.draw.kit.surface import Side, Style, Upright

    Floats = NDArray[np.float64]
    Box = tuple[float, float, float, float]

POINT = INCH / 72
"""A printed point, mm."""

CHORDS = 0.02
"""How far the points of a curve stray from it, mm; it is painted as itself."""

SHARE = {"left": 0.0, "center": 0.5, "right": 1.0}
"""Of a line's width, by the side it is written from."""

RISE = {"baseline": 0.0, "center": 0.36, "top": 0.76, "bottom": -0.24}
"""From the baseline up to the point that words are written at, in sizes of the typeface."""


@dataclass(frozen=True, eq=False)
class PageLine:
    """A line, its width and dashes in mm; `layer` is the one it is switched on and off with.

    `curves` are the lines and curves that it is painted with, if there are curves in it.
    """

    points: Floats
    width: float
    dashes: tuple[float, ...]
    grey: float
    layer: str | None
    curves: tuple[Curve, ...] = ()

    @cached_property
    def shape(self) -> BaseGeometry:
        """Where it lies."""
        return shapely.LineString(self.points)


@dataclass(frozen=True, eq=False)
class Area:
    """A filled outline."""

    points: Floats
    grey: float
    layer: str | None

    @cached_property
    def shape(self) -> BaseGeometry:
        """Where it lies."""
        return shapely.Polygon(self.points)


@dataclass(frozen=True, eq=False)
class PageWords:
    """A line of text: where its baseline begins, its length and size in mm, its turn in degrees."""

    at: tuple[float, float]
    wide: float
    words: str
    size: float
    bold: bool
    turn: float
    grey: float
    layer: str | None

    @cached_property
    def shape(self) -> BaseGeometry:
        """Where it lies."""
        x, y = self.at
        if not self.turn:
            return shapely.box(x, y - 0.24 * self.size, x + self.wide, y + 0.76 * self.size)
        box = shapely.box(0, -0.24 * self.size, self.wide, 0.76 * self.size)
        turned = shapely.affinity.rotate(box, self.turn, origin=(0, 0))
        return shapely.affinity.translate(turned, *self.at)


PageMark = PageLine | Area | PageWords


class KeptDrawing:
    """A surface that keeps what is drawn on it.

    Parameters
    ----------
    magnify
        How much larger than on a picture all lettering, marks and line widths are.

    Attributes
    ----------
    marks
        All that was drawn, in order.
    layers
        Those that may be switched on and off; whether they are on at first.
    """

    def __init__(self, magnify: float = 1.0) -> None:
        self.marks: list[PageMark] = []
        self.layers: dict[str, bool] = {}
        self._magnify = magnify
        self._layer: str | None = None

    @property
    def pt(self) -> float:
        """Units that a printed point takes, mm: more than it is where all is magnified."""
        return POINT * self._magnify

    @contextmanager
    def layer(self, name: str, *, shown: bool = True) -> Iterator[None]:
        """All that is drawn within belongs to a layer."""
        self.layers.setdefault(name, shown)
        self._layer = name
        yield
        self._layer = None

    @property
    def box(self) -> Box:
        """Lower left and upper right corner of all that is drawn."""
        return box_of([mark.shape for mark in self.marks])

    def line(
        self, points: ArrayLike, width: float = 0.6, *, style: Style = "-", colour: str = BLACK, closed: bool = False
    ) -> None:
        """Draw a line through points, shape (n, 2)."""
        path = np.array(points, dtype=np.float64)
        if closed:
            path = np.vstack([path, path[:1]])
        self._keep(path, width, style, colour, () if closed else curves_of(path))

    def curve(self, curves: Sequence[Curve], width: float = 0.6, *, style: Style = "-", colour: str = BLACK) -> None:
        """Draw lines and curves one after another."""
        path = refined(curves, CHORDS)
        is_closed = np.allclose(curves[0].start, curves[-1].end, atol=1e-9)
        points = np.vstack([path, path[:1]]) if is_closed else path
        is_curved = any(isinstance(curve, Cubic) for curve in curves)
        self._keep(points, width, style, colour, tuple(curves) if is_curved else ())

    def _keep(self, path: Floats, width: float, style: Style, colour: str, curves: tuple[Curve, ...]) -> None:
        dashes = () if isinstance(style, str) else tuple(dash * self.pt for dash in style[1])
        self.marks.append(PageLine(path, width * self.pt, dashes, _grey(colour), self._layer, curves))

    def lines(self, segments: Sequence[ArrayLike], width: float, colour: str) -> None:
        """Draw many short lines."""
        for segment in segments:
            self.line(segment, width, colour=colour)

    def area(self, points: ArrayLike, colour: str) -> None:
        """Fill an outline."""
        self.marks.append(Area(np.array(points, dtype=np.float64), _grey(colour), self._layer))

    def arrow(self, start: ArrayLike, end: ArrayLike, width: float = 0.6, *, both: bool = False) -> None:
        """Draw a line with a head at its end, or at both ends."""
        self.line([np.asarray(start), np.asarray(end)], width)
        for head in arrow_heads(start, end, self.pt, both=both):
            self.area(head, BLACK)

    def text(
        self,
        x: float,
        y: float,
        words: str,
        size: float = 7,
        *,
        bold: bool = False,
        side: Side = "left",
        upright: Upright = "baseline",
        rotation: float = 0,
        colour: str = BLACK,
    ) -> None:
        """Write words; `side` and `upright` say which point of them lies at (x, y)."""
        wide = text_width(words, size, bold) * self.pt
        back = -SHARE[side] * wide
        down = -RISE[upright] * size * self.pt
        cos, sin = np.cos(np.radians(rotation)), np.sin(np.radians(rotation))
        shown = as_printed(short_signs(printable(words)))
        at = float(x + back * cos - down * sin), float(y + back * sin + down * cos)
        self.marks.append(PageWords(at, wide, shown, size * self.pt, bold, rotation, _grey(colour), self._layer))


def box_of(shapes: Sequence[BaseGeometry], rim: float = 0.0) -> Box:
    """Lower left and upper right corner of shapes, with a rim round them."""
    low_x, low_y, high_x, high_y = map(float, shapely.total_bounds(shapes))
    return low_x - rim, low_y - rim, high_x + rim, high_y + rim


def _grey(colour: str) -> float:
    named = {"black": 0.0, "white": 1.0}
    return named[colour] if colour in named else float(colour)
