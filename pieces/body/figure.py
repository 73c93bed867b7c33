"""A figure that shows where the tape runs for each measurement, as an SVG."""

from __future__ import annotations

import re
from textwrap import wrap
from xml.sax.saxutils import escape

from pieces.body.measures import MEASURES

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

WORDS_AT, WIDE, LINE = 215.0, 62, 9.0
"""Where the words stand, how many signs a line holds, and how high it is."""


def draw_figure() -> str:
    """The figure with every tape drawn and numbered, and beside it what each measurement is."""
    x, y, rx, ry = HEAD
    body = "fill:#ddd"
    parts = [
        f'<ellipse cx="{x}" cy="{y}" rx="{rx}" ry="{ry}" style="{body}"/>',
        *(f'<path d="{HALF}" style="{body}"{turn}/>' for turn in ("", f' transform="{MIRROR}"')),
    ]
    top = 14.0
    for number, (name, measure) in enumerate(MEASURES.items(), 1):
        parts.append(f'<path d="{measure.tape}" style="fill:none;stroke:#b00;stroke-width:2"/>')
        parts.append(_text(*_beside(measure.tape), str(number), bold=True))
        parts.append(_text(WORDS_AT, top, f"{number}  {name.replace('_', ' ')}", bold=True))
        for line in (*wrap(measure.how, WIDE), measure.standard):
            top += LINE
            parts.append(_text(WORDS_AT + 12, top, line))
        top += 1.6 * LINE
    left, upper, _, high = BOX
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{left} {upper} 480 {high}" width="960" height="600">'
        f"<title>Where the tape runs</title>{''.join(parts)}</svg>"
    )


def _beside(path: str) -> tuple[float, float]:
    """Where a tape's number stands: left of its start, or under its end on the right half of the figure."""
    numbers = [float(found) for found in re.findall(r"[\d.]+", path)]
    x, y = numbers[:2]
    if x < HEAD[0]:
        return x - 9, y + 2
    return (x if "V" in path else numbers[-2]) - 2, numbers[-1] + 9


def _text(x: float, y: float, words: str, *, bold: bool = False) -> str:
    weight = ";font-weight:bold" if bold else ""
    return f'<text x="{x:g}" y="{y:g}" style="font:7px sans-serif{weight}">{escape(words)}</text>'
