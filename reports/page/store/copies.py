"""Daily copies of all saved work: one of each of the last days with changes, and before those one of a week.

A copy is a folder: a backup without files, and beside it the files themselves under the names that they have in the
folder of saved work. These are links where the disk knows such, so that a photo that is in every copy takes room once.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import sqlite3
import tempfile
from contextlib import suppress
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from reports.errors import MissingError, ReportError
from reports.output import sync_folder
from reports.page.store.backup import file_names, write_archive
from reports.page.store.brought import PLACES, TABLES, check_row
from reports.page.store.one_project import of_project
from reports.page.store.restore import add, brought_of
from reports.page.work_folder import MARKERS, PHOTOS, UPLOADS

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from reports.page.store.brought import Brought
    from reports.page.store.restore import Counts
    from reports.page.store.store import Store

COPIES, ARCHIVE, MAKING = "copies", "archive.sqlite3", ".making-"
"""The folder of all copies, the database in each, and what the name of one that is being made begins with."""

LATEST = "latest"
"""The copy of the last hour: it is for a database that is damaged alone, and is no day's."""

DAYS, WEEKS = 7, 5
"""Copies kept: of so many days on which something had changed, and before those of so many weeks."""


class DayCopy(NamedTuple):
    """A copy, by the day on which it was made: how things stood when that day's work began.

    Parameters
    ----------
    at
        When in the day it was made, of the one of the last hour.
    """

    day: date
    folder: Path
    at: str = ""

    @property
    def archive(self) -> Path:
        """Its database."""
        return self.folder / ARCHIVE

    @property
    def files(self) -> set[str]:
        """The files in it, by their place."""
        places = (MARKERS, PHOTOS, UPLOADS)
        return {f"{place}/{path.name}" for place in places for path in (self.folder / place).glob("*.*")}

    def projects(self) -> list[dict[str, Any]]:
        """The projects in it, the last changed first; none where it cannot be read."""
        with suppress(sqlite3.Error):
            database = _read_only(self.archive)
            try:
                rows = database.execute("SELECT id, name, changed FROM projects ORDER BY changed DESC, id").fetchall()
            finally:
                database.close()
            return [dict(zip(("id", "name", "changed"), row, strict=True)) for row in rows]
        return []


def copies_in(folder: Path) -> list[DayCopy]:
    """The copies in a folder of saved work, the newest first."""
    found = []
    with suppress(OSError):
        for path in (folder / COPIES).iterdir():
            with suppress(ValueError):
                found.append(DayCopy(date.fromisoformat(path.name), path))
    return sorted((copy for copy in found if copy.archive.is_file()), reverse=True)


def newest_in(folder: Path) -> list[DayCopy]:
    """All copies, that of the last hour among them, the newest first."""
    copies, latest = copies_in(folder), folder / COPIES / LATEST
    with suppress(OSError):
        made = datetime.fromtimestamp((latest / ARCHIVE).stat().st_mtime)
        last = DayCopy(made.date(), latest, f"{made:%H:%M}")
        newer = [copy for copy in copies if copy.day > last.day]
        return [*newer, last, *(copy for copy in copies if copy.day <= last.day)]
    return copies


def kept(copies: Iterable[DayCopy]) -> set[DayCopy]:
    """Those of the last days, and before them the last one of each of the last weeks."""
    newest = sorted(copies, reverse=True)
    weeks: dict[tuple[int, int], DayCopy] = {}
    for copy in newest[DAYS:]:
        weeks.setdefault(copy.day.isocalendar()[:2], copy)
    return {*newest[:DAYS], *list(weeks.values())[:WEEKS]}


class Copies:
    """The copies of a store.

    Attributes
    ----------
    fault
        Why the last copy was not made; empty where it was.
    """

    def __init__(self, store: Store, today: Callable[[], date] = date.today) -> None:
        self._store, self._today, self.fault = store, today, ""
        self._home = store.folder / COPIES
        self._looked: date | None = None

    def listed(self) -> list[DayCopy]:
        """All there are, the newest first."""
        return copies_in(self._store.folder)

    def make_if_due(self) -> bool:
        """Make today's copy if there is none and something has changed; whether it was made. A fault is kept."""
        today = self._today()
        if self._looked == today:
            return False
        try:
            made = not (self._home / today.isoformat()).exists() and self._make(today.isoformat(), self.listed())
            for copy in set(self.listed()) - kept(self.listed()):
                shutil.rmtree(copy.folder, ignore_errors=True)
        except (OSError, sqlite3.Error, ReportError) as error:
            self.fault = f"today's copy was not made: {error}"
            return False
        self.fault, self._looked = "", today
        return made

    def make_latest(self) -> bool:
        """Make the copy of the last hour anew if something has changed since; whether it was made."""
        try:
            return self._make(LATEST, newest_in(self._store.folder))
        except (OSError, sqlite3.Error, ReportError) as error:
            self.fault = f"the copy of the last hour was not made: {error}"
            return False

    def _make(self, name: str, before: list[DayCopy]) -> bool:
        """Make a copy under a name if anything is not as in the last one before."""
        self._home.mkdir(mode=0o700, exist_ok=True)
        for left in self._home.glob(f"{MAKING}*"):
            shutil.rmtree(left, ignore_errors=True)
        making = Path(tempfile.mkdtemp(prefix=MAKING, dir=self._home))
        try:
            names = file_names(self._store)
            write_archive(self._store, making / ARCHIVE, ())
            last = next(iter(before), None)
            if last and set(names) == last.files and _sum(last.archive) == _sum(making / ARCHIVE):
                return False
            bring_files(self._store.folder, making, names)
            for folder in (making, *(path for path in making.iterdir() if path.is_dir())):
                sync_folder(folder)
            if (self._home / name).exists():
                (self._home / name).rename(making.with_name(f"{making.name}-before"))
            making.rename(self._home / name)
            sync_folder(self._home)
            shutil.rmtree(making.with_name(f"{making.name}-before"), ignore_errors=True)
        finally:
            shutil.rmtree(making, ignore_errors=True)
        return True

    def bring_back(self, day: str, project: str, names: dict[str, str] | None = None) -> Counts:
        """Bring one project back as it was on a day, beside the one that is there if that has changed.

        Parameters
        ----------
        names
            Is told under which ids what was brought is here.

        Raises
        ------
        MissingError, BackupError
            If there is no such copy, it does not hold the project, or it is damaged.
        """
        copy = next((one for one in self.listed() if one.day.isoformat() == day), None)
        if copy is None:
            raise MissingError("there is no copy of that day: choose another")
        brought = of_project(brought_from(copy, self._store.folder), project)
        return add(self._store, with_data(brought, copy), f" (as on {day})", names)


def brought_from(copy: DayCopy, folder: Path) -> Brought:
    """What a copy holds; of its files the names alone."""
    brought = brought_of(folder, copy.archive.read_bytes())
    files = [{"name": name, "data": b""} for name in sorted(copy.files) if PLACES.fullmatch(name)]
    return brought._replace(files=files)


def with_data(brought: Brought, copy: DayCopy) -> Brought:
    """The same with what is in the files; those that are damaged or gone are left out."""
    return brought._replace(files=list(_read(brought, copy)))


def _read(brought: Brought, copy: DayCopy) -> Iterator[dict[str, Any]]:
    for row in brought.files:
        with suppress(OSError, ValueError):
            whole = row | {"data": (copy.folder / row["name"]).read_bytes()}
            check_row("files", whole)
            yield whole


def bring_files(source: Path, target: Path, names: Iterable[str]) -> None:
    """Have files of one folder in another as well, where they are not there; linked where the disk knows such."""
    for name in names:
        path = target / name
        path.parent.mkdir(mode=0o700, exist_ok=True)
        if path.exists():
            continue
        try:
            os.link(source / name, path)
        except FileNotFoundError:  # deleted in the meantime
            continue
        except OSError:
            shutil.copyfile(source / name, path)


def _sum(archive: Path) -> str:
    """A sum over all rows of a copy's database."""
    total = hashlib.sha256()
    database = _read_only(archive)
    try:
        held = {name for (name,) in database.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
        for table in sorted(held & TABLES.keys()):
            total.update(table.encode())
            for row in database.execute(f"SELECT * FROM {table} ORDER BY rowid"):
                total.update(repr(row).encode())
    finally:
        database.close()
    return total.hexdigest()


def _read_only(archive: Path) -> sqlite3.Connection:
    return sqlite3.connect(f"{archive.absolute().as_uri()}?mode=ro&immutable=1", uri=True)
