"""Trousers to pull on, with elastic at the waist."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.garments.garment import Garment
from pieces.garments.trouser.measured import block_for
from pieces.garments.trouser.sewing import trouser_steps
from pieces.garments.trouser.style import ElasticTrouserStyle
from pieces.garments.trouser.trims import trouser_trims
from pieces.garments.trouser.trousers import MEASUREMENTS, draft_trousers

if TYPE_CHECKING:
    from pieces.body.body import Body
    from pieces.piece.pieces import PieceSet

SKETCH = (
    "M30 12H70L71 22L76 108H54L50 48L46 108H24L29 22ZM29 22H71M50 22V48M34 12V22M38 12V22M42 12V22"
    "M46 12V22M50 12V22M54 12V22M58 12V22M62 12V22M66 12V22M24 103H46M54 103H76"
)


def draft(body: Body, style: ElasticTrouserStyle) -> PieceSet:
    """The pieces of elastic trousers; DraftError where measurements and options do not go together."""
    return draft_trousers("elastic-trousers", block_for(body, style), body, style)


ELASTIC_TROUSERS = Garment(
    "elastic-trousers",
    "trousers to pull on, with elastic at the waist",
    MEASUREMENTS,
    ElasticTrouserStyle,
    draft,
    trouser_trims,
    trouser_steps,
    SKETCH,
)
