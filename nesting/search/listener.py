"""Progress: what a search tells whoever listens; it never prints."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from nesting.marker.marker import Marker


class Listener:
    """Do-nothing callbacks; override the ones you want."""

    def on_best(self, marker: Marker) -> None:
        """Run at each shorter marker, after it has passed the check."""

    def on_step(self, iterations: int, seconds: float) -> None:
        """Run a few times a second while the search goes on."""

    def on_note(self, text: str) -> None:
        """Run when there is something a person may want to know, such as a first compilation."""
