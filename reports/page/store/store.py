"""Saved work: projects and finished searches in one SQLite database, whole after any kill."""

from __future__ import annotations

import json
import secrets
import sqlite3
import threading
from contextlib import contextmanager, suppress
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING, Any

from reports.errors import MissingError
from reports.output import sync_folder
from reports.page.errors import ChangedError, DamagedError, StoreError, TakenError
from reports.page.store.migrations import migrate
from reports.page.work_folder import PHOTOS

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from pathlib import Path

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

MOST_NESTED = 200
"""Lists and objects within one another that are kept: a project has about ten, and SQLite reads 1000 (its manual)."""

MOST_VERSIONS = 2**53
"""Of one thing that is saved: numbers from here on, JavaScript rounds."""

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
        If it cannot be used: not writable, held by another server, or written by a newer version.
    DamagedError
        If it is damaged.

    Attributes
    ----------
    said
        What whoever opens the page must be told of this folder; empty where there is nothing.
    """

    def __init__(self, folder: Path) -> None:
        self.folder, self.path, self.said = folder, folder / FILE, ""
        self._lock = threading.Lock()
        try:
            folder.mkdir(parents=True, exist_ok=True, mode=0o700)
            self._database = sqlite3.connect(self.path, timeout=0.2, check_same_thread=False, isolation_level=None)
        except (OSError, sqlite3.Error) as error:
            raise StoreError(f"cannot use {folder}: {_why(error)} choose another folder with --folder") from error
        try:
            self.path.chmod(0o600)
            # Half of a sign that takes two is JSON, but no text: whoever brings it in shall not keep all else from us.
            self._database.text_factory = lambda held: held.decode("utf-8", "replace")
            # Exclusive: a second server on the same folder would take the first one's searches for lost.
            for pragma in ("locking_mode = EXCLUSIVE", "journal_mode = WAL", "synchronous = FULL"):
                self._database.execute(f"PRAGMA {pragma}")
            sync_folder(folder)  # SQLite does so for its journal, not for a database that it makes
            if self._database.execute("PRAGMA quick_check(1)").fetchone() != ("ok",):
                raise DamagedError("it is damaged")
            migrate(self._database)
        except (OSError, sqlite3.Error, StoreError) as error:
            self._database.close()
            kind = DamagedError if is_damage(error) else StoreError
            raise kind(f"cannot use {self.path}: {_why(error)} choose another folder with --folder") from error

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

    def rows(self, query: str, *values: Any) -> list[tuple[Any, ...]]:
        """What a query finds."""
        with self._lock:
            return self._database.execute(query, values).fetchall()

    def copy_to(self, path: Path) -> None:
        """Write the database as it is now to another file; StoreError if there is no room."""
        with self._lock:
            copy = sqlite3.connect(path)
            try:
                self._database.backup(copy)
            except sqlite3.OperationalError as error:
                raise StoreError(f"the copy was not made: {error}: make room in {self.folder}") from error
            finally:
                copy.close()

    def projects(self) -> list[dict[str, Any]]:
        """All projects without their data, the last changed first."""
        rows = self.rows("SELECT id, name, version, changed FROM projects ORDER BY changed DESC, id")
        return [dict(zip(("id", "name", "version", "changed"), row, strict=True)) for row in rows]

    def project(self, project: str) -> dict[str, Any]:
        """A project with its data; MissingError if there is none."""
        rows = self.rows(f"SELECT {', '.join(PROJECT)} FROM projects WHERE id = ?", project)
        if not rows:
            raise MissingError("this project does not exist: it may have been deleted elsewhere")
        found = dict(zip(PROJECT, rows[0], strict=True))
        return found | {"data": json.loads(found["data"])}

    def add_project(self, name: str, data: dict[str, Any]) -> dict[str, Any]:
        """Save a new project; its id and version."""
        project = secrets.token_hex(8)
        with self.writing() as database:
            database.execute("INSERT INTO projects VALUES (?, ?, ?, 1, ?)", (project, name, plain_text(data), stamp()))
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
            done = database.execute(change, (name, plain_text(data), stamp(), project, version)).rowcount
        if not done:
            raise ChangedError(self.project(project))
        return {"id": project, "version": version + 1}

    def drop_project(self, project: str) -> None:
        """Delete a project with its photos, if it is there."""
        with self.writing() as database:
            database.execute("DELETE FROM projects WHERE id = ?", (project,))
            files = _drop_photos(database, "project", project)
        self.drop_files(files)

    def search(self, search: str) -> dict[str, Any]:
        """A search as it was kept; MissingError if there is none."""
        rows = self.rows(f"SELECT {', '.join(SEARCH)} FROM searches WHERE id = ?", search)
        if not rows:
            raise MissingError("this search does not exist: it may be too old; start it again")
        found = dict(zip(SEARCH, rows[0], strict=True))
        return found | {key: found[key] and json.loads(found[key]) for key in ("payload", "result")}

    def keep_search(self, search: dict[str, Any]) -> None:
        """Keep a search, in place of what was kept of it before; the oldest that no project holds go."""
        values = [search[key] for key in SEARCH]
        for column in (2, 5):
            values[column] = None if values[column] is None else plain_text(values[column])
        known = ", ".join(f"{key} = excluded.{key}" for key in SEARCH[3:])
        with self.writing() as database:
            database.execute(
                f"INSERT INTO searches VALUES (?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (id) DO UPDATE SET {known}",
                (*values, stamp()),
            )
            database.execute(f"DELETE FROM searches WHERE id IN ({SPARE})", (MOST_SEARCHES,))

    def is_kept(self, search: str) -> bool:
        """Whether a project keeps it beside its answers."""
        return bool(self.rows(f"{KEPT} WHERE one.key = 'search' AND one.value = ? LIMIT 1", search))

    def markers_used(self) -> set[str]:
        """Keys of the markers that the answers of searches are made again from."""
        rows = self.rows(
            "SELECT one.value FROM searches, json_each(searches.result, '$.markers') AS one"
            " WHERE kind <> 'buy' AND result IS NOT NULL"
            " AND length(one.value) = 40 AND one.value NOT GLOB '*[^0-9a-f]*'"
        )
        return {key for (key,) in rows}

    def clients(self) -> list[dict[str, Any]]:
        """The clients with their measurements of now, by name."""
        rows = self.rows("SELECT id, name, body FROM clients ORDER BY name COLLATE NOCASE, id")
        return [{"id": client, "name": name, "body": json.loads(body)} for client, name, body in rows]

    def keep_client(self, name: str, body: dict[str, Any], *, day: str = "", note: str = "") -> None:
        """Keep measurements of a client as a dated set; they are those of now if none is of a later day.

        Parameters
        ----------
        day
            When she was measured, by default today.
        note
            A word on the set.
        """
        now, held = stamp(), plain_text(body)
        day = day or date.today().isoformat()
        with self.writing() as database:
            known = database.execute("SELECT id FROM clients WHERE name = ?", (name,)).fetchone()
            client = known[0] if known else secrets.token_hex(8)
            if not known:
                database.execute("INSERT INTO clients VALUES (?, ?, ?, ?)", (client, name, held, now))
            if not body:  # a name alone is no set
                return
            same = "SELECT id FROM measured WHERE client = ? AND day = ? AND body = ?"
            if (there := database.execute(same, (client, day, held)).fetchone()) is None:
                values = (secrets.token_hex(8), client, day, now, note, held)
                database.execute("INSERT INTO measured VALUES (?, ?, ?, ?, ?, ?)", values)
            elif note:
                database.execute("UPDATE measured SET note = ? WHERE id = ?", (note, there[0]))
            later = "SELECT 1 FROM measured WHERE client = ? AND day > ?"
            if not database.execute(later, (client, day)).fetchone():
                database.execute("UPDATE clients SET body = ?, changed = ? WHERE id = ?", (held, now, client))

    def measured(self, client: str) -> list[dict[str, Any]]:
        """All sets of measurements of a client, the latest first."""
        query = "SELECT id, day, note, body FROM measured WHERE client = ? ORDER BY day DESC, made DESC, id"
        return [
            {"id": id_, "day": day, "note": note, "body": json.loads(body)}
            for id_, day, note, body in self.rows(query, client)
        ]

    def rename_client(self, client: str, name: str) -> None:
        """Give a client another name; TakenError if another client has it, MissingError if there is no such client."""
        try:
            with self.writing() as database:
                change = "UPDATE clients SET name = ?, changed = ? WHERE id = ?"
                done = database.execute(change, (name, stamp(), client)).rowcount
        except sqlite3.IntegrityError as error:
            raise TakenError(f"there is a client '{name}' already: choose another name") from error
        if not done:
            raise MissingError("this client does not exist: she may have been deleted elsewhere")

    def drop_client(self, client: str) -> None:
        """Forget a client with all her measurements and photos."""
        with self.writing() as database:
            database.execute("DELETE FROM clients WHERE id = ?", (client,))
            database.execute("DELETE FROM measured WHERE client = ?", (client,))
            files = _drop_photos(database, "client", client)
        self.drop_files(files)

    def drop_files(self, names: Iterable[str]) -> None:
        """Remove those files of photos that nothing names any more; one that stays does no harm."""
        with self._lock, suppress(OSError, sqlite3.Error):
            for name in names:
                if not self._database.execute("SELECT 1 FROM photos WHERE file = ?", (name,)).fetchone():
                    (self.folder / PHOTOS / name).unlink(missing_ok=True)

    def settings(self) -> dict[str, str]:
        """What a person prefers, by name."""
        return dict(self.rows("SELECT name, value FROM settings ORDER BY name"))

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


def _drop_photos(database: sqlite3.Connection, kind: str, owner: str) -> list[str]:
    """Take out the photos of a project or a client; their files."""
    of = "kind = ? AND owner = ?"
    files = [name for (name,) in database.execute(f"SELECT DISTINCT file FROM photos WHERE {of}", (kind, owner))]
    database.execute(f"DELETE FROM photos WHERE {of}", (kind, owner))
    return files


DAMAGE = (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB)
"""What SQLite says of a database that is damaged."""


def is_damage(error: Exception) -> bool:
    """Whether an error says that the database itself is damaged."""
    return isinstance(error, DamagedError) or (
        isinstance(error, sqlite3.Error) and getattr(error, "sqlite_errorcode", 0) & 0xFF in DAMAGE
    )


IN_USE = (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)
"""What the database says where another program holds it; the other bits of a code tell how."""


def plain_text(value: Any) -> str:
    """JSON as it is kept."""
    return json.dumps(value, allow_nan=False, separators=(",", ":"))


def require_plain(value: Any) -> None:
    """ValueError for what Python reads as JSON, but others do not: NaN, Infinity, or very deep."""
    plain_text(value)
    within = [value]
    for _ in range(MOST_NESTED):
        held = [one.values() if isinstance(one, dict) else one for one in within if isinstance(one, dict | list)]
        if not held:
            return
        within = [part for one in held for part in one]
    raise ValueError(f"more than {MOST_NESTED} lists and objects within one another")


def _why(error: Exception) -> str:
    if isinstance(error, sqlite3.OperationalError) and error.sqlite_errorcode & 0xFF in IN_USE:
        return "another ellwand is using it: use that one, or"
    return f"{error.strerror.lower() if isinstance(error, OSError) and error.strerror else error}:"


def stamp() -> str:
    """When something is kept: now."""
    return datetime.now(UTC).isoformat(timespec="milliseconds")
