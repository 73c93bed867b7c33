"""The journal that the ledger is kept in: one SQLite file, to which entries are only ever added.

The page and any number of commands may write to it at once. Each waits for the others for a while. An entry is checked
and added in one transaction, with a rollback journal: all of it is in the one file once that has ended, whatever kills
the program or the machine. A write-ahead log would leave parts of it in a second file, which a copy would miss.
"""

from __future__ import annotations

import hashlib
import json
import secrets
import sqlite3
from contextlib import contextmanager
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING, NamedTuple, cast, get_args

from reports.errors import LedgerFileError
from reports.ledger.entry import Entry, LedgerKind, read_data

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence
    from pathlib import Path

LEDGER = "ledger.sqlite3"
"""The file's name, in the folder of saved work."""

APPLICATION = 0x656C6C64
"""What SQLite calls an application id: marks the file as a ledger of ours."""

MIGRATIONS = (
    """
    CREATE TABLE entries (
        number INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, day TEXT NOT NULL, made TEXT NOT NULL, kind TEXT NOT NULL,
        told TEXT NOT NULL, corrects TEXT NOT NULL, seal TEXT NOT NULL
    );
    CREATE TRIGGER kept BEFORE UPDATE ON entries BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;
    CREATE TRIGGER held BEFORE DELETE ON entries BEGIN SELECT RAISE(ABORT, 'entries are never deleted'); END;
    """,
)
"""What makes each version of the file out of the one before; never changed, only added to."""

PATIENCE = 10.0
"""Seconds to wait for another program that is writing."""

IN_USE = (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)
"""What SQLite says where another program holds the file; the other bits of a code tell how."""

COLUMNS = ("id", "day", "made", "kind", "told", "corrects", "seal")


class JournalRow(NamedTuple):
    """An entry as it lies in the file; `seal` is a sum over all the rest, by which damage is seen."""

    id: str
    day: str
    made: str
    kind: str
    told: str
    corrects: str
    seal: str

    @classmethod
    def of(cls, kind: str, told: dict[str, object], day: date, corrects: str = "") -> JournalRow:
        """A new one, made now."""
        text = json.dumps(told, ensure_ascii=False, separators=(",", ":"))
        now = datetime.now(UTC).isoformat(timespec="milliseconds")
        row = cls(secrets.token_hex(8), day.isoformat(), now, kind, text, corrects, "")
        return row._replace(seal=row.summed())

    def summed(self) -> str:
        """The sum over all but the seal."""
        return hashlib.sha256("\0".join(self[:-1]).encode()).hexdigest()

    def entry(self, number: int) -> Entry:
        """The entry; ValueError if it is damaged, or not one that this version knows."""
        if self.seal != self.summed() or self.kind not in get_args(LedgerKind):
            raise ValueError(f"entry {number} is not as it was written")
        kind, told = cast("LedgerKind", self.kind), json.loads(self.told)
        day = date.fromisoformat(self.day)
        return Entry(number, self.id, day, self.made, kind, told, read_data(kind, told), self.corrects)


class Journal:
    """The journal of a folder. The file is made with the first entry; each call opens it and lets go of it.

    Parameters
    ----------
    folder
        Made with the first entry, for this user alone.
    patience
        Seconds to wait for another program that is writing.
    """

    def __init__(self, folder: Path, patience: float = PATIENCE) -> None:
        self.folder, self.path, self._patience = folder, folder / LEDGER, patience

    def entries(self) -> list[Entry]:
        """All entries, in the order of entering; LedgerFileError if the file cannot be used."""
        if not self.path.exists():
            return []
        with self._opened() as database:
            return self._entries(database)

    def rows(self) -> list[JournalRow]:
        """The same as they lie in the file."""
        if not self.path.exists():
            return []
        with self._opened() as database:
            self._entries(database)
            return _rows(database)

    def add(self, make: Callable[[Sequence[Entry]], JournalRow]) -> Entry:
        """Add an entry: `make` is given all there are, while nobody else writes, and may refuse; the entry."""
        with self._writing() as database:
            entries = self._entries(database)
            row = make(entries)
            _insert(database, row)
            return row.entry(len(entries) + 1)

    def merge(self, rows: Sequence[JournalRow]) -> dict[str, int]:
        """Add the entries that are not here; how many were ``added``, and how many were the ``same``."""
        if not rows:
            return {"added": 0, "same": 0}
        with self._writing() as database:
            there = {row.id for row in _rows(database)}
            new = {row.id: row for row in rows if row.id not in there}
            for row in new.values():
                _insert(database, row)
            return {"added": len(new), "same": len(rows) - len(new)}

    @contextmanager
    def _writing(self) -> Iterator[sqlite3.Connection]:
        try:
            self.folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        except OSError as error:
            raise LedgerFileError(f"cannot use {self.folder}: {_why(error)}: choose another with --folder") from error
        with self._opened() as database:
            database.execute("BEGIN IMMEDIATE")
            try:
                if _version(database) < len(MIGRATIONS):
                    self.path.chmod(0o600)
                    _migrate(database)
                yield database
                database.execute("COMMIT")
            finally:
                if database.in_transaction:
                    database.execute("ROLLBACK")

    @contextmanager
    def _opened(self) -> Iterator[sqlite3.Connection]:
        """The file, looked over; what is wrong with it is one line."""
        try:
            database = sqlite3.connect(self.path, timeout=self._patience, isolation_level=None)
        except sqlite3.Error as error:
            raise LedgerFileError(f"cannot use {self.path}: {error}: choose another folder with --folder") from error
        try:
            database.execute("PRAGMA synchronous = EXTRA")  # a commit is on the disk before it is told
            database.execute("PRAGMA trusted_schema = OFF")
            _look_over(database)
            yield database
        except (sqlite3.Error, OSError) as error:
            if isinstance(error, LedgerFileError):
                raise
            raise LedgerFileError(f"cannot use {self.path}: {_why(error)}") from error
        except _UnusableError as error:
            raise LedgerFileError(f"cannot use {self.path}: {error}") from error
        finally:
            database.close()

    def _entries(self, database: sqlite3.Connection) -> list[Entry]:
        rows = _rows(database)
        try:
            return [row.entry(number) for number, row in enumerate(rows, 1)]
        except (ValueError, TypeError, RecursionError) as error:
            raise _UnusableError(f"it is damaged: {_first_line(error)}: {RESTORE}") from error


class _UnusableError(Exception):
    """A ledger that cannot be used, and what to do."""


RESTORE = "move it away, and restore a backup on the page"


def _look_over(database: sqlite3.Connection) -> None:
    (application,) = database.execute("PRAGMA application_id").fetchone()
    version = _version(database)
    is_empty = not database.execute("SELECT 1 FROM sqlite_master LIMIT 1").fetchall()
    if application != APPLICATION and not (is_empty and version == 0):
        raise _UnusableError("it is not a ledger of ellwand: choose another folder with --folder")
    if version > len(MIGRATIONS):
        known = f"this one reads up to {len(MIGRATIONS)}"
        raise _UnusableError(f"it has version {version}, written by a newer ellwand; {known}: update ellwand")
    if database.execute("PRAGMA quick_check(1)").fetchone() != ("ok",):
        raise _UnusableError(f"it is damaged: {RESTORE}")


def _version(database: sqlite3.Connection) -> int:
    (version,) = database.execute("PRAGMA user_version").fetchone()
    return int(version)


def _migrate(database: sqlite3.Connection) -> None:
    """Bring the file up to the newest version, within the transaction."""
    for script in MIGRATIONS[_version(database) :]:
        statement = ""
        for line in script.splitlines():
            statement += f"{line}\n"
            if sqlite3.complete_statement(statement):
                database.execute(statement)
                statement = ""
    database.execute(f"PRAGMA application_id = {APPLICATION}")
    database.execute(f"PRAGMA user_version = {len(MIGRATIONS)}")


def _rows(database: sqlite3.Connection) -> list[JournalRow]:
    """All rows; without a gap in their numbers, as none is ever deleted."""
    if not _version(database):
        return []
    found = database.execute(f"SELECT number, {', '.join(COLUMNS)} FROM entries ORDER BY number").fetchall()
    if [row[0] for row in found] != list(range(1, len(found) + 1)):
        raise _UnusableError(f"it is damaged: entries are missing: {RESTORE}")
    if not all(isinstance(value, str) for row in found for value in row[1:]):
        raise _UnusableError(f"it is damaged: an entry is not text: {RESTORE}")
    return [JournalRow(*row[1:]) for row in found]


def _insert(database: sqlite3.Connection, row: JournalRow) -> None:
    marks = ", ".join("?" * len(COLUMNS))
    database.execute(f"INSERT INTO entries ({', '.join(COLUMNS)}) VALUES ({marks})", row)


def _why(error: sqlite3.Error | OSError) -> str:
    if isinstance(error, OSError):
        return error.strerror.lower() if error.strerror else str(error)
    if isinstance(error, sqlite3.OperationalError):
        code = getattr(error, "sqlite_errorcode", 0)
        if code & 0xFF in IN_USE:
            return "another program is writing to it: try again"
        return f"{error}: nothing was entered"
    return f"it is damaged: {error}: {RESTORE}"


def _first_line(error: Exception) -> str:
    return str(error).partition("\n")[0]
