"""Saved work: projects and finished searches in one SQLite database, whole after any kill."""

from __future__ import annotations

import json
import secrets
import sqlite3
import threading
from contextlib import contextmanager
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any

from reports.page.errors import ChangedError, MissingError, StoreError

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

APPLICATION = 0x656C6C77
"""What SQLite calls an application id: marks the file as ours."""

MIGRATIONS = (
    """
    CREATE TABLE projects (
        id TEXT PRIMARY KEY, name TEXT NOT NULL, data TEXT NOT NULL, version INTEGER NOT NULL, changed TEXT NOT NULL
    );
    """,
    """
    CREATE TABLE searches (
        id TEXT PRIMARY KEY, kind TEXT NOT NULL, payload TEXT NOT NULL, state TEXT NOT NULL, seconds REAL NOT NULL,
        result TEXT, error TEXT, made TEXT NOT NULL
    );
    """,
)
"""What makes each version of the database out of the one before; never changed, only added to."""

MOST_SEARCHES = 200
"""Searches kept; beyond that, the oldest go."""

FILE = "ellwand.sqlite3"
SEARCH = ("id", "kind", "payload", "state", "seconds", "result", "error")
PROJECT = ("id", "name", "data", "version", "changed")


class Store:
    """The database of a folder, held by one server at a time; safe to use from many threads.

    Parameters
    ----------
    folder
        Made if it is not there, for this user alone.

    Raises
    ------
    StoreError
        If it cannot be used: not writable, held by another server, damaged, or written by a newer version.
    """

    def __init__(self, folder: Path) -> None:
        self.folder, self.path = folder, folder / FILE
        self._lock = threading.Lock()
        try:
            folder.mkdir(parents=True, exist_ok=True, mode=0o700)
            self._database = sqlite3.connect(self.path, timeout=0.2, check_same_thread=False, isolation_level=None)
        except (OSError, sqlite3.Error) as error:
            raise StoreError(f"cannot use {folder}: {error}: choose another folder with --folder") from error
        try:
            self.path.chmod(0o600)
            # Exclusive: a second server on the same folder would take the first one's searches for lost.
            for pragma in ("locking_mode = EXCLUSIVE", "journal_mode = WAL", "synchronous = FULL"):
                self._database.execute(f"PRAGMA {pragma}")
            migrate(self._database)
        except sqlite3.OperationalError as error:
            self._database.close()
            busy = "locked" in str(error)
            why = "another ellwand serves it: use that one," if busy else f"{error}:"
            raise StoreError(f"cannot use {self.path}: {why} or choose another folder with --folder") from error
        except (OSError, sqlite3.Error, StoreError) as error:
            self._database.close()
            raise StoreError(f"cannot use {self.path}: {error}: choose another folder with --folder") from error

    def close(self) -> None:
        """Write everything to the one file, and let go of it."""
        with self._lock:
            self._database.close()

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """A transaction, which happens whole or not at all."""
        with self._lock:
            self._database.execute("BEGIN IMMEDIATE")
            try:
                yield self._database
            except BaseException:
                self._database.execute("ROLLBACK")
                raise
            self._database.execute("COMMIT")

    def _rows(self, query: str, *values: Any) -> list[tuple[Any, ...]]:
        with self._lock:
            return self._database.execute(query, values).fetchall()

    def copy_to(self, path: Path) -> None:
        """Write the database as it is now to another file."""
        with self._lock:
            copy = sqlite3.connect(path)
            try:
                self._database.backup(copy)
            finally:
                copy.close()

    def projects(self) -> list[dict[str, Any]]:
        """All projects without their data, the last changed first."""
        rows = self._rows("SELECT id, name, version, changed FROM projects ORDER BY changed DESC, id")
        return [dict(zip(("id", "name", "version", "changed"), row, strict=True)) for row in rows]

    def project(self, project: str) -> dict[str, Any]:
        """A project with its data; MissingError if there is none."""
        rows = self._rows(f"SELECT {', '.join(PROJECT)} FROM projects WHERE id = ?", project)
        if not rows:
            raise MissingError("there is no such project: it may have been deleted elsewhere")
        found = dict(zip(PROJECT, rows[0], strict=True))
        return found | {"data": json.loads(found["data"])}

    def add_project(self, name: str, data: dict[str, Any]) -> dict[str, Any]:
        """Save a new project; its id and version."""
        project = secrets.token_hex(8)
        with self.writing() as database:
            database.execute("INSERT INTO projects VALUES (?, ?, ?, 1, ?)", (project, name, _text(data), _now()))
        return {"id": project, "version": 1}

    def save_project(self, project: str, version: int, name: str, data: dict[str, Any]) -> dict[str, Any]:
        """Save a project over the version it was read at; its id and new version.

        Raises
        ------
        MissingError, ChangedError
            If it is not there any more, or another version is.
        """
        change = (
            "UPDATE projects SET name = ?, data = ?, version = version + 1, changed = ? WHERE id = ? AND version = ?"
        )
        with self.writing() as database:
            done = database.execute(change, (name, _text(data), _now(), project, version)).rowcount
        if not done:
            raise ChangedError(self.project(project))
        return {"id": project, "version": version + 1}

    def drop_project(self, project: str) -> None:
        """Delete a project, if it is there."""
        with self.writing() as database:
            database.execute("DELETE FROM projects WHERE id = ?", (project,))

    def search(self, search: str) -> dict[str, Any]:
        """A search as it was kept; MissingError if there is none."""
        rows = self._rows(f"SELECT {', '.join(SEARCH)} FROM searches WHERE id = ?", search)
        if not rows:
            raise MissingError("there is no such search: it may be too long ago; start it again")
        found = dict(zip(SEARCH, rows[0], strict=True))
        return found | {key: found[key] and json.loads(found[key]) for key in ("payload", "result")}

    def keep_search(self, search: dict[str, Any]) -> None:
        """Keep a search, in place of what was kept of it before; the oldest go."""
        values = [search[key] for key in SEARCH]
        for column in (2, 5):
            values[column] = None if values[column] is None else _text(values[column])
        known = ", ".join(f"{key} = excluded.{key}" for key in SEARCH[3:])
        with self.writing() as database:
            database.execute(
                f"INSERT INTO searches VALUES (?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (id) DO UPDATE SET {known}",
                (*values, _now()),
            )
            oldest = "SELECT id FROM searches ORDER BY made DESC, rowid DESC LIMIT -1 OFFSET ?"
            database.execute(f"DELETE FROM searches WHERE id IN ({oldest})", (MOST_SEARCHES,))

    def drop_search(self, search: str) -> None:
        """Forget a search."""
        with self.writing() as database:
            database.execute("DELETE FROM searches WHERE id = ?", (search,))

    def end_lost_searches(self, error: str) -> None:
        """Say of each search that was waiting or running when its server ended that it failed, and why."""
        with self.writing() as database:
            database.execute(
                "UPDATE searches SET state = 'failed', error = ? WHERE state IN ('waiting', 'running')", (error,)
            )


def migrate(database: sqlite3.Connection) -> None:
    """Bring a database up to the newest version, one version a transaction; StoreError if it is not ours, or newer."""
    (version,) = database.execute("PRAGMA user_version").fetchone()
    (application,) = database.execute("PRAGMA application_id").fetchone()
    is_empty = not database.execute("SELECT 1 FROM sqlite_master LIMIT 1").fetchall()
    if application != APPLICATION and not (is_empty and version == 0):
        raise StoreError("it holds no work of ellwand")
    if version > len(MIGRATIONS):
        raise StoreError(
            f"it is of version {version}, written by a newer ellwand; this one reads up to {len(MIGRATIONS)}"
        )
    for number, script in enumerate(MIGRATIONS[version:], version + 1):
        mark = f"PRAGMA application_id = {APPLICATION}; PRAGMA user_version = {number};"
        try:
            database.executescript(f"BEGIN IMMEDIATE; {script} {mark} COMMIT;")
        except sqlite3.Error:
            if database.in_transaction:
                database.execute("ROLLBACK")
            raise


def _text(value: Any) -> str:
    return json.dumps(value, allow_nan=False, separators=(",", ":"))


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="milliseconds")
