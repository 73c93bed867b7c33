"""Aligned lines for a person: what every answer says of itself in trade units."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from pieces.errors import WrongTypeError
from pieces.require import told
from pieces.units import Units

if TYPE_CHECKING:
    from collections.abc import Iterable

    UnitsAsked = Units | Literal["in", "cm"]
    """The units of a summary, as an engineer asks for them."""


def units_asked(units: UnitsAsked) -> Units:
    """The units that are meant; WrongTypeError says which there are."""
    if isinstance(units, str) and units in tuple(Units):
        return Units(units)
    raise WrongTypeError(f'units must be "in" or "cm", not {told(units)}')


def aligned(rows: Iterable[tuple[str, str]]) -> str:
    """Names and values in two columns, a row each, two spaces between them at the least."""
    rows = [*rows]
    wide = max((len(name) for name, _ in rows), default=0) + 2
    return "\n".join(f"{name:<{wide}}{value}" for name, value in rows)
