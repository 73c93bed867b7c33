"""Shorts to pull on, with elastic at the waist."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.garments.garment import Garment
from pieces.garments.trouser.measured import block_for
from pieces.garments.trouser.sewing import trouser_steps
from pieces.garments.trouser.style import ShortsStyle
from pieces.garments.trouser.trims import trouser_trims
from pieces.garments.trouser.trousers import MEASUREMENTS, draft_trousers

if TYPE_CHECKING:
    from pieces.body.body import Body
    from pieces.piece.pieces import PieceSet

SKETCH = (
    "M28 24H72L74 36L82 92H54L50 66L46 92H18L26 36ZM26 36H74M50 36V66M18.8 87H46.6M53.4 87H81.2M33 24V36"
    "M38 24V36M42 24V36M46 24V36M50 24V36M54 24V36M58 24V36M62 24V36M67 24V36"
)


def draft(body: Body, style: ShortsStyle) -> PieceSet:
    """The pieces of shorts; DraftError where measurements and options do not go together."""
    return draft_trousers("shorts", block_for(body, style), body, style)


SHORTS = Garment(
    "shorts",
    "shorts to pull on, with elastic at the waist",
    MEASUREMENTS,
    ShortsStyle,
    draft,
    trouser_trims,
    trouser_steps,
    SKETCH,
)
