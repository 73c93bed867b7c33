"""A length in an option of `fits`."""

from __future__ import annotations

from nesting.errors import RemnantError
from pieces.errors import LengthError
from pieces.length import Length
from pieces.units import parse_length


def length_of(text: str, where: str) -> Length:
    """A length as it is written; RemnantError says `where` if it cannot be read."""
    try:
        return Length(parse_length(text))
    except LengthError as error:
        raise RemnantError(f"cannot read {where}: {error}") from error
