"""Small drawings of outlines as SVG, for a notebook: no other library draws here."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from html import escape
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike

WIDEST, HIGHEST = 640.0, 480.0
"""Size of a drawing on the screen, pixels, at most."""

LETTERS, SMALLEST = 12.0, 5.0
"""Size of its words, pixels, at most and at least."""

WIDE = 0.62
"""Width of a letter, of its size: a little more than that of most."""

STYLES = {
    "cut": 'stroke-width="1.4"',
    "sew": 'stroke-width="0.7" stroke-dasharray="4 3"',
    "fold": 'stroke-width="1.4" stroke-dasharray="9 3 2 3"',
    "bare": 'stroke-width="3" stroke="white"',
    "thin": 'stroke-width="0.7"',
    "edge": 'stroke-width="0.7" stroke="#888"',
}

LINES = 'fill="none" stroke="black" stroke-linejoin="round"'
NAMES = (
    'font-family="sans-serif" text-anchor="middle" dominant-baseline="middle" fill="black" stroke="white"'
    ' stroke-width="3" paint-order="stroke"'
)
"""Words stand out from the lines under them."""


@dataclass(frozen=True)
class SvgLine:
    """A line through points, mm, y upwards: how it is drawn, and whether it ends where it began."""

    points: ArrayLike
    style: str = "cut"
    closed: bool = True


@dataclass(frozen=True)
class SvgWords:
    """Words about a point, mm, as large as `room` mm along leave them; left out where they would be too small."""

    x: float
    y: float
    text: str
    room: float


def draw(strokes: Sequence[SvgLine], words: Sequence[SvgWords], title: str) -> str:
    """An SVG of lines and words to scale, black on white; `title` says what it shows."""
    every = np.vstack([np.asarray(stroke.points, dtype=np.float64) for stroke in strokes])
    low, high = every.min(axis=0), every.max(axis=0)
    across, up = np.maximum(high - low, 1e-9)
    scale = min(WIDEST / across, HIGHEST / up)
    margin = LETTERS
    wide, tall = across * scale + 2 * margin, up * scale + 2 * margin

    def at(points: ArrayLike) -> list[str]:
        placed = (np.asarray(points, dtype=np.float64) - (low[0], high[1])) * (scale, -scale) + margin
        return [f"{x:.2f},{y:.2f}" for x, y in placed]

    lines = [
        f'<{"polygon" if stroke.closed else "polyline"} points="{" ".join(at(stroke.points))}" {STYLES[stroke.style]}/>'
        for stroke in strokes
    ]
    names = []
    for one in words:
        size = min(LETTERS, one.room * scale / (WIDE * max(1, len(one.text))))
        if size >= SMALLEST:
            x, y = at([(one.x, one.y)])[0].split(",")
            names.append(f'<text x="{x}" y="{y}" font-size="{size:.1f}">{_escaped(one.text)}</text>')
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" width="{wide:.0f}" height="{tall:.0f}"'
        f' viewBox="0 0 {wide:.2f} {tall:.2f}"><title>{_escaped(title)}</title>'
        f'<rect width="100%" height="100%" fill="white"/><g {LINES}>{"".join(lines)}</g>'
        f"<g {NAMES}>{''.join(names)}</g></svg>"
    )


def _escaped(text: str) -> str:
    """Words that XML may hold."""
    return escape("".join(" " if _is_barred(sign) else sign for sign in text), quote=False)


def _is_barred(sign: str) -> bool:
    return unicodedata.category(sign) in ("Cc", "Cs") or ord(sign) & 0xFFFE == 0xFFFE
