"""All saved work as one file: projects, clients, answers, settings, the ledger, and the files beside the database."""

from __future__ import annotations

import sqlite3
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

from reports.ledger.journal import COLUMNS, Journal
from reports.page.work_folder import MARKERS, UPLOADS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from reports.page.store.store import Store

FILES = "CREATE TABLE IF NOT EXISTS files (name TEXT PRIMARY KEY, data BLOB NOT NULL)"
"""What a backup has besides the tables of the database: files by their place in the folder of saved work."""


LEDGER_ROWS = f"CREATE TABLE IF NOT EXISTS ledger (number INTEGER PRIMARY KEY, {', '.join(COLUMNS)})"
"""The entries of the ledger in a backup, in the order of entering."""


def backup(store: Store) -> bytes:
    """All saved work as a SQLite database.

    Raises
    ------
    LedgerFileError
        If the ledger cannot be read: a backup without it would look whole.
    """
    entries = Journal(store.folder).rows()
    with tempfile.TemporaryDirectory(dir=store.folder) as folder:
        path = Path(folder) / "backup.sqlite3"
        store.copy_to(path)
        database = sqlite3.connect(path, isolation_level=None)
        try:
            database.execute("PRAGMA journal_mode = DELETE")
            database.execute(FILES)
            database.execute("BEGIN")
            database.executemany("INSERT OR REPLACE INTO files VALUES (?, ?)", _files(store))
            database.execute(LEDGER_ROWS)
            marks = ", ".join("?" * len(COLUMNS))
            database.executemany(f"INSERT INTO ledger ({', '.join(COLUMNS)}) VALUES ({marks})", entries)
            database.execute("COMMIT")
            database.execute("VACUUM")
        finally:
            database.close()
        return path.read_bytes()


def _files(store: Store) -> Iterator[tuple[str, bytes]]:
    """The files that answers and projects are made again from, by their place in the folder."""
    uploads = [path.name for path in (store.folder / UPLOADS).glob("*.json")]
    markers = [f"marker-{key}.json" for key in store.markers_used()]
    for place, names in ((UPLOADS, uploads), (MARKERS, markers)):
        for name in sorted(names):
            path = store.folder / place / name
            if path.is_file():
                yield f"{place}/{name}", path.read_bytes()
