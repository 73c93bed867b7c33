"""A damaged folder of saved work opens with its last sound copy, and says so; nothing is thrown away."""

from __future__ import annotations

import sqlite3
from datetime import date
from functools import partial
from typing import TYPE_CHECKING

import pytest

from reports.ledger.journal import LEDGER, Journal
from reports.page.errors import DamagedError, StoreError
from reports.page.store.copies import ARCHIVE, COPIES, Copies
from reports.page.store.migrations import MIGRATIONS
from reports.page.store.opening import open_store
from reports.page.store.photos import Photos
from reports.page.store.store import FILE
from tests.make.ledger import shelf
from tests.make.photo import picture

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with a project, a photo and a ledger, copied on two days; closed."""
    store = open_store(tmp_path)
    project = store.add_project("Coat", {"note": "x" * 50_000})["id"]
    Photos(store).add("project", project, "", picture())
    shelf(tmp_path)
    for day in (2, 3):
        assert Copies(store, partial(date, 2026, 3, day)).make_if_due()
        store.add_project(f"Since {day}", {})
    store.close()
    return tmp_path


def overwritten(path: Path) -> None:
    """Pages in the middle of a file lost."""
    data = path.read_bytes()
    path.write_bytes(data[:4096] + b"\xa5" * 8192 + data[12288:])


def cut_short(path: Path) -> None:
    """A file cut short."""
    path.write_bytes(path.read_bytes()[:5000])


def headless(path: Path) -> None:
    """A file whose first bytes are lost."""
    path.write_bytes(b"\0" * 100 + path.read_bytes()[100:])


DAMAGES = (overwritten, cut_short, headless, lambda path: path.write_bytes(b""), lambda path: path.unlink())


@pytest.mark.parametrize("damage", DAMAGES)
def test_the_last_copy_opens(folder: Path, damage: Callable[[Path], None]) -> None:
    """The copy is open with what was in it, photos that were lost too; what was damaged lies beside it; it is said."""
    damage(folder / FILE)
    was_there = (folder / FILE).exists()
    lost = next((folder / "photos").iterdir())
    lost.unlink()
    store = open_store(folder)
    assert sorted(one["name"] for one in store.projects()) == ["Coat", "Since 2"]
    assert "copy of 3 March 2026 is open" in store.said and "2026 or later is not in it" in store.said
    assert lost.exists()
    aside = list(folder.glob(f"{FILE}.damaged-*"))
    assert bool(aside) == was_there
    store.add_project("After", {})
    store.close()
    again = open_store(folder)
    assert again.said == "" and len(again.projects()) == 3
    again.close()


def test_a_damaged_copy_is_passed_over(folder: Path) -> None:
    """Where the last copy is damaged too, the one before it is opened; without any it is said, and nothing changes."""
    overwritten(folder / FILE)
    damaged = (folder / FILE).read_bytes()
    copies = sorted((folder / COPIES).iterdir())
    cut_short(copies[1] / ARCHIVE)
    store = open_store(folder)
    assert [one["name"] for one in store.projects()] == ["Coat"] and "2 March" in store.said
    store.close()
    (folder / FILE).write_bytes(damaged)
    cut_short(copies[0] / ARCHIVE)
    with pytest.raises(DamagedError, match="no sound copy"):
        open_store(folder)
    assert (folder / FILE).read_bytes() == damaged


def test_a_damaged_ledger(folder: Path) -> None:
    """Of a damaged ledger the entries of the last copy are put in its place, and that is said."""
    before = Journal(folder).rows()
    overwritten(folder / LEDGER)
    store = open_store(folder)
    assert Journal(folder).rows() == before
    assert "ledger was damaged" in store.said and list(folder.glob(f"{LEDGER}.damaged-*"))
    store.close()


def test_not_damaged(folder: Path) -> None:
    """What is newer, or in use, is no damage: nothing is set aside."""
    store = open_store(folder)
    with pytest.raises(StoreError, match="another ellwand"):
        open_store(folder)
    store.close()
    newer = sqlite3.connect(folder / FILE)
    newer.execute(f"PRAGMA user_version = {len(MIGRATIONS) + 1}")
    newer.close()
    with pytest.raises(StoreError, match="newer ellwand"):
        open_store(folder)
    assert not list(folder.glob("*.damaged-*"))


def test_the_copy_of_the_last_hour(folder: Path) -> None:
    """A copy of the last hour is newer than that of the day, and is opened first; it is none of the days."""
    store = open_store(folder)
    copies = Copies(store)
    assert copies.make_latest() and not copies.make_latest()
    assert len(copies.listed()) == 2
    store.add_project("Later", {})
    store.close()
    headless(folder / FILE)
    store = open_store(folder)
    assert sorted(one["name"] for one in store.projects()) == ["Coat", "Since 2", "Since 3"]
    assert "What was changed after that is not in it" in store.said
    store.close()
