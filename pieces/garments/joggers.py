"""Joggers: trousers to pull on, with cuffs of rib and elastic at the waist; of knit or woven cloth."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.garments.garment import Garment
from pieces.garments.trouser.measured import block_for
from pieces.garments.trouser.rib import rib_bands
from pieces.garments.trouser.sewing import trouser_steps
from pieces.garments.trouser.style import JoggerStyle
from pieces.garments.trouser.trims import trouser_trims
from pieces.garments.trouser.trousers import MEASUREMENTS, draft_trousers

if TYPE_CHECKING:
    from pieces.body.body import Body
    from pieces.piece.pieces import PieceSet

SKETCH = (
    "M30 12H70L71 22C75 50 74 80 68 98H57C56 80 53 62 50 48C47 62 44 80 43 98H32C26 80 25 50 29 22Z"
    "M29 22H71M50 22V48M32 98V108H43V98M57 98V108H68V98M35 98V108M38 98V108M41 98V108M59 98V108M62 98V108"
    "M65 98V108M48 22L46 36M52 22L54 36M34 12V22M38 12V22M42 12V22M46 12V22M50 12V22M54 12V22M58 12V22"
    "M62 12V22M66 12V22"
)


def draft(body: Body, style: JoggerStyle) -> PieceSet:
    """The pieces of joggers; DraftError where measurements and options do not go together."""
    block = block_for(body, style)
    return draft_trousers("joggers", block, body, style, rib_bands(block, body, style))


JOGGERS = Garment(
    "joggers",
    "joggers with rib cuffs and elastic at the waist",
    MEASUREMENTS,
    JoggerStyle,
    draft,
    trouser_trims,
    trouser_steps,
    SKETCH,
)
