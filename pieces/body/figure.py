"""A figure that shows where the tape runs for each measurement, as an SVG."""

from __future__ import annotations

from html import escape
from textwrap import wrap
from typing import TYPE_CHECKING

from pieces.body.measures import MEASURES

if TYPE_CHECKING:
    from collections.abc import Iterator

HEAD = (110, 35, 18, 25)
"""The head: an ellipse, its middle and its radii."""

HALF = (
    "M110 50H101V66C99 73 86 77 74 81C63 84 58 98 55 122L45 178L38 211L47 214L58 180L67 138L72 118C73 136 79 148 80 162"
    "C79 180 70 192 69 208L73 296H105L110 232Z"
)
"""Half of the figure, from the neck round to the middle of the legs; the other half is its mirror image."""

MIRROR = "translate(220 0) scale(-1 1)"
BOX = (20, 0, 180, 300)
"""What the figure takes: left, top, width, height."""

WORDS_AT, WIDE, LINE, BEHIND = 395.0, 74, 9.0, 180.0
"""Where the words stand, how many signs a line holds, how high it is, and how far aside the figure is from behind."""


def draw_figure() -> str:
    """The figure from before and from behind, every tape drawn and numbered, and beside it what each measurement is."""
    parts = [*_seen(0.0, "front", is_behind=False), *_seen(BEHIND, "back", is_behind=True)]
    top = 14.0
    for number, (name, measure) in enumerate(MEASURES.items(), 1):
        parts.append(_text(WORDS_AT, top, f"{number}  {name.replace('_', ' ')}", bold=True))
        for line in (*wrap(measure.how, WIDE), measure.standard):
            top += LINE
            parts.append(_text(WORDS_AT + 12, top, line))
        top += 1.6 * LINE
    left, upper, _, _ = BOX
    size = f'viewBox="{left} {upper} 680 {top:g}" width="1360" height="{2 * top:g}"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size}><title>Where the tape runs</title>{"".join(parts)}</svg>'


def _seen(aside: float, words: str, *, is_behind: bool) -> Iterator[str]:
    """The figure, so far to the side, with the tapes that are seen from there."""
    x, y, rx, ry = HEAD
    body = "fill:#ddd"
    yield f'<g transform="translate({aside:g} 0)"><ellipse cx="{x}" cy="{y}" rx="{rx}" ry="{ry}" style="{body}"/>'
    yield from (f'<path d="{HALF}" style="{body}"{turn}/>' for turn in ("", f' transform="{MIRROR}"'))
    for number, measure in enumerate(MEASURES.values(), 1):
        if measure.is_behind == is_behind:
            yield f'<path d="{measure.tape}" style="fill:none;stroke:#b00;stroke-width:2"/>'
            yield _text(*measure.at, str(number), bold=True)
    yield _text(101, 310, words) + "</g>"


def _text(x: float, y: float, words: str, *, bold: bool = False) -> str:
    weight = ";font-weight:bold" if bold else ""
    return f'<text x="{x:g}" y="{y:g}" style="font:7px sans-serif{weight}">{escape(words, quote=False)}</text>'
