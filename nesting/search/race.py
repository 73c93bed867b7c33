"""A race: searches from several seeds by turns; the one that leads goes on, and makes room where it gains no more.

How far a search comes depends more on its seed than on its time, so several short ones and one long one are worth more
than the long one alone. Turns are counted in work, so that runs repeat.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from nesting.shape.layout import Layout

    _Over = Callable[["_Entry"], bool]

RUNNERS = 3
"""Searches that a race begins with."""

TURN = 0.125
"""Share of the effort that each of them gets."""

LONG = 4.0
"""Efforts for which a race is worth its while: in less, one search alone comes further."""

STALE, STALE_SHARE = 3.0, 0.25
"""Work without a gain, in efforts and as a share of its own, after which a search makes room for another."""

TOGETHER = 0.75
"""Share of the effort after which only the best search goes on."""

APART = 104_729
"""Between the seeds of a race."""


class Runner(Protocol):
    """A search that may be left and taken up again."""

    best: Layout

    def rounds(self) -> Iterator[Layout | None]:
        """Yield each better layout, and None in between."""
        ...


class Race:
    """Searches of one problem by turns.

    Parameters
    ----------
    begin
        Begins a search from a seed.
    seed
        Of the first search.
    work
        The work of all searches so far, in efforts.
    spent
        The share of the effort that is spent; 0 where that is not known.
    """

    def __init__(
        self, begin: Callable[[int], Runner], seed: int, work: Callable[[], float], spent: Callable[[], float]
    ) -> None:
        self._begin, self._seed, self._work, self._spent = begin, seed, work, spent
        self._leader = _Entry(begin(seed))
        self._best = self._leader.runner.best
        self._going = self._rounds()

    @property
    def best(self) -> Layout:
        """The shortest layout found; may be set from outside, and the leader goes on from it then."""
        return self._best

    @best.setter
    def best(self, layout: Layout) -> None:
        self._best = self._leader.runner.best = layout

    def rounds(self) -> Iterator[Layout | None]:
        """Yield each better layout, and None many times a second in between; ends where the leader's search does.

        May be left and taken up again.
        """
        for found in self._going:  # noqa: UP028 - `yield from` would close what is to be taken up again.
            yield found

    def _rounds(self) -> Iterator[Layout | None]:
        yield from self._turn(self._leader, self._has_had_its_turn)
        number = 1
        while not self._leader.has_ended:
            is_racing = number < RUNNERS and self._is_worth_while()
            yield from self._challenge(number, self._has_had_its_turn if is_racing else self._is_stale)
            number += 1
            if number >= RUNNERS or not self._is_worth_while():
                yield from self._turn(self._leader, self._is_stale)

    def _challenge(self, number: int, is_over: _Over) -> Iterator[Layout | None]:
        """Let another search run for a turn; it leads afterwards if it has come further."""
        challenger = _Entry(self._begin(self._seed + APART * number))
        yield from self._turn(challenger, is_over)
        if challenger.length < self._leader.length:
            self._leader = challenger

    def _turn(self, entry: _Entry, is_over: _Over) -> Iterator[Layout | None]:
        """Let a search go on until its turn is over, or those behind have had their time."""
        length, before = entry.length, self._work()
        entry.idle = 0.0
        for _ in entry.runner.rounds():
            done = self._work() - before
            entry.work, entry.idle = entry.work + done, entry.idle + done
            if entry.length < length:
                length, entry.idle = entry.length, 0.0
            is_better = length < self._best.length
            self._best = entry.runner.best if is_better else self._best
            yield self._best if is_better else None
            before = self._work()  # others may have worked meanwhile
            if is_over(entry) if self._spent() < TOGETHER else entry is not self._leader:
                return
        entry.has_ended = True

    def _is_worth_while(self) -> bool:
        """Whether so much work is to be done that several searches come further than one."""
        spent = self._spent()
        return 0 < spent < TOGETHER and self._work() >= LONG * spent

    def _has_had_its_turn(self, entry: _Entry) -> bool:
        """Whether a search at the beginning has done its share of all that is to come."""
        return self._is_stale(entry) or (self._is_worth_while() and entry.work * self._spent() >= TURN * self._work())

    def _is_stale(self, entry: _Entry) -> bool:
        """Whether a search has gained nothing for long."""
        return entry.idle >= max(STALE, STALE_SHARE * entry.work)


@dataclass(eq=False)
class _Entry:
    """A search in a race: its work, and that since it gained, in efforts."""

    runner: Runner
    work: float = 0.0
    idle: float = 0.0
    has_ended: bool = False

    @property
    def length(self) -> float:
        return self.runner.best.length
