"""A marker as it draws itself in a notebook: the bands of cloth, and every piece in its place."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.svg import SvgLine, SvgWords, draw

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    import numpy as np
    from numpy.typing import NDArray

    from nesting.cloth.band import Band

    Floats = NDArray[np.float64]


def draw_marker(
    bands: Sequence[Band], faults: Iterable[Floats], outlines: Iterable[tuple[str, Floats]], length: float, title: str
) -> str:
    """An SVG of a marker to scale, the cloth's start at the left; `outlines` are the pieces in place, with names."""
    strokes: list[SvgLine] = []
    words: list[SvgWords] = []
    for band in bands:
        start, end = band.start, min(band.end, length)
        corners = [(start, band.low), (end, band.low), (end, band.high), (start, band.high)]
        strokes.append(SvgLine(corners, "edge"))
    strokes += [SvgLine(fault, "sew") for fault in faults]
    for name, outline in outlines:
        strokes.append(SvgLine(outline))
        low, high = outline.min(axis=0), outline.max(axis=0)
        x, y = (low + high) / 2
        words.append(SvgWords(float(x), float(y), name, 0.9 * float(high[0] - low[0])))
    return draw(strokes, words, title)
