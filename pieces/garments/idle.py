"""Options that were set and change nothing in a style: each is told, with the reason."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.garments.style import GarmentStyle

IdleOptions = tuple[tuple[str, ...], bool, str]
"""Options, whether they change nothing, and why."""


def idle_notes(style: GarmentStyle, *idle: IdleOptions) -> Iterator[str]:
    """A line for each option that is not at its default although it changes nothing, once."""
    plain, told = type(style)(), set()
    for names, is_idle, why in idle:
        for name in names:
            if is_idle and name not in told and getattr(style, name) != getattr(plain, name):
                told.add(name)
                yield f"{name}: {why}, so it changes nothing"
