"""Options that were set and change nothing in a style: each is told, with the reason."""

from __future__ import annotations

from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import fields
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    IdleOptions = tuple[tuple[str, ...], bool, str]
    """Options, whether they change nothing, and why."""

    Idle = tuple[tuple[str, ...], Callable[[Any], bool], str]
    """Options, whether a style makes them idle, and why."""


_heard: ContextVar[set[str] | None] = ContextVar("idle options", default=None)


@contextmanager
def idle_heard() -> Iterator[set[str]]:
    """The options that change nothing in what is drafted meanwhile, at their defaults or not."""
    names: set[str] = set()
    before = _heard.set(names)
    try:
        yield names
    finally:
        _heard.reset(before)


def idle_notes(style: Any, *idle: IdleOptions) -> Iterator[str]:
    """A line for each option that is not at its default although it changes nothing, once."""
    plain, told = {each.name: each.default for each in fields(style)}, set()
    heard = _heard.get()
    for names, is_idle, why in idle:
        if is_idle and heard is not None:
            heard.update(names)
        for name in names:
            if is_idle and name not in told and getattr(style, name) != plain[name]:
                told.add(name)
                yield f"{name}: {why}, so it changes nothing"


def idle_by(style: Any, table: Iterable[Idle]) -> Iterator[str]:
    """The same, by a table of what makes options idle."""
    return idle_notes(style, *((names, is_idle(style), why) for names, is_idle, why in table))
