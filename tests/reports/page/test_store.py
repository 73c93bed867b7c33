"""Saved work: nothing is lost, whether by two tabs, a kill, an older or a foreign file."""

import sqlite3
import subprocess
import sys

import pytest

from reports.page.backup import backup, restore
from reports.page.errors import BackupError, ChangedError, MissingError, StoreError
from reports.page.store import APPLICATION, FILE, MIGRATIONS, MOST_SEARCHES, Store

KILLED = """
import os, signal, sys
from pathlib import Path
from reports.page.store import Store
store = Store(Path(sys.argv[1]))
store.add_project("first", {"bust": "37 in"})
with store.writing() as database:
    database.execute("INSERT INTO projects VALUES ('half', 'half done', '{}', 1, '')")
    os.kill(os.getpid(), signal.SIGKILL)
"""


@pytest.fixture
def store(tmp_path):
    """An empty store."""
    made = Store(tmp_path)
    yield made
    made.close()


def search(number, state="done"):
    """A search as the queue keeps it."""
    asked = {"id": str(number), "kind": "buy", "payload": {"job": {}}, "state": state}
    return asked | {"seconds": 1.5, "result": {"best": number}, "error": None}


def test_projects(store):
    """A project is saved, listed without its data, read whole, saved again, and deleted."""
    saved = store.add_project("Jacket, grün", {"body": {"bust": "37 in"}, "empty": None})
    assert saved["version"] == 1
    (line,) = store.projects()
    assert (line["name"], line["id"], "data" in line) == ("Jacket, grün", saved["id"], False)
    assert store.save_project(saved["id"], 1, "Coat", {"a": 1}) == {"id": saved["id"], "version": 2}
    assert store.project(saved["id"])["data"] == {"a": 1}
    store.drop_project(saved["id"])
    store.drop_project(saved["id"])
    with pytest.raises(MissingError, match="no such project"):
        store.project(saved["id"])


def test_two_tabs(store):
    """Of two tabs that read the same version, the second to save is told, and given what is there now."""
    saved = store.add_project("a", {})
    store.save_project(saved["id"], 1, "by the first", {"mine": 1})
    with pytest.raises(ChangedError) as told:
        store.save_project(saved["id"], 1, "by the second", {"mine": 2})
    assert (told.value.current["name"], told.value.current["version"]) == ("by the first", 2)
    assert store.project(saved["id"])["data"] == {"mine": 1}


def test_killed(tmp_path):
    """After a kill in the middle of a save, what was saved before is there, and the half is not (SQLite's promise)."""
    ended = subprocess.run([sys.executable, "-c", KILLED, tmp_path], timeout=60, check=False)
    assert ended.returncode == -9
    store = Store(tmp_path)
    assert [line["name"] for line in store.projects()] == ["first"]
    store.close()


def test_one_server_a_folder(store, tmp_path):
    """A second server on the same folder says what to do."""
    with pytest.raises(StoreError, match=r"another ellwand serves it: .*--folder"):
        Store(tmp_path)


def test_only_for_its_user(store, tmp_path):
    """No other user of the machine can read it."""
    assert (tmp_path / FILE).stat().st_mode & 0o077 == 0


def test_migration(tmp_path):
    """A database of the first version is brought up to the newest, with what is in it."""
    old = sqlite3.connect(tmp_path / FILE)
    old.executescript(f"{MIGRATIONS[0]} PRAGMA application_id = {APPLICATION}; PRAGMA user_version = 1;")
    old.execute("INSERT INTO projects VALUES ('p', 'old', '{\"a\": 1}', 7, '2026-01-01')")
    old.commit()
    old.close()
    store = Store(tmp_path)
    assert (store.project("p")["data"], store.project("p")["version"]) == ({"a": 1}, 7)
    store.keep_search(search(1))
    store.close()
    new = sqlite3.connect(tmp_path / FILE)
    assert new.execute("PRAGMA user_version").fetchone() == (len(MIGRATIONS),)
    assert new.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    new.close()


def test_migration_whole_or_not(tmp_path, monkeypatch):
    """A migration that fails leaves the database at the version before."""
    Store(tmp_path).close()
    monkeypatch.setattr(
        "reports.page.store.MIGRATIONS", (*MIGRATIONS, "CREATE TABLE more (a); INSERT INTO none VALUES (1);")
    )
    with pytest.raises(StoreError, match="none"):
        Store(tmp_path)
    monkeypatch.undo()
    store = Store(tmp_path)
    assert store.projects() == []
    store.close()


@pytest.mark.parametrize(
    ("script", "said"),
    [
        (f"PRAGMA application_id = {APPLICATION}; PRAGMA user_version = 99;", "newer ellwand"),
        ("CREATE TABLE notes (a);", "holds no work of ellwand"),
        (None, "not a database"),
    ],
)
def test_other_files(tmp_path, script, said):
    """A file that is newer, another program's or none at all is left as it is, and that is said."""
    path = tmp_path / FILE
    if script is None:
        path.write_bytes(b"not a database at all, but long enough to be looked at as if it were one" * 20)
    else:
        other = sqlite3.connect(path)
        other.executescript(script)
        other.close()
    with pytest.raises(StoreError, match=said):
        Store(tmp_path)


def test_no_folder(tmp_path):
    """A folder that cannot be made is said."""
    (tmp_path / "file").touch()
    with pytest.raises(StoreError, match=r"cannot use .*file.*--folder"):
        Store(tmp_path / "file" / "work")


def test_searches(store):
    """Searches are kept with their results, the oldest of very many are not; those cut off by a kill have failed."""
    store.keep_search(search(0, "running") | {"result": None})
    store.end_lost_searches("lost")
    assert (store.search("0")["state"], store.search("0")["error"]) == ("failed", "lost")
    store.keep_search(search(0))
    assert store.search("0") == search(0)
    for number in range(1, MOST_SEARCHES + 1):
        store.keep_search(search(number))
    with pytest.raises(MissingError):
        store.search("0")
    assert store.search("1")["result"] == {"best": 1}


def test_backup(store, tmp_path):
    """A backup is one sound SQLite file of all projects and no searches; it brings them back into an empty folder."""
    first = store.add_project("first", {"a": 1})
    store.add_project("second", {"b": "ü"})
    store.keep_search(search(1))
    data = backup(store)
    (tmp_path / "copy.sqlite3").write_bytes(data)
    copy = sqlite3.connect(tmp_path / "copy.sqlite3")
    assert copy.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    assert copy.execute("SELECT count(*) FROM searches").fetchone() == (0,)
    copy.close()
    empty = Store(tmp_path / "empty")
    assert restore(empty, data) == {"added": 2, "same": 0}
    assert restore(empty, data) == {"added": 0, "same": 2}
    assert empty.project(first["id"]) == store.project(first["id"])
    empty.close()


def test_restore_overwrites_nothing(store):
    """A project changed since the backup stays; the old one comes in beside it, once."""
    saved = store.add_project("a", {"a": 1})
    data = backup(store)
    store.save_project(saved["id"], 1, "a", {"a": 2})
    assert restore(store, data) == {"added": 1, "same": 0}
    assert restore(store, data) == {"added": 0, "same": 1}
    assert {line["name"] for line in store.projects()} == {"a", "a (from backup)"}
    assert store.project(saved["id"])["data"] == {"a": 2}


HOSTILE = (
    "CREATE VIEW extra AS SELECT 1;",
    "CREATE TRIGGER t AFTER INSERT ON projects BEGIN DELETE FROM projects; END;",
    "UPDATE projects SET data = '[1]';",
    "UPDATE projects SET data = '{\"a\": NaN}';",
    "UPDATE projects SET data = '{';",
    "UPDATE projects SET name = '';",
    "UPDATE projects SET name = x'00ff';",
    "UPDATE projects SET version = 0;",
    "UPDATE projects SET data = zeroblob(10);",
    "DROP TABLE projects;",
    "PRAGMA user_version = 99;",
    "PRAGMA application_id = 1;",
)


@pytest.mark.parametrize("script", HOSTILE)
def test_hostile_backup(store, tmp_path, script):
    """A backup that someone has changed is refused whole."""
    store.add_project("a", {"a": 1})
    path = tmp_path / "hostile.sqlite3"
    path.write_bytes(backup(store))
    database = sqlite3.connect(path)
    database.executescript(script)
    database.close()
    before = store.projects()
    with pytest.raises(BackupError, match="cannot be restored"):
        restore(store, path.read_bytes())
    assert store.projects() == before


def test_damaged_backup(store):
    """A backup cut short, with bytes changed, or that is none, is refused."""
    for number in range(40):
        store.add_project(f"project {number}", {"data": "x" * 500})
    data = backup(store)
    for damaged in (b"", b"PK\x03\x04", data[: len(data) // 2], data[:8192] + b"\xff" * 8192 + data[16384:]):
        with pytest.raises(BackupError):
            restore(store, damaged)
    assert len(store.projects()) == 40
