"""SVG in mm: a group for each kind of line, so that a program can take the cut lines alone."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from reports.export.lines import PlotLine, cloth_lines, marker_lines, piece_lines, side_by_side
from reports.export.words import xml_text

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nesting.marker.marker import Marker
    from pieces import PieceSet
    from pieces.piece.curve import Point
    from reports.export.lines import PieceLines, PlotRole

MARGIN = 10.0
"""Around everything, mm."""

MARK = 1.5
"""Half the size of the cross of a notch or of a drill point, mm."""

DASHES: dict[PlotRole, str] = {"sew": "6 3", "centre": "12 3 2 3", "fold": "12 3 2 3"}

ROLES: tuple[PlotRole, ...] = (
    "cloth",
    "fault",
    "cut",
    "sew",
    "fold",
    "centre",
    "grain",
    "line",
    "cutout",
    "notch",
    "drill",
    "label",
)


def pieces_svg(pieces: PieceSet) -> str:
    """All pieces side by side, their grain along the page."""
    shifts = side_by_side(pieces.pieces)
    drawn = [piece_lines(piece, shift) for piece, shift in zip(pieces, shifts, strict=True)]
    return _svg(pieces.garment, drawn, [])


def marker_svg(marker: Marker, title: str) -> str:
    """A marker, the cloth's start on the left."""
    return _svg(title, marker_lines(marker), cloth_lines(marker))


def _svg(title: str, drawn: Sequence[PieceLines], cloth: Sequence[PlotLine]) -> str:
    strokes = [*cloth, *(stroke for lines in drawn for stroke in lines.all_strokes())]
    ends = np.vstack([stroke.points for stroke in strokes])
    (left, low), (right, high) = ends.min(axis=0) - MARGIN, ends.max(axis=0) + MARGIN
    page = _Page(float(left), float(high))
    wide, deep = _number(float(right - left)), _number(float(high - low))
    groups = [group for role in ROLES for group in page.group(role, strokes, drawn)]
    return "\n".join(
        [
            '<?xml version="1.0" encoding="UTF-8"?>',
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{deep}mm" viewBox="0 0 {wide} {deep}">',
            f"<title>{xml_text(title)}</title>",
            *groups,
            "</svg>\n",
        ]
    )


class _Page:
    """Where on the page a point lies: y runs down, from the upper left corner."""

    def __init__(self, left: float, high: float) -> None:
        self._left, self._high = left, high

    def at(self, point: Point) -> str:
        return f"{_number(point[0] - self._left)} {_number(self._high - point[1])}"

    def group(self, role: PlotRole, strokes: Sequence[PlotLine], drawn: Sequence[PieceLines]) -> Iterator[str]:
        """All lines, marks or words of a kind; nothing where there are none."""
        if role == "label":
            inside = [words for lines in drawn for words in self._words(lines)]
            look = 'fill="black" font-family="sans-serif"'
        else:
            inside = [self._path(s) for s in strokes if s.role == role] + [
                self._mark(name, point) for lines in drawn for name, point in lines.marks(role)
            ]
            dashes = f' stroke-dasharray="{DASHES[role]}"' if role in DASHES else ""
            look = f'fill="none" stroke="black" stroke-width="{0.5 if role == "cut" else 0.25}"{dashes}'
        if inside:
            yield f'<g id="{role}" {look}>'
            yield from inside
            yield "</g>"

    def _path(self, stroke: PlotLine) -> str:
        points = " L".join(map(self.at, stroke.points))
        return f'<path {_called(stroke.name)} d="M{points}{" Z" if stroke.is_closed else ""}"/>'

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


def _called(name: str) -> str:
    return f'data-name="{xml_text(name)}"'


def _number(value: float) -> str:
    """To a hundredth of a micrometre, without needless noughts."""
    return f"{value + 0.0:.5f}".rstrip("0").rstrip(".")
