"""Options that change nothing, as they say how something is made that is not asked for: each is named."""

from __future__ import annotations

from dataclasses import fields
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    Idle = tuple[tuple[str, ...], Callable[[Any], bool], str]
    """Options, whether a style makes them idle, and the words for it."""


def idle_notes(style: Any, table: Iterable[Idle]) -> Iterator[str]:
    """A line for each option that was set and changes nothing, once."""
    plain, told = {each.name: each.default for each in fields(style)}, set()
    for names, is_idle, why in table:
        for name in names:
            if name not in told and is_idle(style) and getattr(style, name) != plain[name]:
                told.add(name)
                yield f"{name}: {why}, so it changes nothing"
