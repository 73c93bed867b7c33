"""Saved work: nothing is lost, whether by two tabs, a kill, an older or a foreign file."""

from __future__ import annotations

import json
import sqlite3
import subprocess
import sys
from typing import TYPE_CHECKING, Any

import pytest
from pytest import MonkeyPatch

from reports.errors import MissingError
from reports.page.errors import ChangedError, StoreError
from reports.page.store.migrations import APPLICATION, MIGRATIONS
from reports.page.store.store import FILE, MOST_SEARCHES, Store

if TYPE_CHECKING:
    from pathlib import Path

KILLED = """
import os, signal, sys
from pathlib import Path
from reports.page.store.store import Store
store = Store(Path(sys.argv[1]))
store.add_project("first", {"bust": "37 in"})
with store.writing() as database:
    database.execute("INSERT INTO projects VALUES ('half', 'half done', '{}', 1, '')")
    os.kill(os.getpid(), signal.SIGKILL)
"""


def search(number: int, state: str = "done") -> dict[str, Any]:
    """A search as the queue keeps it."""
    asked = {"id": str(number), "kind": "buy", "payload": {"job": {}}, "state": state}
    return asked | {"seconds": 1.5, "result": {"best": number}, "error": None}


def test_projects(store: Store) -> None:
    """A project is saved, listed without its data, read whole, saved again, and deleted."""
    saved = store.add_project("Jacket, grün", {"body": {"bust": "37 in"}, "empty": None})
    assert saved["version"] == 1
    (line,) = store.projects()
    assert (line["name"], line["id"], "data" in line) == ("Jacket, grün", saved["id"], False)
    assert store.save_project(saved["id"], 1, "Coat", {"a": 1}) == {"id": saved["id"], "version": 2}
    assert store.project(saved["id"])["data"] == {"a": 1}
    store.drop_project(saved["id"])
    store.drop_project(saved["id"])
    with pytest.raises(MissingError, match="project does not exist"):
        store.project(saved["id"])


def test_two_tabs(store: Store) -> None:
    """Of two tabs that read the same version, the second to save is told, and given what is there now."""
    saved = store.add_project("a", {})
    store.save_project(saved["id"], 1, "by the first", {"mine": 1})
    with pytest.raises(ChangedError) as told:
        store.save_project(saved["id"], 1, "by the second", {"mine": 2})
    assert (told.value.current["name"], told.value.current["version"]) == ("by the first", 2)
    assert store.project(saved["id"])["data"] == {"mine": 1}


def test_killed(tmp_path: Path) -> None:
    """After a kill in the middle of a save, what was saved before is there, and the half is not (SQLite's promise)."""
    ended = subprocess.run([sys.executable, "-c", KILLED, tmp_path], timeout=60, check=False)
    assert ended.returncode == -9
    store = Store(tmp_path)
    assert [line["name"] for line in store.projects()] == ["first"]
    store.close()


def test_one_server_a_folder(store: Store, tmp_path: Path) -> None:
    """A second server on the same folder says what to do."""
    with pytest.raises(StoreError, match=r"another ellwand is using it: .*--folder"):
        Store(tmp_path)


def test_only_for_its_user(store: Store, tmp_path: Path) -> None:
    """No other user of the machine can read it."""
    assert (tmp_path / FILE).stat().st_mode & 0o077 == 0


def test_migration(tmp_path: Path) -> None:
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


def test_migration_whole_or_not(tmp_path: Path, monkeypatch: MonkeyPatch) -> None:
    """A migration that fails leaves the database at the version before."""
    Store(tmp_path).close()
    monkeypatch.setattr(
        "reports.page.store.migrations.MIGRATIONS", (*MIGRATIONS, "CREATE TABLE more (a); INSERT INTO none VALUES (1);")
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
        ("CREATE TABLE notes (a);", "is not a store of ellwand"),
        (None, "not a database"),
    ],
)
def test_other_files(tmp_path: Path, script: str | None, said: str) -> None:
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


def test_no_folder(tmp_path: Path) -> None:
    """A folder that cannot be made is said."""
    (tmp_path / "file").touch()
    with pytest.raises(StoreError, match=r"cannot use .*file/work: not a directory: choose .* --folder"):
        Store(tmp_path / "file" / "work")


def test_whole_or_not(store: Store) -> None:
    """A change that fails half way leaves nothing behind, and the next one is saved."""
    with pytest.raises(ZeroDivisionError), store.writing() as database:
        database.execute("INSERT INTO settings VALUES ('units', 'in')")
        1 / 0  # noqa: B018
    assert store.settings() == {}
    store.keep_settings({"units": "cm"})
    assert store.settings() == {"units": "cm"}


def test_full_disk(store: Store) -> None:
    """What a full disk does not take is told in one line, and is saved once there is room (SQLite's own limit here)."""
    saved = store.add_project("first", {})
    pages = store._database.execute("PRAGMA page_count").fetchone()[0]
    store._database.execute(f"PRAGMA max_page_count = {pages}")
    with pytest.raises(StoreError, match=r"disk is full: this change is not saved; make room"):
        store.save_project(saved["id"], 1, "second", {"long": "x" * 100_000})
    assert store.project(saved["id"])["name"] == "first"
    store._database.execute("PRAGMA max_page_count = 100000")
    assert store.save_project(saved["id"], 1, "second", {"long": "x" * 100_000})["version"] == 2


def test_searches(store: Store) -> None:
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


def test_kept_is_never_dropped(store: Store) -> None:
    """However many searches come after, the answers of a project and those kept beside them stay, and their words."""
    for number in range(4):
        store.keep_search(search(number))
    data = {"answers": {"run": {"search": "0"}}, "kept": [{"search": "1", "title": "1 yd of canvas"}]}
    store.add_project("a", data)
    for number in range(10, MOST_SEARCHES + 10):
        store.keep_search(search(number))
    assert [store.search(kept)["result"]["best"] for kept in ("0", "1")] == [0, 1]
    for dropped in ("2", "3"):
        with pytest.raises(MissingError):
            store.search(dropped)
    assert (store.is_kept("0"), store.is_kept("1")) == (False, True)


@pytest.mark.parametrize("state", ["stopped", "failed"])
def test_stopped_do_not_count(store: Store, state: str) -> None:
    """Any number of searches that were stopped or failed drives out none that was done; of them as many are kept."""
    store.keep_search(search(0))
    for number in range(1, MOST_SEARCHES + 2):
        store.keep_search(search(number, state))
    assert store.search("0")["result"] == {"best": 0}
    with pytest.raises(MissingError):
        store.search("1")


def test_clients(store: Store) -> None:
    """Clients are kept by name, the last measurements of each, and forgotten."""
    store.keep_client("Zoé", {"bust": "37 in"})
    store.keep_client("ann", {"bust": "90 cm"})
    store.keep_client("Zoé", {"bust": "38 in"})
    assert [(one["name"], one["body"]) for one in store.clients()] == [
        ("ann", {"bust": "90 cm"}),
        ("Zoé", {"bust": "38 in"}),
    ]
    store.drop_client(store.clients()[0]["id"])
    assert [one["name"] for one in store.clients()] == ["Zoé"]


def test_settings(store: Store) -> None:
    """A setting is kept in place of the one before; the others stay."""
    store.keep_settings({"units": "cm", "theme": "dark"})
    store.keep_settings({"units": "in"})
    assert store.settings() == {"units": "in", "theme": "dark"}


def test_hidden_clients_come_out(tmp_path: Path) -> None:
    """Clients kept among the projects of the second version, restored ones too, are clients in the third."""
    old = sqlite3.connect(tmp_path / FILE)
    old.executescript(
        f"{MIGRATIONS[0]} {MIGRATIONS[1]} PRAGMA application_id = {APPLICATION}; PRAGMA user_version = 2;"
    )
    ann, bea = ({"name": name, "body": {"bust": bust}} for name, bust in (("Ann", "37 in"), ("Bea", "40 in")))
    kept = {"~clients": [ann, bea], "~clients (from backup)": [ann, bea | {"body": {"bust": "41 in"}}], "Coat": []}
    for number, (name, clients) in enumerate(kept.items()):
        row = (str(number), name, json.dumps({"schema": 1, "clients": clients}), 1, "2026-01-01")
        old.execute("INSERT INTO projects VALUES (?, ?, ?, ?, ?)", row)
    old.commit()
    old.close()
    store = Store(tmp_path)
    assert [line["name"] for line in store.projects()] == ["Coat"]
    assert [(one["name"], one["body"]["bust"]) for one in store.clients()] == [
        ("Ann", "37 in"),
        ("Bea", "40 in"),
        ("Bea (from backup)", "41 in"),
    ]
    store.close()
