"""The waist of trousers that are pulled on: wide enough to pass over the hips. Common practice, no source."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from pieces.body.rules import measured_or_usual
from pieces.errors import DraftError
from pieces.garments.trouser.block import MATCHED, TrouserBlock
from pieces.piece.root import root
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from pieces.body.body import Body
    from pieces.garments.trouser.style import TrouserStyle

WAIST_EASE = INCH
"""The waist of the cloth is no less than the waist and this, if nothing is asked for."""

MOST_FLARE = 0.6
"""How far a side seam may lean out or in above the hip, as a share of the hip's depth."""


def with_waist(block: TrouserBlock, body: Body, style: TrouserStyle) -> TrouserBlock:
    """The block with its side seams leaned so that the waist is as wide as asked.

    Raises
    ------
    DraftError
        If it does not pass over the hips, or the sides would lean too far.
    """
    waist = measured_or_usual(body, "waist")
    asked = max(block.waist, body.hip, waist + WAIST_EASE) if style.waist_width is None else style.waist_width
    what, least = max(("hip", body.hip), ("waist", waist), key=lambda pair: pair[1])
    if asked < least:
        raise DraftError(
            f"waist_width of {format_both(asked)} does not pass over the {what} of {format_both(least)}: trousers to"
            " pull on have no opening, so make it at least as wide",
            about="waist_width",
        )

    def leaning(side: float) -> TrouserBlock:
        parts = (replace(panel, side=replace(panel.side, waist=side)) for panel in (block.front, block.back))
        front, back = parts
        return replace(block, front=front, back=back)

    most = MOST_FLARE * (block.front.levels.hip - block.front.levels.top)
    found = root(lambda out: leaning(-out).waist - asked, -most, most)
    leaned = block if abs(asked - block.waist) < MATCHED else leaning(-found)
    if abs(leaned.waist - asked) > MATCHED:
        raise DraftError(
            f"a waist of {format_both(asked)} on a hip of {format_both(block.hip)} would lean the side seams too far:"
            " choose a waist_width nearer to the hip, or more ease",
            about="waist_width" if style.waist_width is not None else "ease",
        )
    return leaned
