"""SVG in mm: a group for each piece, which is picked and moved as one, and in it one for each kind of line.

The kinds are classes, such as ``cut`` and ``sew``, so that a program can take the cut lines alone. Names stand as `id`,
`title` and `data-name`, and as the labels of groups and layers that vector editors show.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from pieces.piece.curve import Line
from pieces.piece.notched import USUAL_CUT, NotchCut
from reports.export.lines import PlotLine, cloth_lines, marker_lines, piece_lines, side_by_side
from reports.export.words import xml_text

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from nesting.marker.marker import Marker
    from pieces import PieceSet
    from pieces.piece.curve import Curve, Point
    from reports.export.lines import DrawnNotch, PieceLines, PlotRole

    Floats = NDArray[np.float64]

MARGIN = 10.0
"""Around everything, mm."""

MARK = 1.5
"""Half the size of the cross of a point, mm."""

DASHES: dict[PlotRole, str] = {"sew": "6 3", "centre": "12 3 2 3", "fold": "12 3 2 3"}

ROLES: dict[PlotRole, str] = {
    "cloth": "edges of the cloth",
    "fault": "faults",
    "cut": "cut line",
    "sew": "sew line",
    "fold": "fold",
    "centre": "centre",
    "grain": "grainline",
    "line": "lines within",
    "cutout": "cutouts",
    "notch": "notches",
    "sew-point": "notches on the sew line",
    "drill": "drill points",
    "label": "words",
}
"""The kinds of lines in the order in which they are drawn, and what editors call their groups."""

EDITOR = "http://www.inkscape.org/namespaces/inkscape"
"""Names the attributes by which vector editors know layers and labels."""

HEADS = "".join(
    f'<marker id="{end}" viewBox="0 0 6 4" refX="{tip}" refY="2" markerWidth="6" markerHeight="4"'
    f' markerUnits="userSpaceOnUse" orient="auto"><path d="{path}" fill="black" stroke="none"/></marker>'
    for end, tip, path in (("grain-start", 0, "M0 2 L6 0 L6 4 Z"), ("grain-end", 6, "M6 2 L0 0 L0 4 Z"))
)
"""Both heads of a grainline, mm."""


def pieces_svg(pieces: PieceSet, notches: NotchCut = USUAL_CUT) -> str:
    """All pieces side by side, their grain along the page."""
    shifts = side_by_side(pieces.pieces)
    drawn = [piece_lines(piece, shift, notches=notches) for piece, shift in zip(pieces, shifts, strict=True)]
    return _svg(pieces.garment, drawn, [])


def marker_svg(marker: Marker, title: str, notches: NotchCut = USUAL_CUT) -> str:
    """A marker, the cloth's start on the left."""
    return _svg(title, marker_lines(marker, notches), cloth_lines(marker))


def _svg(title: str, drawn: Sequence[PieceLines], cloth: Sequence[PlotLine]) -> str:
    ends = np.vstack([stroke.points for stroke in (*cloth, *(each for lines in drawn for each in lines.all_strokes()))])
    (left, low), (right, high) = ends.min(axis=0) - MARGIN, ends.max(axis=0) + MARGIN
    page = _Page(float(left), float(high))
    wide, deep = _number(float(right - left)), _number(float(high - low))
    return "\n".join(
        [
            '<?xml version="1.0" encoding="UTF-8"?>',
            f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:inkscape="{EDITOR}" width="{wide}mm" height="{deep}mm"'
            f' viewBox="0 0 {wide} {deep}">',
            f"<title>{xml_text(title)}</title>",
            f"<defs>{HEADS}</defs>",
            *(_group('id="layer-cloth" inkscape:groupmode="layer"', "cloth", page.kinds(cloth)) if cloth else ()),
            *_group(
                'id="layer-pieces" inkscape:groupmode="layer"',
                "pieces",
                (line for number, lines in enumerate(drawn, 1) for line in page.piece(number, lines)),
            ),
            "</svg>\n",
        ]
    )


def _group(attributes: str, called: str, inside: Iterator[str]) -> Iterator[str]:
    yield f'<g {attributes} inkscape:label="{xml_text(called)}">'
    yield from inside
    yield "</g>"


class _Page:
    """Where on the page a point lies: y runs down, from the upper left corner."""

    def __init__(self, left: float, high: float) -> None:
        self._left, self._high = left, high

    def at(self, point: Point) -> str:
        return f"{_number(point[0] - self._left)} {_number(self._high - point[1])}"

    def piece(self, number: int, lines: PieceLines) -> Iterator[str]:
        """A piece as one group, with a title."""
        inside = (f"<title>{xml_text(lines.called)}</title>", *self.kinds(list(lines.all_strokes()), lines))
        return _group(f'id="piece-{number}" {_called(lines.name)}', lines.called, iter(inside))

    def kinds(self, strokes: Sequence[PlotLine], lines: PieceLines | None = None) -> Iterator[str]:
        """A group for each kind of line, mark or words that there is."""
        for role, called in ROLES.items():
            inside = [self._path(stroke) for stroke in strokes if stroke.role == role]
            if lines is not None:
                inside += self._marks(role, lines)
            if inside:
                yield from _group(f'class="{role}" {_look(role)}', called, iter(inside))

    def _marks(self, role: PlotRole, lines: PieceLines) -> Iterator[str]:
        if role == "label":
            yield from self._words(lines)
        elif role == "notch":
            yield from map(self._notch, lines.notches)
        else:
            yield from (self._mark(name, point) for name, point in lines.marks(role))

    def _path(self, stroke: PlotLine) -> str:
        drawn = self._curves(stroke.curves) if stroke.curves else self._corners(stroke.points)
        return f'<path {_called(stroke.name)} d="{drawn}{" Z" if stroke.is_closed else ""}"/>'

    def _corners(self, points: Floats) -> str:
        """A line through many points, written in one go; numbers as of `_number`."""
        on_page = np.round(np.column_stack([points[:, 0] - self._left, self._high - points[:, 1]]), 5) + 0.0
        return "M" + " L".join(["%.10g %.10g"] * len(points)) % tuple(on_page.ravel().tolist())

    def _curves(self, curves: Sequence[Curve]) -> str:
        drawn = [f"M{self.at(curves[0].start)}"]
        for curve in curves:
            if isinstance(curve, Line):
                drawn.append(f"L{self.at(curve.end)}")
            else:
                drawn.append(f"C{self.at(curve.lead)} {self.at(curve.trail)} {self.at(curve.end)}")
        return " ".join(drawn)

    def _notch(self, notch: DrawnNotch) -> str:
        drawn = " ".join(f"M{' L'.join(map(self.at, stroke))}" for stroke in notch.strokes)
        return f'<path {_called(notch.name)} d="{drawn}"/>'

    def _mark(self, name: str, point: Point) -> str:
        """A cross, drawn in one go from the point itself, which so is where the line begins."""
        x, y = point
        ends = (x - MARK, y), (x + MARK, y), point, (x, y - MARK), (x, y + MARK)
        return f'<path {_called(name)} d="M{" L".join(map(self.at, (point, *ends)))}"/>'

    def _words(self, lines: PieceLines) -> Iterator[str]:
        if lines.label:
            size = _number(lines.label.height)
            for words, x, y in lines.label.lines():
                middle, foot = self.at((x, y)).split()
                yield f'<text x="{middle}" y="{foot}" font-size="{size}" text-anchor="middle">{xml_text(words)}</text>'


def _look(role: PlotRole) -> str:
    """How a kind is drawn."""
    if role == "label":
        return 'fill="black" font-family="sans-serif"'
    more = f' stroke-dasharray="{DASHES[role]}"' if role in DASHES else ""
    more += ' marker-start="url(#grain-start)" marker-end="url(#grain-end)"' if role == "grain" else ""
    return f'fill="none" stroke="black" stroke-width="{0.5 if role == "cut" else 0.25}"{more}'


def _called(name: str) -> str:
    return f'data-name="{xml_text(name)}"'


def _number(value: float) -> str:
    """To a hundredth of a micrometre, without needless noughts."""
    return f"{value + 0.0:.5f}".rstrip("0").rstrip(".")
