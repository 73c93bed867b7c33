"""Whether anyone still has the page open, for a server that ends with it."""

from __future__ import annotations

import time
from contextlib import contextmanager
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator


class Presence:
    """Counts who has the page open.

    Parameters
    ----------
    patience
        Seconds that the server goes on without any page: for a browser that is slow to open, or a page loaded anew.
    """

    def __init__(self, patience: float, clock: Callable[[], float] = time.monotonic) -> None:
        self._patience, self._clock = patience, clock
        self._open, self._last = 0, clock()

    @contextmanager
    def held(self) -> Iterator[None]:
        """A page is open within."""
        self._open += 1
        try:
            yield
        finally:
            self._open -= 1
            self._last = self._clock()

    def is_left(self, *, is_busy: bool) -> bool:
        """Whether nobody has been there for long enough; a server that still works for someone is not left."""
        if self._open or is_busy:
            self._last = self._clock()
        return self._clock() - self._last > self._patience
