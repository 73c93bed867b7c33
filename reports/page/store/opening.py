"""Opening a folder of saved work: where its database or its ledger is damaged, with the last copy that is sound."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import suppress
from datetime import datetime
from typing import TYPE_CHECKING

from reports.errors import LedgerFileError
from reports.ledger.journal import LEDGER, RESTORE, Journal, JournalRow
from reports.output import sync_folder, written_whole
from reports.page.errors import BackupError, DamagedError
from reports.page.store.copies import bring_files, newest_in
from reports.page.store.restore import brought_of
from reports.page.store.store import FILE, Store

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from reports.page.store.brought import Brought
    from reports.page.store.copies import DayCopy

SIDES = ("", "-wal", "-shm", "-journal")
"""What SQLite puts to the name of a database for the files beside it."""


def open_store(folder: Path) -> Store:
    """Open a folder of saved work; what was damaged is set aside, and what is said of it is in `said`.

    Raises
    ------
    StoreError
        If it cannot be used.
    DamagedError
        If it is damaged, and there is no copy that is sound.
    """
    store, said = _opened(folder)
    said += _ledger_mended(folder)
    store.said = " ".join(said)
    return store


def _opened(folder: Path) -> tuple[Store, list[str]]:
    path = folder / FILE
    try:
        if not (_is_empty(path) and newest_in(folder)):
            return Store(folder), []
        why = "it was empty"
    except DamagedError as error:
        why = str(error)
    for copy, _ in _sound(folder):
        aside = _set_aside(path)
        _put_back(copy, path)
        bring_files(copy.folder, folder, sorted(copy.files))
        kept = f"It is set aside as {aside}. " if aside else ""
        return Store(folder), [f"The notebook was damaged. {kept}{_opened_copy(copy, 'changed')}"]
    if _is_empty(path):
        return Store(folder), []
    raise DamagedError(f"{why}; there is no sound copy of it in {folder}")


def _is_empty(path: Path) -> bool:
    """Whether nothing is left of a database: neither in its file nor in the log beside it."""
    sizes = [beside.stat().st_size for end in SIDES[:2] if (beside := path.with_name(path.name + end)).exists()]
    return not any(sizes)


def _sound(folder: Path) -> Iterator[tuple[DayCopy, Brought]]:
    """The copies that can be read whole, the newest first."""
    for copy in newest_in(folder):
        with suppress(OSError, BackupError):
            yield copy, brought_of(folder, copy.archive.read_bytes())


def _set_aside(path: Path) -> str:
    """Give a damaged file, and those beside it, other names; what it is called now, empty if it was not there."""
    name = f"{path.name}.damaged-{datetime.now():%Y-%m-%d-%H%M%S-%f}"
    is_there = path.exists()
    for end in SIDES:
        beside = path.with_name(path.name + end)
        if beside.exists():
            beside.rename(path.with_name(name + end))
    sync_folder(path.parent)
    return name if is_there else ""


def _put_back(copy: DayCopy, path: Path) -> None:
    with written_whole(path, durable=True) as temporary:
        shutil.copyfile(copy.archive, temporary)
        database = sqlite3.connect(temporary, isolation_level=None)
        try:  # what a backup adds is no part of the database
            database.execute("DROP TABLE IF EXISTS files")
            database.execute("DROP TABLE IF EXISTS ledger")
        finally:
            database.close()


def _ledger_mended(folder: Path) -> list[str]:
    """Put the entries of the last sound copy in the place of a damaged ledger; what is said of it."""
    try:
        Journal(folder).rows()
    except LedgerFileError as error:
        if RESTORE not in str(error):
            return []
    else:
        return []
    for copy, brought in _sound(folder):
        aside = _set_aside(folder / LEDGER)
        Journal(folder).merge([JournalRow(**row) for row in brought.ledger])
        return [f"The ledger was damaged. It is set aside as {aside}. {_opened_copy(copy, 'entered')}"]
    return []


def _opened_copy(copy: DayCopy, done: str) -> str:
    """Which copy is open, and what is not in it."""
    day = f"{copy.day.day} {copy.day:%B %Y}"
    since = f"What was {done} after that" if copy.at else f"What was {done} on {day} or later"
    return f"The copy of {day}{copy.at and f', {copy.at},'} is open. {since} is not in it."
