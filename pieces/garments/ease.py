"""Ease: whether a finished size leaves the body room. How much is little is common practice, no source."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.units import format_both

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from pieces.piece.finished import Finished


def little_ease(sizes: Iterable[Finished], least: Mapping[str, float], more: Mapping[str, str]) -> Iterator[str]:
    """A line for each finished size that leaves the body too little room.

    Parameters
    ----------
    least
        The least ease by the name of a size, mm.
    more
        The option that gives more there; ``ease`` does elsewhere.
    """
    for size in sizes:
        if size.ease is not None and size.ease < least.get(size.name, size.ease):
            than = f"only {format_both(size.ease)} more" if size.ease >= 0 else f"{format_both(-size.ease)} less"
            yield (
                f"{size.name}: {format_both(size.garment)} finished, {than} than the body: give more"
                f" {more.get(size.name, 'ease')}, or one hardly gets in"
            )
