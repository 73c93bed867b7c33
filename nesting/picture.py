"""A marker as it draws itself in a notebook: the bands of cloth, and every piece in its place."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.drawing import Stroke, Words, draw

if TYPE_CHECKING:
    from nesting.marker import Marker


def draw_marker(marker: Marker) -> str:
    """An SVG of a marker to scale, the cloth's start at the left."""
    strokes: list[Stroke] = []
    words: list[Words] = []
    for band in marker.problem.bands:
        start, end = band.start, min(band.end, marker.length)
        corners = [(start, band.low), (end, band.low), (end, band.high), (start, band.high)]
        strokes.append(Stroke(corners, "edge"))
    strokes += [Stroke(fault, "sew") for fault in marker.problem.faults]
    for _, item, _, outline in marker.outlines():
        strokes.append(Stroke(outline))
        low, high = outline.min(axis=0), outline.max(axis=0)
        x, y = (low + high) / 2
        words.append(Words(float(x), float(y), item.name, 0.9 * float(high[0] - low[0])))
    return draw(strokes, words, repr(marker))
