"""A backup brought back into a folder of saved work: merged, so that nothing there is lost, and nothing comes twice."""

from __future__ import annotations

import hashlib
import json
import tempfile
from itertools import count
from pathlib import Path
from sqlite3 import IntegrityError
from typing import TYPE_CHECKING, Any

from reports.ledger.journal import Journal, JournalRow
from reports.output import written_whole
from reports.page.errors import BackupError
from reports.page.search import ENDED, LOST
from reports.page.store.brought import LONGEST_NAME, StoredRow, read_backup
from reports.page.work_folder import UPLOADS

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping
    from sqlite3 import Connection

    from reports.page.store.brought import Brought
    from reports.page.store.store import Store

BESIDE = " (from backup)"
"""What is put to the name of what comes in beside another of the same name."""

Counts = dict[str, dict[str, int]]
"""Of each kind of thing, how many were ``added``, and how many were there just the ``same``."""


def restore(store: Store, data: bytes) -> Counts:
    """Add what a backup holds to what is there.

    What is there stays as it is. What has been changed since the backup comes in beside it: a project or a client
    under another name, an answer or a pattern under another id, which the projects that come in name. Restored twice,
    it adds nothing the second time.

    Raises
    ------
    BackupError, LedgerFileError
        If the file is no backup, is damaged, or was written by a newer version; or the ledger that is there cannot be
        used. Nothing has changed then.
    """
    with tempfile.TemporaryDirectory(dir=store.folder) as folder:
        path = Path(folder) / "restore.sqlite3"
        path.write_bytes(data)
        brought = read_backup(path)
    ledger = Journal(store.folder).merge([JournalRow(**row) for row in brought.ledger])
    names: dict[str, str] = {}
    patterns = _add_files(store.folder, brought, names)
    try:
        with store.writing() as database:
            answers = _add(_Searches(database, names), brought.searches)
            return {
                "projects": _add(_Projects(database, names), brought.projects),
                "clients": _add(_Clients(database, names), brought.clients),
                "answers": answers,
                "patterns": patterns,
                "settings": _add_settings(database, brought.settings),
                "entries": ledger,
            }
    except IntegrityError as error:  # two rows of one id, which no backup has
        raise BackupError(f"this file cannot be restored: {error}: choose one that 'back up' wrote") from error


def _add_files(folder: Path, brought: Brought, names: dict[str, str]) -> dict[str, int]:
    """Write the files that are not there; of patterns, one that is there with another content is given another name."""
    counts = {"added": 0, "same": 0}
    for file in brought.files:
        place, _, name = file["name"].partition("/")
        for path in (folder / place / other for other in _others(name.removesuffix(".json"), ".json")):
            is_there = path.exists()
            if is_there and place == UPLOADS and path.read_bytes() != file["data"]:
                continue
            if not is_there:
                with written_whole(path) as temporary:
                    temporary.write_bytes(file["data"])
            if place == UPLOADS:
                names[name] = path.name
                counts["same" if is_there else "added"] += 1
            break
    return counts


def _others(own: str, end: str = "") -> Iterator[str]:
    """A name of one's own, and others that follow from it, the same each time."""
    yield own + end
    for number in count(1):
        yield hashlib.sha256(f"{own}:{number}".encode()).hexdigest()[: len(own)] + end


class _Table:
    """How the rows of a table come in; `columns` are what makes two rows the same."""

    name: str
    key = "id"
    columns: tuple[str, ...]

    def __init__(self, database: Connection, names: dict[str, str]) -> None:
        self.database, self.names = database, names

    def as_here(self, row: StoredRow) -> StoredRow:
        """A row that names what came in under other names by these."""
        return row

    def variants(self, row: StoredRow) -> Iterator[StoredRow]:
        """The row, and what it may come in as where another is in its place."""
        for number, own in enumerate(_others(row["id"])):
            yield row | {"id": own} | ({"name": beside(row["name"], number)} if number and "name" in row else {})


class _Searches(_Table):
    name = "searches"
    columns = ("kind", "payload", "state", "result", "error")

    def as_here(self, row: StoredRow) -> StoredRow:
        row = row | {"payload": renamed(row["payload"], self.names)}
        return row if row["state"] in ENDED else row | {"state": "failed", "error": LOST}


class _Projects(_Table):
    name = "projects"
    columns = ("name", "data")

    def as_here(self, row: StoredRow) -> StoredRow:
        return row | {"data": renamed(row["data"], self.names)}

    def variants(self, row: StoredRow) -> Iterator[StoredRow]:
        # However often it was changed since, it stands beside the one that is there, under one other name.
        for variant in super().variants(row):
            yield variant if variant["id"] == row["id"] else variant | {"name": beside(row["name"], 1)}


class _Clients(_Table):
    name = "clients"
    key = "name"
    columns = ("body",)


def _add(table: _Table, rows: list[StoredRow]) -> dict[str, int]:
    """Insert the rows that are not there."""
    counts = {"added": 0, "same": 0}
    for row in map(table.as_here, rows):
        for variant in table.variants(row):
            there = table.database.execute(
                f"SELECT {', '.join(table.columns)} FROM {table.name} WHERE {table.key} = ?", (variant[table.key],)
            ).fetchone()
            if there is None:
                marks = ", ".join("?" * len(variant))
                table.database.execute(
                    f"INSERT INTO {table.name} ({', '.join(variant)}) VALUES ({marks})", list(variant.values())
                )
            elif there != tuple(variant[column] for column in table.columns):
                continue
            table.names[row["id"]] = variant["id"]
            counts["same" if there else "added"] += 1
            break
    return counts


def _add_settings(database: Connection, rows: list[StoredRow]) -> dict[str, int]:
    """Settings that a person has chosen here stay."""
    insert = "INSERT OR IGNORE INTO settings VALUES (?, ?)"
    added = sum(database.execute(insert, (row["name"], row["value"])).rowcount for row in rows)
    return {"added": added, "same": len(rows) - added}


def beside(name: str, number: int) -> str:
    """The name of what comes in beside another of the same name."""
    end = BESIDE if number == 1 else f"{BESIDE[:-1]} {number})"
    return f"{name[: LONGEST_NAME - len(end)]}{end}"


def renamed(text: str, names: Mapping[str, str]) -> str:
    """JSON that names searches and files by what they are called here."""
    other = {old: new for old, new in names.items() if old != new}
    if not other:
        return text
    return json.dumps(_renamed(json.loads(text), lambda said: other.get(said, said)), separators=(",", ":"))


def _renamed(value: Any, name: Callable[[str], str]) -> Any:
    if isinstance(value, dict):
        return {name(key): _renamed(one, name) for key, one in value.items()}
    if isinstance(value, list):
        return [_renamed(one, name) for one in value]
    return name(value) if isinstance(value, str) else value
