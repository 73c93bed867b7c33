"""Saved work: projects and finished searches in one SQLite database, whole after any kill."""

from __future__ import annotations

import json
import secrets
import sqlite3
import threading
from contextlib import contextmanager
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any

from reports.errors import MissingError
from reports.page.errors import ChangedError, StoreError

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
    # Clients were kept among the projects, under a name that was not shown; a backup brought them back beside it.
    """
    CREATE TABLE clients (
        id TEXT PRIMARY KEY, name TEXT NOT NULL UNIQUE, body TEXT NOT NULL, changed TEXT NOT NULL
    );
    CREATE TABLE settings (name TEXT PRIMARY KEY, value TEXT NOT NULL);
    CREATE TEMPORARY TABLE hidden AS
        SELECT json_extract(one.value, '$.name') AS name, json_extract(one.value, '$.body') AS body, changed,
            projects.name <> '~clients' AS restored
        FROM projects, json_each(projects.data, '$.clients') AS one
        WHERE (projects.name = '~clients' OR projects.name LIKE '~clients (from backup)')
            AND json_type(one.value, '$.name') = 'text' AND json_type(one.value, '$.body') = 'object';
    INSERT OR IGNORE INTO clients
        SELECT lower(hex(randomblob(8))), name, body, changed FROM hidden ORDER BY restored;
    INSERT OR IGNORE INTO clients
        SELECT lower(hex(randomblob(8))), name || ' (from backup)', body, changed FROM hidden
        WHERE NOT EXISTS (SELECT 1 FROM clients WHERE clients.name = hidden.name AND clients.body = hidden.body);
    DROP TABLE hidden;
    DELETE FROM projects WHERE name = '~clients' OR name LIKE '~clients (from backup)';
    """,
)
"""What makes each version of the database out of the one before; never changed, only added to."""

MOST_SEARCHES = 200
"""Searches kept that no project holds on to, of those done and of those stopped or failed; the oldest go."""

HELD = "SELECT DISTINCT one.value FROM projects, json_tree(projects.data) AS one WHERE one.key = 'search'"
"""The searches that a project holds on to: its answers and those kept beside them. They are never dropped."""

KEPT = "SELECT one.value FROM projects, json_each(projects.data, '$.kept') AS of, json_each(of.value) AS one"
"""What is said of each answer that was kept in a project."""

SPARE = f"""
    SELECT id FROM (
        SELECT id, row_number() OVER (PARTITION BY state = 'done' ORDER BY made DESC, rowid DESC) AS place
        FROM searches WHERE state IN ('done', 'stopped', 'failed') AND id NOT IN ({HELD})
    ) WHERE place > ?
"""
"""The searches beyond those that are kept."""

SETTINGS = {"units": ("in", "cm"), "theme": ("auto", "light", "dark")}
"""What a person may prefer, and what of."""

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
            raise StoreError(f"cannot use {folder}: {_why(error)} choose another folder with --folder") from error
        try:
            self.path.chmod(0o600)
            # Exclusive: a second server on the same folder would take the first one's searches for lost.
            for pragma in ("locking_mode = EXCLUSIVE", "journal_mode = WAL", "synchronous = FULL"):
                self._database.execute(f"PRAGMA {pragma}")
            migrate(self._database)
        except (OSError, sqlite3.Error, StoreError) as error:
            self._database.close()
            raise StoreError(f"cannot use {self.path}: {_why(error)} choose another folder with --folder") from error

    def close(self) -> None:
        """Write everything to the one file, and let go of it."""
        with self._lock:
            self._database.close()

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """A transaction, which happens whole or not at all; StoreError if the disk does not take it."""
        with self._lock:
            try:
                self._database.execute("BEGIN IMMEDIATE")
                yield self._database
                self._database.execute("COMMIT")
            except sqlite3.OperationalError as error:
                why = f"{error}: this change is not saved; make room there, then try again"
                raise StoreError(f"cannot write {self.path}: {why}") from error
            finally:
                if self._database.in_transaction:
                    self._database.execute("ROLLBACK")

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
            raise MissingError("this project does not exist: it may have been deleted elsewhere")
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
            raise MissingError("this search does not exist: it may be too old; start it again")
        found = dict(zip(SEARCH, rows[0], strict=True))
        return found | {key: found[key] and json.loads(found[key]) for key in ("payload", "result")}

    def keep_search(self, search: dict[str, Any]) -> None:
        """Keep a search, in place of what was kept of it before; the oldest that no project holds go."""
        values = [search[key] for key in SEARCH]
        for column in (2, 5):
            values[column] = None if values[column] is None else _text(values[column])
        known = ", ".join(f"{key} = excluded.{key}" for key in SEARCH[3:])
        with self.writing() as database:
            database.execute(
                f"INSERT INTO searches VALUES (?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (id) DO UPDATE SET {known}",
                (*values, _now()),
            )
            database.execute(f"DELETE FROM searches WHERE id IN ({SPARE})", (MOST_SEARCHES,))

    def is_kept(self, search: str) -> bool:
        """Whether a project keeps it beside its answers."""
        return bool(self._rows(f"{KEPT} WHERE one.key = 'search' AND one.value = ? LIMIT 1", search))

    def markers_used(self) -> set[str]:
        """Keys of the markers that the answers of searches are made again from."""
        rows = self._rows(
            "SELECT one.value FROM searches, json_each(searches.result, '$.markers') AS one"
            " WHERE kind <> 'buy' AND result IS NOT NULL"
        )
        return {key for (key,) in rows}

    def clients(self) -> list[dict[str, Any]]:
        """The clients with their measurements, by name."""
        rows = self._rows("SELECT id, name, body FROM clients ORDER BY name COLLATE NOCASE, id")
        return [{"id": client, "name": name, "body": json.loads(body)} for client, name, body in rows]

    def keep_client(self, name: str, body: dict[str, Any]) -> None:
        """Keep a client's measurements, in place of those kept under the same name."""
        with self.writing() as database:
            database.execute(
                "INSERT INTO clients VALUES (?, ?, ?, ?)"
                " ON CONFLICT (name) DO UPDATE SET body = excluded.body, changed = excluded.changed",
                (secrets.token_hex(8), name, _text(body), _now()),
            )

    def drop_client(self, client: str) -> None:
        """Forget a client."""
        with self.writing() as database:
            database.execute("DELETE FROM clients WHERE id = ?", (client,))

    def settings(self) -> dict[str, str]:
        """What a person prefers, by name."""
        return dict(self._rows("SELECT name, value FROM settings ORDER BY name"))

    def keep_settings(self, settings: dict[str, str]) -> None:
        """Keep some settings; the others stay."""
        with self.writing() as database:
            database.executemany("INSERT OR REPLACE INTO settings VALUES (?, ?)", list(settings.items()))

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
        raise StoreError("it is not a store of ellwand")
    if version > len(MIGRATIONS):
        raise StoreError(
            f"it has version {version}, written by a newer ellwand; this one reads up to {len(MIGRATIONS)}"
        )
    for number, script in enumerate(MIGRATIONS[version:], version + 1):
        mark = f"PRAGMA application_id = {APPLICATION}; PRAGMA user_version = {number};"
        try:
            database.executescript(f"BEGIN IMMEDIATE; {script} {mark} COMMIT;")
        except sqlite3.Error:
            if database.in_transaction:
                database.execute("ROLLBACK")
            raise


IN_USE = (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)
"""What the database says where another program holds it; the other bits of a code tell how."""


def _text(value: Any) -> str:
    return json.dumps(value, allow_nan=False, separators=(",", ":"))


def _why(error: Exception) -> str:
    if isinstance(error, sqlite3.OperationalError) and error.sqlite_errorcode & 0xFF in IN_USE:
        return "another ellwand is using it: use that one, or"
    return f"{error.strerror.lower() if isinstance(error, OSError) and error.strerror else error}:"


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="milliseconds")
