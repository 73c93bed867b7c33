"""Lengths in an SVG: numbers, units, and shares of the drawing that they stand in (SVG 1.1, 4.2 and 7.10)."""

from __future__ import annotations

import re
from math import hypot, sqrt
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from xml.etree import ElementTree

    Box = tuple[float, float, float, float]

NUMBER = r"[-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?"

_LENGTH = re.compile(rf"\s*({NUMBER})\s*(px|mm|cm|in|pt|pc|q|%)?\s*", re.IGNORECASE)

PIXELS = {"": 1.0, "px": 1.0, "mm": 96 / 25.4, "cm": 960 / 25.4, "in": 96.0, "pt": 96 / 72, "pc": 16.0, "q": 24 / 25.4}

ACROSS, DOWN, BOTH = ("x", "width", "cx", "rx", "x1", "x2"), ("y", "height", "cy", "ry", "y1", "y2"), ("r",)


def box_of(element: ElementTree.Element) -> Box | None:
    """Left, top, width and height of an element's view box; None if it has none that counts."""
    numbers = [float(number) for number in re.findall(NUMBER, element.get("viewBox", ""), re.IGNORECASE)]
    return (numbers[0], numbers[1], numbers[2], numbers[3]) if len(numbers) == 4 and min(numbers[2:]) > 0 else None


def inside_of(drawing: ElementTree.Element, around: Box | None) -> Box | None:
    """What shares of lengths in a drawing within `around` are shares of: its view box, or else its own sides."""
    wide, high = (side(drawing.get(key) or "100%", around and around[at]) for key, at in (("width", 2), ("height", 3)))
    return box_of(drawing) or ((0.0, 0.0, wide, high) if wide and high else None)


def side(text: str, whole: float | None) -> float | None:
    """A length in the drawing's own numbers; None if it is none, or a share of something unknown."""
    found = _LENGTH.fullmatch(text)
    if found is None:
        return None
    value, unit = float(found[1]), (found[2] or "").lower()
    if unit == "%":
        return None if whole is None else value / 100 * whole
    return value * PIXELS[unit]


def settle_lengths(shape: ElementTree.Element, around: Box | None) -> str:
    """Write the lengths of a shape as plain numbers; why one of them is none, or empty.

    Parameters
    ----------
    around
        The view box that shares are taken of; None if it is not known.
    """
    wholes = (around[2], around[3], hypot(*around[2:]) / sqrt(2)) if around else (None, None, None)
    for keys, whole in zip((ACROSS, DOWN, BOTH), wholes, strict=True):
        for key in keys:
            text = shape.get(key)
            if text is None:
                continue
            if text.strip() == "auto":
                del shape.attrib[key]
            elif (value := side(text, whole)) is None:
                return f"its {key} is '{text[:20]}', which is not a length known here: write it as a number"
            else:
                shape.set(key, repr(value))
    return ""
