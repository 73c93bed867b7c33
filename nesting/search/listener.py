"""Progress: what a search tells whoever listens; it never prints."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from pieces.require import require_callable

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import TypeAlias

    from nesting.marker.marker import Marker

    AnyListener: TypeAlias = "Listener | Callable[[Marker], object]"
    """Who may listen: a listener, or a function that is called with each shorter marker."""


class Listener:
    """Do-nothing callbacks; override the ones you want."""

    def on_best(self, marker: Marker) -> None:
        """Run at each shorter marker, after it has passed the check."""

    def on_bound(self, length: float) -> None:
        """Run when more is proved: no marker is shorter than a length, mm."""

    def on_step(self, work: float, seconds: float) -> None:
        """Run a few times a second while the search goes on; `work` so far in efforts, as `MaxWork` counts it."""

    def on_note(self, text: str) -> None:
        """Run when there is something a person may want to know, such as a first compilation."""


class _Called(Listener):
    """A function that hears of better markers alone."""

    def __init__(self, function: Callable[[Marker], object]) -> None:
        self._function = function

    def on_best(self, marker: Marker) -> None:
        self._function(marker)


def listener_of(given: AnyListener | None) -> Listener:
    """Whoever listens, as a listener; WrongTypeError if it is neither one nor a function of a marker."""
    if given is None:
        return Listener()
    if isinstance(given, Listener):
        return given
    function: Any = given
    require_callable(function, "the listener", "a Listener, or a function that takes a marker", takes=1)
    return _Called(function)
