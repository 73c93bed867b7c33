"""A sheet to draw on: lines, areas and lettering on an axes whose scale is known."""

from __future__ import annotations

import warnings
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import matplotlib
import numpy as np
from matplotlib.collections import LineCollection
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.patches import Polygon
from matplotlib.textpath import TextToPath

from reports.draw.kit.surface import arrow_heads

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from typing import Any

    from matplotlib.axes import Axes
    from matplotlib.patches import Patch
    from numpy.typing import ArrayLike

    from reports.draw.kit.surface import Side, Style, Upright

FONT = "DejaVu Sans"
BLACK, GREY, PALE = "black", "0.55", "0.85"
PAGE_WIDTH, PAGE_HEIGHT, MARGIN = 841.9, 595.3, 32.0
"""A4 on its side, points: 72 to the inch. Letter paper takes it scaled to 94 %."""

LEADING = 1.35
"""From one line of text to the next, in sizes of the type."""

DASHED: Style = (0, (5, 3))
DASH_DOTTED: Style = (0, (9, 3, 1.5, 3))


@dataclass(frozen=True)
class Sheet:
    """An axes with its scale.

    Parameters
    ----------
    ax
        Where to draw.
    pt
        Units of the axes (mm of cloth, or points of the page) that a printed point takes.
    clip
        Nothing is drawn outside this area.
    """

    ax: Axes
    pt: float
    clip: Patch | None = None

    def line(
        self, points: ArrayLike, width: float = 0.6, *, style: Style = "-", colour: str = BLACK, closed: bool = False
    ) -> None:
        """Draw a line through points, shape (n, 2)."""
        path = np.asarray(points, dtype=np.float64)
        if closed:
            path = np.vstack([path, path[:1]])
        (line,) = self.ax.plot(
            path[:, 0], path[:, 1], color=colour, linewidth=width, linestyle=style, solid_joinstyle="miter"
        )
        self._keep_inside(line)

    def lines(self, segments: Sequence[ArrayLike], width: float, colour: str) -> None:
        """Draw many short lines at once."""
        drawn = LineCollection([np.asarray(s) for s in segments], colors=colour, linewidths=width)
        self.ax.add_collection(drawn, autolim=False)
        self._keep_inside(drawn)

    def area(self, points: ArrayLike, colour: str) -> None:
        """Fill an outline."""
        patch = Polygon(np.asarray(points), closed=True, facecolor=colour, edgecolor="none")
        self.ax.add_patch(patch)
        self._keep_inside(patch)

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
    ) -> None:
        """Write words; `side` and `upright` say which point of them lies at (x, y)."""
        self.ax.text(
            x,
            y,
            printable(words),
            fontproperties=font(size, bold),
            horizontalalignment=side,
            verticalalignment=upright,
            rotation=rotation,
            rotation_mode="anchor",
            parse_math=False,
        )

    def _keep_inside(self, artist: Any) -> None:
        artist.set_zorder(2)  # one depth for all: what is drawn later lies on top
        artist.set_clip_on(self.clip is not None)
        if self.clip is not None:
            artist.set_clip_path(self.clip)


def font(size: float, bold: bool = False) -> FontProperties:
    """The one typeface, whatever the user's matplotlib settings are."""
    return FontProperties(family=FONT, size=size, weight="bold" if bold else "normal")


def font_file(bold: bool = False) -> Path:
    """The typeface's own file, for what embeds it without matplotlib."""
    return Path(matplotlib.get_data_path()) / "fonts" / "ttf" / f"DejaVuSans{'-Bold' if bold else ''}.ttf"


@cache
def typeface_notice() -> str:
    """Copyright and licence of the typeface, as its file states them: a copy of it, embedded, must bear both."""
    from matplotlib.ft2font import FT2Font

    names = FT2Font(str(font_file())).get_sfnt()
    copyright_, licence = (names[1, 0, 0, key].decode("mac-roman") for key in (0, 13))  # OpenType: the name table
    return "Typeface: " + " ".join(f"{copyright_} {licence}".split())


def printable(words: str) -> str:
    """Words without line breaks and signs that no file of text may hold."""
    return "".join(sign if sign.isprintable() else " " for sign in words)


def short_signs(words: str) -> str:
    """Words without signs beyond the first 65,536: neither the typeface nor DXF has them."""
    return "".join(sign if sign <= "\uffff" else "\ufffd" for sign in words)


@contextmanager
def missing_glyphs_allowed() -> Iterator[None]:
    """Let names be written in any script: a sign that the typeface lacks shows as a box where it is drawn."""
    with warnings.catch_warnings():
        warnings.filterwarnings("ignore", "Glyph .* missing from")
        yield


@cache
def text_width(words: str, size: float, bold: bool = False) -> float:
    """Width of a line of text, points."""
    with missing_glyphs_allowed():
        width, _, _ = TextToPath().get_text_width_height_descent(printable(words), font(size, bold), ismath=False)
    return float(width)


def shorten(words: str, size: float, width: float, bold: bool = False) -> str:
    """Words, cut off with an ellipsis if they are wider than `width` points."""
    if text_width(words, size, bold) <= width:
        return words
    while words and text_width(words + "…", size, bold) > width:
        words = words[:-1]
    return words + "…"


def wrap(words: str, size: float, width: float, bold: bool = False) -> list[str]:
    """Break words into lines no wider than `width` points."""
    lines: list[str] = []
    for word in words.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, size, bold) <= width:
            lines[-1] = longer
        else:
            lines.append(shorten(word, size, width, bold))
    return lines


def new_page(height: float = PAGE_HEIGHT, width: float = PAGE_WIDTH) -> tuple[Figure, Sheet]:
    """A white page and a sheet over all of it, in points, (0, 0) at its lower left corner."""
    figure = Figure(figsize=(width / 72, height / 72), facecolor="white")
    ax = figure.add_axes((0, 0, 1, 1))
    ax.set_axis_off()
    ax.set_xlim(0, width)
    ax.set_ylim(0, height)
    return figure, Sheet(ax, 1.0)
