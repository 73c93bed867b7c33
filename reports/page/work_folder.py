"""The folder of saved work beside its database: uploaded patterns, and the markers that answers are made again from."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from reports.batch.cache import MarkerCache

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem

UPLOADS, PATTERNS, MARKERS, PHOTOS = "uploads", "patterns", "markers", "photos"
"""Folders in it: of pieces read from files that were sent, of these files, of markers, and of photos."""

FOLDER = "folder"
"""What a search's payload calls the folder while a server has it; it is not kept, as a backup may go elsewhere."""


def uploads_of(payload: Mapping[str, Any]) -> Path | None:
    """Where the uploaded pieces are that a search may use; None without a folder."""
    folder = payload.get(FOLDER)
    return Path(folder) / UPLOADS if folder else None


def markers_of(payload: Mapping[str, Any]) -> WorkMarkers | None:
    """Where the markers of a search are; None where there is neither a folder nor a cache of the user."""
    folder, user = payload.get(FOLDER), MarkerCache.of_user()
    if folder:
        return WorkMarkers(Path(folder) / MARKERS, user)
    return WorkMarkers(user.folder, None) if user else None


BEFORE = "before"
"""What a search's payload calls the answer that it goes on from, while it waits and runs; it is not kept twice."""


class WorkMarkers(MarkerCache):
    """Markers kept with the work; those that the user's cache holds are taken over from there.

    Attributes
    ----------
    used
        Keys of those that were read or written.
    """

    def __init__(self, folder: Path, user: MarkerCache | None) -> None:
        super().__init__(folder)
        self._user = user
        self.used: set[str] = set()

    def read(self, key: str, problem: Problem) -> Marker | None:
        """The marker of a problem; None if there is none."""
        marker = super().read(key, problem)
        if marker is not None:
            self.used.add(key)
        elif self._user is not None and (marker := self._user.read(key, problem)) is not None:
            self.used.add(key)
            super().write(key, marker)
        return marker

    def write(self, key: str, marker: Marker) -> None:
        """Keep a marker, with the user's own as well."""
        self.used.add(key)
        super().write(key, marker)
        if self._user is not None:
            self._user.write(key, marker)

    def keep_only(self, keys: Iterable[str]) -> None:
        """Drop all markers but some."""
        wanted = {self.path(key).name for key in keys}
        for path in self.folder.glob("marker-*.json"):
            if path.name not in wanted:
                path.unlink(missing_ok=True)
