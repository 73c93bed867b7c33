"""A skirt's draft looked over: it is checked, and what no outline can be made of is one clear error."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, TypeVar

from pieces.body.rules import lacking, measured_or_usual
from pieces.errors import DraftError, OutlineError
from pieces.garments.ease import little_ease
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

    from pieces.body.body import Body
    from pieces.garments.skirt.style import SkirtStyle
    from pieces.piece.pieces import PieceSet

Style = TypeVar("Style", bound="SkirtStyle")

TO_FLOOR = ("crotch_depth", "inside_leg")
"""From the waist to the floor."""

LITTLE: Mapping[str, float] = {"waist": 0.0, "hip": INCH}
"""Less ease than this, mm, is noted: common practice, no source."""


MOST_HEM = 0.5
"""No hem is deeper than this share of what it is turned up on: common practice, no source."""


def checked(garment: str, draft: Callable[[Body, Style], PieceSet], body: Body, style: Style, *, more: str) -> PieceSet:
    """The pieces, their seams walked, with notes on length and room; the option `more` gives room at the hip.

    Raises
    ------
    DraftError
        If measurements and options do not make that garment together.
    """
    check_hem(style.hem, style.length, "skirt")
    try:
        drafted = draft(body, style)
        drafted.check()
    except OutlineError as error:
        raise DraftError(f"these measurements and options do not make a {garment} together: {error}") from error
    notes = (*drafted.notes, *_floor_note(body, style.length))
    return replace(drafted, notes=(*notes, *little_ease(drafted.finished, LITTLE, {"hip": more})))


def check_hem(hem: float, deep: float, of: str) -> None:
    """Make sure that there is something to turn a hem up on; lengths in mm."""
    if hem > MOST_HEM * deep:
        raise DraftError(
            f"a hem of {format_both(hem)} is too deep for a {of} of {format_both(deep)}: choose"
            f" {format_both(MOST_HEM * deep)} or less",
            about="hem",
        )


def _floor_note(body: Body, length: float) -> Iterator[str]:
    """A line on a length, mm, that reaches the floor, where it is known how far that lies below the waist."""
    if not lacking(TO_FLOOR, body.measurements()):
        floor = sum(measured_or_usual(body, name) for name in TO_FLOOR)
        if length >= floor:
            yield (
                f"length: {format_both(length)} reaches the floor, about {format_both(floor)} below the waist: make it"
                " shorter"
            )
