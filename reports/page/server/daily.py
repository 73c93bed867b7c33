"""The daily copies, made beside the answers while the server runs."""

from __future__ import annotations

import threading
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from reports.page.store.copies import Copies

LOOK_EVERY = 60.0
"""Seconds between two looks at whether a new day has begun."""


AN_HOUR = 60
"""Looks after which the copy of the last hour is made anew."""


class Daily:
    """A thread that makes each day's copy as soon as the day begins, or the server does, and one each hour."""

    def __init__(self, copies: Copies, every: float = LOOK_EVERY) -> None:
        self._copies, self._every, self._ends = copies, every, threading.Event()
        self._thread = threading.Thread(target=self._run, name="daily copies", daemon=True)
        self._thread.start()

    def close(self) -> None:
        """End it with a last copy; one under way is finished first, as the store closes after it."""
        self._ends.set()
        self._thread.join()
        self._copies.make_latest()

    def _run(self) -> None:
        looks = 0
        while True:
            self._copies.make_if_due()
            if looks % AN_HOUR == AN_HOUR - 1:
                self._copies.make_latest()
            looks += 1
            if self._ends.wait(self._every):
                return
