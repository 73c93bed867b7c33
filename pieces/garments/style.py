"""What the styles of all garments have in common: options are read, and refused where they make no sense."""

from __future__ import annotations

from dataclasses import fields
from math import isfinite
from typing import get_args, get_type_hints

from pieces.dimensioned import Dimensioned
from pieces.errors import DraftError
from pieces.require import is_one_of, require_number, told
from pieces.units import format_both

_LONGEST = 10_000.0  # mm


class GarmentStyle(Dimensioned):
    """How a garment is to be made; lengths are given with their units.

    Raises
    ------
    DraftError
        If a choice is none of its own, or a length is not plausible, or less than its option allows.
    """

    def __post_init__(self) -> None:
        """Check each option by what it says of itself."""
        super().__post_init__()
        hints = get_type_hints(type(self))
        for each in fields(self):
            value, said = getattr(self, each.name), each.metadata
            if said["kind"] == "choice":
                if not is_one_of(value, get_args(hints[each.name])):
                    known = ", ".join(get_args(hints[each.name]))
                    raise DraftError(f"{each.name} must be one of {known}, not {told(value)}", about=each.name)
            elif value is not None:
                _check_number(each.name, value, said["least"])


def _check_number(name: str, value: float, least: float | None) -> None:
    require_number(value, name)
    if not abs(value) < _LONGEST:
        size = format_both(value) if isfinite(value) else f"{value} mm"
        raise DraftError(f"{name} of {size} is not a plausible size for a garment; check the unit", about=name)
    if least is not None and value < least:
        raise DraftError(f"{name} must be {'0 or more' if least == 0 else 'more than 0'}", about=name)
