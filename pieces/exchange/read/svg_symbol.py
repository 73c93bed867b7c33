"""Drawings within a drawing, and copies of symbols: how large each is drawn, where, and what is cut off at its sides.

SVG 1.1, 5.5, 7.8 and 14.3.3.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from pieces.exchange.svg_length import box_of, side

if TYPE_CHECKING:
    from xml.etree import ElementTree

    from pieces.exchange.svg_length import Box

EDGE = "data-ell-edge"
"""On a line round all that is seen of a copy or of an inner drawing: ``"begin"`` before it, ``"end"`` after it."""

_ALONG = {"min": 0.0, "mid": 0.5, "max": 1.0}


def place_copy(use: ElementTree.Element, symbol: ElementTree.Element, around: Box | None) -> str:
    """Write into the transform of a copy what the view box of its symbol does; what is not followed, or empty.

    Parameters
    ----------
    around
        View box of the drawing: a share of its sides is meant by ``50%``, and all of them where nothing is said.
    """
    box = box_of(symbol)
    if box is None:
        return "the view box of its symbol is not valid and is ignored" if symbol.get("viewBox") else ""
    placed = _placed(use, symbol, around)
    if placed is None or min(placed[2:]) <= 0:
        return "its width and height do not give its size; it is read at the size of its symbol"
    x, y, wide, high = placed
    across, down = wide / box[2], high / box[3]
    words = (symbol.get("preserveAspectRatio") or "xMidYMid").split()
    align = re.fullmatch("x(Min|Mid|Max)Y(Min|Mid|Max)", words[0])
    if words[0] != "none" and align is None:
        return f"'{words[0][:20]}' is not a way to keep its proportions; it is read at the size of its symbol"
    if align is not None:
        across = down = max(across, down) if words[1:] == ["slice"] else min(across, down)
        x += _ALONG[align[1].lower()] * (wide - across * box[2])
        y += _ALONG[align[2].lower()] * (high - down * box[3])
    moved = f"translate({x!r} {y!r}) scale({across!r} {down!r}) translate({-box[0]!r} {-box[1]!r})"
    use.set("transform", f"{use.get('transform', '')} {moved}".strip())
    for key in ("x", "y", "width", "height"):
        use.attrib.pop(key, None)
    return ""


def _placed(use: ElementTree.Element, symbol: ElementTree.Element, around: Box | None) -> Box | None:
    """Left, top, width and height of the part of a drawing that a copy, or an inner drawing, may fill."""
    wide, high = (side(use.get(key) or symbol.get(key) or "100%", around and around[at])
                  for key, at in (("width", 2), ("height", 3)))  # fmt: skip
    x, y = (side(use.get(key) or "0", around and around[at]) for key, at in (("x", 2), ("y", 3)))
    return None if wide is None or high is None or x is None or y is None else (x, y, wide, high)


def edges(
    use: ElementTree.Element, symbol: ElementTree.Element, around: Box | None
) -> tuple[ElementTree.Element, ElementTree.Element] | None:
    """Two lines to stand before and after a copy, or an inner drawing, which say what is seen of it.

    They have to be made before the copy is placed. None if the sides are not known.
    """
    from xml.etree import ElementTree as Tree

    placed = _placed(use, symbol, around)
    if placed is None:
        return None
    x, y, wide, high = placed
    tag = f"{use.tag[: use.tag.rfind('}') + 1]}path"
    line = {"d": f"M{x!r} {y!r}h{wide!r}v{high!r}h{-wide!r}z"}
    if moved := use.get("transform"):
        line["transform"] = moved
    return Tree.Element(tag, line | {EDGE: "begin"}), Tree.Element(tag, line | {EDGE: "end"})
