"""Markers kept from run to run: found again by what was to be laid, and checked before they are believed."""

from __future__ import annotations

import hashlib
import json
import os
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from nesting.errors import CheckError
from nesting.marker.marker import Marker, Placement
from nesting.marker.opinion import check
from reports.keep.digest import FORMAT
from reports.output import write_text

if TYPE_CHECKING:
    from nesting.problem.problem import Problem

MOST_KEPT = 20_000
"""Markers kept: some 100 MB. Beyond that, those written longest ago go, half of them at a time."""


class MarkerCache:
    """A folder with a small file for each marker; a folder that cannot be used is as good as an empty one."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    @classmethod
    def of_user(cls) -> MarkerCache | None:
        """The user's own: in ``$XDG_CACHE_HOME/ellwand``, by default ``~/.cache/ellwand``."""
        given = Path(os.environ.get("XDG_CACHE_HOME", ""))
        if given.is_absolute():
            return cls(given / "ellwand")
        try:
            return cls(Path.home() / ".cache" / "ellwand")
        except RuntimeError:  # a user without a home
            return None

    def prune(self, most: int = MOST_KEPT) -> None:
        """Drop the older half where there are more markers than `most`."""
        with suppress(OSError):
            held = [path for path in self.folder.iterdir() if path.name.startswith("marker-")]
            if len(held) > most:
                for path in sorted(held, key=lambda path: path.stat().st_mtime)[: len(held) - most // 2]:
                    path.unlink(missing_ok=True)

    def path(self, key: str) -> Path:
        """The file of a key."""
        return self.folder / f"marker-{key}.json"

    def read(self, key: str, problem: Problem) -> Marker | None:
        """The marker of a problem; None if there is none, or it is damaged or does not pass the check."""
        try:
            held = json.loads(self.path(key).read_text(encoding="utf-8"))
            if held["sum"] != _sum(held["marker"]):
                return None
            marker = _from_plain(held["marker"], problem)
            check(marker)
        except (OSError, ValueError, TypeError, LookupError, OverflowError, RecursionError, CheckError):
            return None
        return marker

    def write(self, key: str, marker: Marker) -> None:
        """Keep a marker; a folder that cannot be written to is left alone."""
        plain = _to_plain(marker)
        with suppress(OSError):
            write_text(self.path(key), json.dumps({"format": FORMAT, "sum": _sum(plain), "marker": plain}))


def _to_plain(marker: Marker) -> dict[str, Any]:
    repeat = marker.problem.repeat
    placed = [[p.item, p.copy, p.variant, p.x, p.y] for p in marker.placements]
    return {"placements": placed, "start": repeat.start if repeat else None}


def _from_plain(plain: dict[str, Any], problem: Problem) -> Marker:
    """The marker; its length is measured, not believed."""
    if problem.repeat is not None:
        problem = replace(problem, repeat=replace(problem.repeat, start=float(plain["start"])))
    placements = tuple(
        Placement(int(item), int(copy), int(variant), float(x), float(y))
        for item, copy, variant, x, y in plain["placements"]
    )
    if any(not 0 <= p.item < len(problem.items) or p.variant < 0 for p in placements):
        raise LookupError("a placement of no item")
    ends = [p.x + problem.items[p.item].variants[p.variant].length for p in placements]
    return Marker(problem, placements, max(ends))


def _sum(plain: Any) -> str:
    return hashlib.sha256(json.dumps(plain, sort_keys=True).encode()).hexdigest()
