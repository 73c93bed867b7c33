"""A skirt's draft looked over: it is checked, and what no outline can be made of is one clear error."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from pieces.errors import DraftError, OutlineError
from pieces.garments.ease import little_ease
from pieces.units import INCH

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from pieces.piece.pieces import PieceSet

LITTLE: Mapping[str, float] = {"waist": 0.0, "hip": INCH}
"""Less ease than this, mm, is noted: common practice, no source."""


def checked(garment: str, draft: Callable[[], PieceSet], *, more: str) -> PieceSet:
    """The pieces, their seams walked, with a note where there is little room; the option `more` gives it at the hip.

    Raises
    ------
    DraftError
        If measurements and options do not make that garment together.
    """
    try:
        drafted = draft()
        drafted.check()
    except OutlineError as error:
        raise DraftError(f"these measurements and options do not make a {garment} together: {error}") from error
    return replace(drafted, notes=(*drafted.notes, *little_ease(drafted.finished, LITTLE, {"hip": more})))
