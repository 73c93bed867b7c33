"""All projects as one file, and back: nothing that is there is ever overwritten."""

from __future__ import annotations

import json
import secrets
import sqlite3
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any

from reports.page.errors import BackupError, StoreError
from reports.page.store import PROJECT, migrate

if TYPE_CHECKING:
    from reports.page.store import Store

PATIENCE = 10.0
"""Seconds that reading a backup may take."""

LONGEST_NAME, LARGEST_PROJECT = 200, 4_000_000
"""Letters of a project's name, and of its data as it is kept: more than any body that is taken can hold."""


def backup(store: Store) -> bytes:
    """All projects as a SQLite database."""
    with tempfile.TemporaryDirectory(dir=store.folder) as folder:
        path = Path(folder) / "backup.sqlite3"
        store.copy_to(path)
        database = sqlite3.connect(path, isolation_level=None)
        try:
            database.execute("PRAGMA journal_mode = DELETE")
            database.execute("DELETE FROM searches")
            database.execute("VACUUM")
        finally:
            database.close()
        return path.read_bytes()


def restore(store: Store, data: bytes) -> dict[str, int]:
    """Add the projects of a backup; how many were added, and how many were there already just the same.

    A project that has been changed since comes in beside the one that is there, under another name.

    Raises
    ------
    BackupError
        If the file is no backup, is damaged, or was written by a newer version. Nothing has changed then.
    """
    with tempfile.TemporaryDirectory(dir=store.folder) as folder:
        path = Path(folder) / "restore.sqlite3"
        path.write_bytes(data)
        try:
            projects = _read(path)
        except (sqlite3.Error, StoreError, ValueError, OverflowError, RecursionError) as error:
            raise BackupError(f"this file cannot be restored: {error}: choose one that 'back up' wrote") from error
    added = 0
    with store.writing() as database:
        for project in projects:
            there = database.execute("SELECT name, data FROM projects WHERE id = ?", (project["id"],)).fetchone()
            if there == (project["name"], project["data"]):
                continue
            if there:
                copy = f"{project['name'][: LONGEST_NAME - 14]} (from backup)"
                if database.execute(
                    "SELECT 1 FROM projects WHERE name = ? AND data = ?", (copy, project["data"])
                ).fetchone():
                    continue
                project |= {"id": secrets.token_hex(8), "name": copy}
            database.execute("INSERT INTO projects VALUES (?, ?, ?, ?, ?)", [project[key] for key in PROJECT])
            added += 1
    return {"added": added, "same": len(projects) - added}


def _read(path: Path) -> list[dict[str, Any]]:
    """The projects of a file that anyone may have made: nothing in it is run, each value is looked at."""
    database = sqlite3.connect(path, isolation_level=None)
    end = time.monotonic() + PATIENCE
    database.set_progress_handler(lambda: time.monotonic() > end, 10_000)
    try:
        database.execute("PRAGMA trusted_schema = OFF")
        database.execute("PRAGMA cell_size_check = ON")
        rows = database.execute("SELECT type, name FROM sqlite_master").fetchall()
        held = [(kind, name) for kind, name in rows if not name.startswith("sqlite_autoindex")]
        if strange := [name for kind, name in held if kind != "table" or name not in ("projects", "searches")]:
            raise BackupError(f"it holds {strange[0]!r}, which no backup does")
        if not held:
            raise BackupError("it is empty")
        if database.execute("PRAGMA quick_check(1)").fetchone() != ("ok",):
            raise BackupError("it is damaged")
        migrate(database)
        return [_checked(row) for row in database.execute(f"SELECT {', '.join(PROJECT)} FROM projects")]
    finally:
        database.close()


def _checked(row: tuple[Any, ...]) -> dict[str, Any]:
    """A project of a backup, if it is one."""
    project = dict(zip(PROJECT, row, strict=True))
    if [type(value) for value in row] != [str, str, str, int, str] or project["version"] < 1:
        raise BackupError("a project in it is damaged")
    if not 0 < len(project["name"]) <= LONGEST_NAME or not 0 < len(project["id"]) <= 40 or len(project["changed"]) > 40:
        raise BackupError("a project in it has a name that is too long")
    data = project["data"]
    if len(data) > LARGEST_PROJECT or not isinstance(json.loads(data, parse_constant=_refuse), dict):
        raise BackupError("a project in it is damaged, or too large")
    return project


def _refuse(constant: str) -> None:
    raise BackupError(f"a project in it holds {constant}, which is no number")
