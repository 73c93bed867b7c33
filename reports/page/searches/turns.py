"""Whose turn it is: first layouts before all else, those not yet seen ahead; then each client in turn."""

from __future__ import annotations

from collections import OrderedDict, deque
from typing import TYPE_CHECKING

from reports.page.errors import FullError

if TYPE_CHECKING:
    from reports.page.search import Search

MOST_OF_ONE = 32
"""Searches of one client that may wait."""

MOST_IN_ALL = 256
"""Searches of all clients that may wait."""


class Turns:
    """The searches that wait. None is shut out by one who asks for many.

    Parameters
    ----------
    most_of_one, most_in_all
        Searches of one client, and of all, that may wait.
    """

    def __init__(self, most_of_one: int = MOST_OF_ONE, most_in_all: int = MOST_IN_ALL) -> None:
        self._most_of_one, self._most_in_all = most_of_one, most_in_all
        self._waiting: OrderedDict[str, deque[Search]] = OrderedDict()

    def __len__(self) -> int:
        return sum(len(line) for line in self._waiting.values())

    def __contains__(self, search: Search) -> bool:
        return search in self._waiting.get(search.client, ())

    def require_room(self, client: str) -> None:
        """FullError if no search more of a client may wait."""
        of_one = len(self._waiting.get(client, ()))
        if of_one >= self._most_of_one:
            told = "search waits" if of_one == 1 else "searches wait"
            raise FullError(f"{of_one} {told} already: try again in a minute, or stop one")
        if len(self) >= self._most_in_all:
            raise FullError(f"{len(self)} searches of all who use this page wait already: try again in a minute")

    def add(self, search: Search) -> None:
        """Let one wait."""
        self._waiting.setdefault(search.client, deque()).append(search)

    def drop(self, search: Search) -> None:
        """Let one wait no longer."""
        self._waiting[search.client].remove(search)
        if not self._waiting[search.client]:
            del self._waiting[search.client]

    @property
    def is_in_a_hurry(self) -> bool:
        """Whether anybody waits who has not seen a first layout."""
        return any(one.may_give_way for line in self._waiting.values() for one in line)

    def take(self, *, firsts: bool = True, others: bool = True) -> Search | None:
        """The next search of those for first layouts, of others, or of all; None if none waits.

        Its client comes last from then on, so that each has a turn before any has two.
        """
        waiting = [one for line in self._waiting.values() for one in line if one.is_first] if firsts else []
        found = next((one for one in waiting if one.may_give_way), waiting[0] if waiting else None)
        if found is None and others:
            found = next((one for line in self._waiting.values() for one in line if not one.is_first), None)
        if found is not None:
            self.drop(found)
            if found.client in self._waiting:
                self._waiting.move_to_end(found.client)
        return found
