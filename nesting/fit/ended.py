"""A look through the places of all pieces, ended as soon as someone asks to stop."""

from __future__ import annotations

import threading
from contextlib import contextmanager
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nesting.placing.question import Placing
    from nesting.search.stop import StopCriterion

LOOK_EVERY = 0.1
"""Seconds between two looks at whether someone has asked to stop a proof."""


@contextmanager
def ended_by(placing: Placing, until: StopCriterion | None, within: float) -> Iterator[None]:
    """End a look through places as soon as someone asks to stop; a solver itself hears of nothing."""
    if until is None:
        yield
        return
    ended = threading.Event()

    def watch() -> None:
        while not ended.wait(LOOK_EVERY):
            if until(within):
                placing.stop()

    watcher = threading.Thread(target=watch, daemon=True)
    watcher.start()
    try:
        yield
    finally:
        ended.set()
        watcher.join()
