"""A backup brought back into a folder of saved work: merged, so that nothing there is lost, and nothing comes twice."""

from __future__ import annotations

import tempfile
from pathlib import Path
from sqlite3 import IntegrityError
from typing import TYPE_CHECKING, Any

from reports.ledger.journal import Journal, JournalRow
from reports.output import write_bytes
from reports.page.errors import BackupError
from reports.page.search import ENDED, LOST
from reports.page.store.beside import BESIDE, beside, others, renamed
from reports.page.store.brought import StoredRow, read_backup
from reports.page.store.merge_clients import add_clients, add_measured
from reports.page.store.one_project import of_project
from reports.page.store.patterns import keep_beside
from reports.page.work_folder import PATTERNS, UPLOADS

if TYPE_CHECKING:
    from collections.abc import Iterator
    from sqlite3 import Connection

    from reports.page.store.brought import Brought
    from reports.page.store.store import Store

Counts = dict[str, dict[str, Any]]
"""Of each kind of thing, how many were ``added``, and how many were there just the ``same``; of patterns also the names
of those of which something else is decided here than was brought, ``apart``."""


def restore(store: Store, data: bytes, project: str | None = None) -> Counts:
    """Add what a backup holds to what is there, or one project of it with all that goes with it.

    What is there stays as it is. What has been changed since the backup comes in beside it: a project or a thing on the
    shelf under another name, an answer or a pattern under another id, which the projects that come in name. A client
    who is there gets the sets of measurements that she has not. Restored twice, it adds nothing the second time.

    Raises
    ------
    BackupError, LedgerFileError
        If the file is no backup, is damaged, or was written by a newer version; or the ledger that is there cannot be
        used. Nothing has changed then.
    MissingError
        If it does not hold that project.
    """
    brought = brought_of(store.folder, data)
    return add(store, brought if project is None else of_project(brought, project))


def brought_of(folder: Path, data: bytes) -> Brought:
    """What a backup holds; it is read in a folder. BackupError if it is none."""
    with tempfile.TemporaryDirectory(dir=folder) as within:
        path = Path(within) / "restore.sqlite3"
        path.write_bytes(data)
        return read_backup(path)


def add(store: Store, brought: Brought, end: str = BESIDE, names: dict[str, str] | None = None) -> Counts:
    """Add what was brought, as `restore` does.

    Parameters
    ----------
    end
        Is put to the name of what comes in beside another.
    names
        Is told under which ids all of it is here.
    """
    ledger = Journal(store.folder).merge([JournalRow(**row) for row in brought.ledger])
    names = {} if names is None else names
    patterns = _add_files(store.folder, brought, names)
    try:
        with store.writing() as database:
            answers = _add(_Searches(database, names, end), brought.searches)
            clients = add_clients(database, brought.clients, names, end)
            return {
                "measurements": add_measured(database, brought.measured, names),
                "projects": _add(_Projects(database, names, end), brought.projects),
                "clients": clients,
                "shelf": _add(_Shelved(database, names, end), brought.shelf),
                "photos": _add(_Photos(database, names, end), brought.photos),
                "answers": answers,
                "patterns": patterns,
                "settings": _add_settings(database, brought.settings),
                "entries": ledger,
            }
    except IntegrityError as error:  # two rows of one id, which no backup has
        raise BackupError(f"this file cannot be restored: {error}: choose one that 'back up' wrote") from error


def _add_files(folder: Path, brought: Brought, names: dict[str, str]) -> dict[str, Any]:
    """Write the files that are not there; of patterns, one that is there with another content is given another name.

    What was decided of a pattern file that is there comes beside what is decided here: the names of these files.
    """
    counts: dict[str, Any] = {"added": 0, "same": 0, "apart": []}
    for file in brought.files:
        place, _, name = file["name"].partition("/")
        stem, dot, form = name.partition(".")
        for path in (folder / place / other for other in others(stem, dot + form)):
            is_there = path.exists()
            if is_there and place == UPLOADS and path.read_bytes() != file["data"]:
                continue
            if not is_there:
                write_bytes(path, file["data"])
            elif place == PATTERNS:
                counts["apart"] += keep_beside(path, file["data"].decode())
            if place == UPLOADS:
                names[name] = path.name
                counts["same" if is_there else "added"] += 1
            break
    return counts


class _Table:
    """How the rows of a table come in; `columns` are what makes two rows the same."""

    name: str
    columns: tuple[str, ...]

    def __init__(self, database: Connection, names: dict[str, str], end: str) -> None:
        self.database, self.names, self.end = database, names, end

    def is_free(self, row: StoredRow) -> bool:
        """Whether a row may come in where no other has its id."""
        return True

    def as_here(self, row: StoredRow) -> StoredRow:
        """A row that names what came in under other names by these."""
        return row

    def variants(self, row: StoredRow) -> Iterator[StoredRow]:
        """The row, and what it may come in as where another is in its place."""
        for number, own in enumerate(others(row["id"])):
            name = {"name": beside(row["name"], number, self.end)} if number and "name" in row else {}
            yield row | {"id": own} | name


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
            yield variant if variant["id"] == row["id"] else variant | {"name": beside(row["name"], 1, self.end)}


class _Shelved(_Table):
    name = "shelf"
    columns = ("kind", "name", "data")

    def is_free(self, row: StoredRow) -> bool:
        taken = "SELECT 1 FROM shelf WHERE kind = ? AND name = ?"
        return not self.database.execute(taken, (row["kind"], row["name"])).fetchone()


class _Photos(_Table):
    name = "photos"
    columns = ("kind", "owner", "title", "file")

    def as_here(self, row: StoredRow) -> StoredRow:
        return row | {"owner": self.names.get(row["owner"], row["owner"])}


def _add(table: _Table, rows: list[StoredRow]) -> dict[str, int]:
    """Insert the rows that are not there."""
    counts = {"added": 0, "same": 0}
    for row in map(table.as_here, rows):
        for variant in table.variants(row):
            there = table.database.execute(
                f"SELECT {', '.join(table.columns)} FROM {table.name} WHERE id = ?", (variant["id"],)
            ).fetchone()
            if there is None and not table.is_free(variant):
                continue
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
