"""What a backup brings, read out of a file that anyone may have made: nothing in it is run, each value is looked at."""

from __future__ import annotations

import json
import re
import sqlite3
import time
from datetime import date
from math import inf
from typing import TYPE_CHECKING, Annotated, Any, NamedTuple, get_args

from pydantic import Field

from pieces.exchange.decided.legend import legend_of
from reports.ledger.journal import COLUMNS, JournalRow
from reports.page.errors import BackupError, StoreError
from reports.page.search import State
from reports.page.store.beside import LONGEST_NAME
from reports.page.store.migrations import migrate
from reports.page.store.patterns import read_pattern
from reports.page.store.photos import LARGEST_PHOTO, PHOTO_OWNERS, is_kept_photo
from reports.page.store.shelf import SHELF_KINDS
from reports.page.store.store import MOST_VERSIONS, SETTINGS, require_plain
from reports.page.work_folder import PATTERNS, PHOTOS
from reports.questions import page_questions

if TYPE_CHECKING:
    from pathlib import Path

PATIENCE = 60.0
"""Seconds that reading a backup may take."""

LARGEST = 4_000_000
"""Letters of a project's data, a client's or a setting: more than any body that is taken can hold."""

SEEN = r"^[^\x00-\x1f\x7f-\x9f\u2028\u2029]+$"
"""Of a name: one line, without signs that command a terminal or end a text."""

ShownName = Annotated[str, Field(min_length=1, max_length=LONGEST_NAME, pattern=SEEN)]

Note = Annotated[str, Field(max_length=LONGEST_NAME, pattern=SEEN.replace("+", "*"))]
"""A line that may be empty."""

LARGEST_RESULT = 40_000_000
"""Letters of what a search was asked for and found."""

LARGEST_FILE = 65_000_000
"""Bytes of a file: that of several photos, written as text, is the largest."""

TABLES: dict[str, tuple[tuple[str, type | None], ...]] = {
    "projects": (("id", str), ("name", str), ("data", str), ("version", int), ("changed", str)),
    "searches": (
        *(("id", str), ("kind", str), ("payload", str), ("state", str), ("seconds", float)),
        *(("result", None), ("error", None), ("made", str)),
    ),
    "clients": (("id", str), ("name", str), ("body", str), ("changed", str)),
    "measured": (("id", str), ("client", str), ("day", str), ("made", str), ("note", str), ("body", str)),
    "shelf": (("id", str), ("kind", str), ("name", str), ("data", str), ("version", int), ("changed", str)),
    "photos": (
        *(("id", str), ("kind", str), ("owner", str), ("title", str), ("file", str), ("bytes", int), ("made", str)),
    ),
    "settings": (("name", str), ("value", str)),
    "files": (("name", str), ("data", bytes)),
    "ledger": tuple((name, str) for name in COLUMNS),
}
"""Tables of a backup, their columns, and what each holds; None: text, or nothing."""

BESIDE_DATABASE = {"files", "ledger"}
"""Those that no database of ours has: a backup adds them."""

DAY = re.compile(r"\d{4}-\d\d-\d\d")

PLACES = re.compile(r"(uploads|patterns)/[0-9a-f]{32}\.json|markers/marker-[0-9a-f]{40}\.json|photos/[0-9a-f]{32}\.jpg")
"""Where its files may go."""

StoredRow = dict[str, Any]


class Brought(NamedTuple):
    """The rows of a backup, a table each; of an older one, tables that it has not are empty."""

    projects: list[StoredRow]
    searches: list[StoredRow]
    clients: list[StoredRow]
    measured: list[StoredRow]
    shelf: list[StoredRow]
    photos: list[StoredRow]
    settings: list[StoredRow]
    files: list[StoredRow]
    ledger: list[StoredRow]


def read_backup(path: Path) -> Brought:
    """Read a backup; BackupError if it is none, is damaged, or was written by a newer version."""
    try:
        return _read(path)
    except (sqlite3.Error, StoreError, ValueError, OverflowError, RecursionError) as error:
        raise BackupError(f"this file cannot be restored: {error}: choose one that 'back up' wrote") from error


def _read(path: Path) -> Brought:
    _require_whole(path)
    database = sqlite3.connect(path, isolation_level=None)
    end = time.monotonic() + PATIENCE
    database.set_progress_handler(lambda: time.monotonic() > end, 10_000)
    try:
        database.execute("PRAGMA trusted_schema = OFF")
        database.execute("PRAGMA cell_size_check = ON")
        database.execute("PRAGMA ignore_check_constraints = ON")  # they may take for ever
        rows = database.execute("SELECT type, name FROM sqlite_master").fetchall()
        held = [(kind, name) for kind, name in rows if not name.startswith("sqlite_autoindex")]
        if strange := [name for kind, name in held if kind != "table" or name not in TABLES]:
            raise BackupError(f"it holds {strange[0]!r}, which is not part of a backup")
        if not held:
            raise BackupError("it is empty")
        if database.execute("PRAGMA quick_check(1)").fetchone() != ("ok",):
            raise BackupError("it is damaged")
        if made := [name for _, name in held if any(column[-1] for column in _columns(database, name))]:
            raise BackupError(f"{made[0]} in it has columns that are worked out, and may be of any length")
        migrate(database)
        there = {name for _, name in held} | (TABLES.keys() - BESIDE_DATABASE)
        return Brought(**{table: list(_rows(database, table)) if table in there else [] for table in TABLES})
    finally:
        database.close()


def _require_whole(path: Path) -> None:
    """As long as its head says: SQLite reads what was cut off as zeros, which may pass for text."""
    with path.open("rb") as file:
        head = file.read(100)
    told = int.from_bytes(head[16:18])
    page = 65536 if told == 1 else told  # as the format of SQLite's files has it
    if len(head) == 100 and path.stat().st_size < page * int.from_bytes(head[28:32]):
        raise BackupError("its end is cut off")


def _columns(database: sqlite3.Connection, table: str) -> list[tuple[Any, ...]]:
    """The columns of a table; the last value of each says whether it is hidden, or worked out of others."""
    return database.execute(f"PRAGMA table_xinfo({table})").fetchall()


def _rows(database: sqlite3.Connection, table: str) -> list[StoredRow]:
    columns = TABLES[table]
    found = []
    order = " ORDER BY number" if table == "ledger" else ""
    for values in database.execute(f"SELECT {', '.join(name for name, _ in columns)} FROM {table}{order}"):
        for (name, kind), value in zip(columns, values, strict=True):
            if (type(value) is not kind) if kind else not isinstance(value, str | None):
                raise BackupError(f"{table} in it are damaged, at {name}")
        row = {name: value for (name, _), value in zip(columns, values, strict=True)}
        check_row(table, row)
        found.append(row)
    return found


def check_row(table: str, row: StoredRow) -> None:
    """BackupError or ValueError if a row of a table is not what it should be."""
    _CHECKS[table](row)


def _check_project(row: StoredRow) -> None:
    if not _is_id(row["id"]) or not 0 < row["version"] < MOST_VERSIONS - 1 or len(row["changed"]) > 40:
        raise BackupError("a project in it is damaged")
    _check_named(row, "data")


def _check_named(row: StoredRow, column: str) -> None:
    if not 0 < len(row["name"]) <= LONGEST_NAME or not re.fullmatch(SEEN, row["name"]):
        raise BackupError("a name in it is too long, empty, or holds invisible characters")
    _check_object(row[column], LARGEST)


def _check_client(row: StoredRow) -> None:
    if not _is_id(row["id"]) or len(row["changed"]) > 40:
        raise BackupError("a client in it is damaged")
    _check_named(row, "body")


def _check_measured(row: StoredRow) -> None:
    if not _is_id(row["id"]) or not _is_id(row["client"]) or len(row["made"]) > 40 or not DAY.fullmatch(row["day"]):
        raise BackupError("measurements in it are damaged")
    date.fromisoformat(row["day"])  # ValueError of a day that no calendar has
    _check_note(row["note"])
    _check_object(row["body"], LARGEST)


def _check_shelved(row: StoredRow) -> None:
    known = _is_id(row["id"]) and row["kind"] in SHELF_KINDS
    if not known or not 0 < row["version"] < MOST_VERSIONS - 1 or len(row["changed"]) > 40:
        raise BackupError("a thing on the shelf in it is damaged")
    _check_named(row, "data")
    if row["kind"] == "legend":
        legend_of(json.loads(row["data"]), f"the legend '{row['name']}' in it")


def _check_photo(row: StoredRow) -> None:
    ids = _is_id(row["id"]) and _is_id(row["owner"])
    if not ids or row["kind"] not in PHOTO_OWNERS or not 0 <= row["bytes"] <= LARGEST_PHOTO or len(row["made"]) > 40:
        raise BackupError("a photo in it is damaged")
    if not PLACES.fullmatch(f"{PHOTOS}/{row['file']}"):
        raise BackupError("a photo in it names a file that is not a photo")
    _check_note(row["title"])


def _is_id(text: str) -> bool:
    return re.fullmatch(r"[\w-]{1,40}", text, re.ASCII) is not None


def _check_note(text: str) -> None:
    if len(text) > LONGEST_NAME or (text and not re.fullmatch(SEEN, text)):
        raise BackupError("a note in it is too long, or holds invisible characters")


def _check_search(row: StoredRow) -> None:
    if not re.fullmatch(r"[0-9a-f]{1,40}", row["id"]) or len(row["made"]) > 40 or not 0 <= row["seconds"] < inf:
        raise BackupError("a search in it is damaged")
    if row["kind"] not in page_questions() or row["state"] not in get_args(State) or len(row["error"] or "") > LARGEST:
        raise BackupError("a search in it has an unknown kind")
    _check_object(row["payload"], LARGEST)
    if row["result"] is not None:
        _check_object(row["result"], LARGEST_RESULT)


def _check_setting(row: StoredRow) -> None:
    if row["value"] not in SETTINGS.get(row["name"], ()):
        raise BackupError("it holds an unknown setting")


def _check_file(row: StoredRow) -> None:
    if not PLACES.fullmatch(row["name"]) or len(row["data"]) > LARGEST_FILE:
        raise BackupError("it holds a file that is not part of a backup")
    if row["name"].startswith(f"{PHOTOS}/"):
        if not is_kept_photo(row["name"].partition("/")[2], row["data"]):
            raise BackupError("a photo in it is damaged")
        return
    _check_object(row["data"].decode(), LARGEST_FILE)
    if row["name"].startswith(f"{PATTERNS}/"):
        pattern = read_pattern(row["data"].decode())
        if row["name"] != f"{PATTERNS}/{pattern.id}.json":
            raise BackupError("a pattern file in it has another's name")


def _check_entry(row: StoredRow) -> None:
    ids = [row["id"], *([row["corrects"]] if row["corrects"] else [])]
    if not all(re.fullmatch(r"[0-9a-f]{16}", one) for one in ids) or not re.fullmatch(
        r"[0-9T:.+-]{10,40}", row["made"]
    ):
        raise BackupError("an entry of the ledger in it is damaged")
    _check_object(row["told"], LARGEST)
    JournalRow(**row).entry(1)


def _check_object(text: str, largest: int) -> None:
    if len(text) > largest or not isinstance(value := json.loads(text), dict):
        raise BackupError("something in it is damaged, or too large")
    require_plain(value)


_CHECKS = {
    "projects": _check_project,
    "searches": _check_search,
    "clients": _check_client,
    "measured": _check_measured,
    "shelf": _check_shelved,
    "photos": _check_photo,
    "settings": _check_setting,
    "files": _check_file,
    "ledger": _check_entry,
}
