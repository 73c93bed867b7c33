"""Plies dealt out to rolls by plain rules: longest first or as they come, each to a roll that still holds it."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

SLACK = 1e-6
"""What a roll may be short by rounding alone."""

Dealt = list[int | None]
"""The roll of each ply; None for one that found none."""


def deal(plies: Sequence[float], rolls: Sequence[float]) -> Dealt:
    """The best of first fit and best fit: plies longest first or as they come, rolls longest first or shortest first.

    The best cuts the most cloth, then opens the fewest rolls. Lengths in any unit.
    """
    found = [
        _dealt(plies, rolls, queue, order, choose)
        for queue in (_sorted(plies, longest_first=True), list(range(len(plies))))
        for order in (_sorted(rolls, longest_first=True), _sorted(rolls, longest_first=False))
        for choose in (_first, _tightest)
    ]
    return min(found, key=lambda dealt: (missing(plies, dealt), count_opened(dealt)))


def missing(plies: Sequence[float], dealt: Dealt) -> float:
    """Length of the plies that have no roll."""
    return sum(ply for ply, roll in zip(plies, dealt, strict=True) if roll is None)


def count_opened(dealt: Dealt) -> int:
    """Rolls that are cut from."""
    return len({roll for roll in dealt if roll is not None})


def _sorted(lengths: Sequence[float], *, longest_first: bool) -> list[int]:
    return sorted(range(len(lengths)), key=lambda at: lengths[at], reverse=longest_first)


def _first(fitting: list[tuple[float, int]]) -> int:
    return fitting[0][1]


def _tightest(fitting: list[tuple[float, int]]) -> int:
    return min(fitting)[1]


def _dealt(
    plies: Sequence[float],
    rolls: Sequence[float],
    queue: list[int],
    order: list[int],
    choose: Callable[[list[tuple[float, int]]], int],
) -> Dealt:
    left, dealt = list(rolls), Dealt([None] * len(plies))
    for ply in queue:
        fitting = [(left[roll], roll) for roll in order if left[roll] >= plies[ply] - SLACK]
        if fitting:
            roll = dealt[ply] = choose(fitting)
            left[roll] -= plies[ply]
    return dealt
