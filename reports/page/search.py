"""One search that the page asked for: what was asked, how far it is, and what has happened since it began."""

from __future__ import annotations

import threading
import time
from collections import deque
from dataclasses import dataclass, field
from typing import Any, Literal, NamedTuple

from reports.page.work_folder import BEFORE, FOLDER

State = Literal["waiting", "running", "done", "stopped", "failed"]

ENDED: tuple[State, ...] = ("done", "stopped", "failed")

FIRST = "first"
"""The effort that asks for first layouts alone."""

LOST = "the server ended before this search was done: start it again"

MOST_EVENTS = 60
"""Events kept for a page that comes late, or comes back; each progress holds a whole layout."""


class Event(NamedTuple):
    """Something that happened in a search."""

    number: int
    name: Literal["progress", "state", "done"]
    data: dict[str, Any]


def _is_pace(event: Event) -> bool:
    """Whether an event tells no more than how far a search is."""
    return event.name == "progress" and event.data.keys() == {"pace"}


@dataclass(eq=False)
class Search:
    """A search; changed by one worker's thread, read by many."""

    id: str
    kind: str
    payload: dict[str, Any]
    state: State = "waiting"
    progress: dict[str, Any] = field(default_factory=dict)
    result: dict[str, Any] | None = None
    error: str | None = None
    is_stop_asked: bool = False
    took: float = 0.0
    client: str = ""
    began: float | None = None
    _events: deque[Event] = field(default_factory=lambda: deque(maxlen=MOST_EVENTS))
    _lock: threading.Lock = field(default_factory=threading.Lock)
    _last: int = 0

    @property
    def is_first(self) -> bool:
        """Whether it asks for first layouts alone: a moment's work, which somebody waits for."""
        return self.payload.get("effort") == FIRST

    @property
    def may_give_way(self) -> bool:
        """Whether others may go ahead once it shows a layout; it does so once."""
        return self.is_first and "layout" not in self.progress

    @property
    def has_ended(self) -> bool:
        """Whether nothing more will happen."""
        return self.state in ENDED

    @property
    def seconds(self) -> float:
        """How long it has run."""
        return self.took if self.began is None else time.monotonic() - self.began

    def plain(self) -> dict[str, Any]:
        """What the page is told."""
        return {
            "id": self.id,
            "kind": self.kind,
            "state": self.state,
            "seconds": round(self.seconds, 2),
            "progress": self.progress,
            "result": self.result,
            "error": self.error,
        }

    def kept(self) -> dict[str, Any]:
        """What is kept of it."""
        return self.plain() | {
            "payload": {key: value for key, value in self.payload.items() if key not in (FOLDER, BEFORE)}
        }

    def tell(self, progress: dict[str, Any]) -> None:
        """Add a better layout, or whatever else the work wants seen."""
        self.progress = progress
        self._happened("progress", progress)

    def turn(self, state: State, result: dict[str, Any] | None = None, error: str | None = None) -> None:
        """Go over to another state; the last ones come with the result."""
        if state == "running":
            self.began = time.monotonic()
        elif self.began is not None:
            self.took, self.began = self.seconds, None
        self.result, self.error, self.state = result, error, state
        self._happened("state", {"state": state, "seconds": round(self.seconds, 2)})
        if self.has_ended:
            self._happened("done", {"id": self.id, "state": state})

    @property
    def last_number(self) -> int:
        """Number of the last event."""
        return self._last

    def events_after(self, number: int) -> list[Event]:
        """What is still known of the events after one of them."""
        with self._lock:
            return [event for event in self._events if event.number > number]

    def _happened(self, name: Literal["progress", "state", "done"], data: dict[str, Any]) -> None:
        with self._lock:
            self._last += 1
            if self._events and _is_pace(self._events[-1]) and name == "progress":
                self._events.pop()  # how far it was then is of no use to anybody
            self._events.append(Event(self._last, name, data))
