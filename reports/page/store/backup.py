"""All saved work as one file: the notebook with its answers and settings, the ledger, patterns, markers and photos."""

from __future__ import annotations

import sqlite3
import tempfile
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from reports.ledger.journal import COLUMNS, Journal
from reports.page.errors import StoreError
from reports.page.work_folder import MARKERS, PATTERNS, PHOTOS, UPLOADS

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

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
    StoreError
        If there is no room to make it.
    """
    with tempfile.TemporaryDirectory(dir=store.folder) as folder:
        path = Path(folder) / "backup.sqlite3"
        write_archive(store, path, files_of(store))
        return path.read_bytes()


def write_archive(store: Store, path: Path, files: Iterable[tuple[str, bytes]]) -> None:
    """Write the database, the ledger and some files as one SQLite file; as `backup` raises."""
    entries = Journal(store.folder).rows()
    store.copy_to(path)
    database = sqlite3.connect(path, isolation_level=None)
    try:
        database.execute("PRAGMA journal_mode = DELETE")
        database.execute(FILES)
        database.execute("BEGIN")
        database.executemany("INSERT OR REPLACE INTO files VALUES (?, ?)", files)
        database.execute(LEDGER_ROWS)
        marks = ", ".join("?" * len(COLUMNS))
        database.executemany(f"INSERT INTO ledger ({', '.join(COLUMNS)}) VALUES ({marks})", entries)
        database.execute("COMMIT")
        database.execute("VACUUM")
    except sqlite3.OperationalError as error:
        raise StoreError(f"the copy was not made: {error}: make room in {store.folder}, then try again") from error
    finally:
        database.close()


def file_names(store: Store) -> list[str]:
    """The files that answers and projects are made again from, and the photos, by their place in the folder."""
    names = [f"{UPLOADS}/{path.name}" for path in (store.folder / UPLOADS).glob("*.json")]
    names += [f"{PATTERNS}/{path.name}" for path in (store.folder / PATTERNS).glob("*.json")]
    names += [f"{MARKERS}/marker-{key}.json" for key in store.markers_used()]
    names += [f"{PHOTOS}/{name}" for (name,) in store.rows("SELECT DISTINCT file FROM photos")]
    return sorted(name for name in names if (store.folder / name).is_file())


def files_of(store: Store) -> Iterator[tuple[str, bytes]]:
    """The same with what is in them."""
    for name in file_names(store):
        with suppress(FileNotFoundError):  # deleted in the meantime
            yield name, (store.folder / name).read_bytes()
