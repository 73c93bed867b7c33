"""One project out of a backup, with all that goes with it: answers, patterns, markers, photos, and whom it is for."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from reports.errors import MissingError
from reports.page.store.brought import Brought
from reports.page.work_folder import MARKERS, PATTERNS, PHOTOS, UPLOADS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from reports.page.store.brought import StoredRow


def of_project(brought: Brought, project: str) -> Brought:
    """What of a backup goes with one project; MissingError if it does not hold that."""
    projects = [row for row in brought.projects if row["id"] == project]
    if not projects:
        raise MissingError("this copy does not hold that project: choose another")
    said = set(_texts(json.loads(projects[0]["data"])))
    searches = [row for row in brought.searches if row["id"] in said]
    for row in searches:
        said.update(_texts(json.loads(row["payload"])))
    markers = {f"marker-{key}.json" for row in searches for key in _markers(row["result"])}
    clients = [row for row in brought.clients if row["id"] in said]
    owners = {project, *(row["id"] for row in clients)}
    photos = [row for row in brought.photos if row["owner"] in owners]
    wanted = {f"{UPLOADS}/{text}" for text in said} | {f"{MARKERS}/{name}" for name in markers}
    wanted |= {f"{PHOTOS}/{row['file']}" for row in photos}
    wanted |= {row["name"] for row in brought.files if row["name"].startswith(f"{PATTERNS}/") and _pieces(row) in said}
    return Brought(
        projects=projects,
        searches=searches,
        clients=clients,
        measured=[row for row in brought.measured if row["client"] in owners],
        shelf=[],
        photos=photos,
        settings=[],
        files=[row for row in brought.files if row["name"] in wanted],
        ledger=[],
    )


def _pieces(row: StoredRow) -> str:
    """The pieces that were made of a pattern file."""
    return str(json.loads(row["data"]).get("pieces_file"))


def _texts(value: Any) -> Iterator[str]:
    """All texts in plain data, keys as well."""
    if isinstance(value, dict):
        for key, one in value.items():
            yield key
            yield from _texts(one)
    elif isinstance(value, list):
        for one in value:
            yield from _texts(one)
    elif isinstance(value, str):
        yield value


def _markers(result: str | None) -> list[str]:
    """The keys of the markers that an answer is made again from; one of what to buy holds them itself."""
    held = json.loads(result).get("markers") if result else None
    return [one for one in held or [] if isinstance(one, str)]
