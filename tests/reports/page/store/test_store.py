"""Saved work: nothing is lost, whether by two tabs, a kill, an older or a foreign file."""

from __future__ import annotations

import json
import os
import sqlite3
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from pytest import MonkeyPatch

from reports.errors import MissingError
from reports.output import write_bytes
from reports.page.errors import ChangedError, StoreError, TakenError
from reports.page.store.migrations import APPLICATION, MIGRATIONS
from reports.page.store.store import FILE, MOST_SEARCHES, Store

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


def test_bodies_over_time(store: Store) -> None:
    """Each set of measurements is kept with its day; those of now are of the latest day, however late one is entered.

    The same set kept twice on a day is one; a name alone is none; a name that another has is refused.
    """
    store.keep_client("Ann", {})
    store.keep_client("Ann", {"bust": "37 in"}, day="2026-03-01", note="in a coat")
    store.keep_client("Ann", {"bust": "38 in", "bust_fuller": "1/2 in"}, day="2026-05-01")
    store.keep_client("Ann", {"bust": "36 in"}, day="2025-01-01")
    store.keep_client("Ann", {"bust": "37 in"}, day="2026-03-01")
    (ann,) = store.clients()
    assert ann["body"]["bust"] == "38 in"
    assert [(one["day"], one["body"]["bust"], one["note"]) for one in store.measured(ann["id"])] == [
        ("2026-05-01", "38 in", ""),
        ("2026-03-01", "37 in", "in a coat"),
        ("2025-01-01", "36 in", ""),
    ]
    store.keep_client("Bea", {"bust": "40 in"})
    with pytest.raises(TakenError, match="'Bea' already"):
        store.rename_client(ann["id"], "Bea")
    store.rename_client(ann["id"], "אן 🧵")
    assert [one["name"] for one in store.clients()] == ["Bea", "אן 🧵"]
    with pytest.raises(MissingError):
        store.rename_client("x", "Cy")


def test_the_third_version(tmp_path: Path) -> None:
    """A database of the third version, as it was before there were sets, keeps all; each client has her first set."""
    old = sqlite3.connect(tmp_path / FILE)
    old.executescript("".join(MIGRATIONS[:3]))
    old.executescript(f"PRAGMA application_id = {APPLICATION}; PRAGMA user_version = 3;")
    old.execute("INSERT INTO clients VALUES ('c1', 'Ann', '{\"bust\": \"37 in\"}', '2026-05-04T10:00:00.000+00:00')")
    old.execute("INSERT INTO projects VALUES ('p', 'Coat', '{\"whom\": \"Ann\"}', 7, '2026-01-01')")
    old.execute("INSERT INTO settings VALUES ('units', 'cm')")
    old.execute("INSERT INTO searches VALUES ('1', 'buy', '{}', 'done', 1.5, '{}', NULL, '2026')")
    old.commit()
    old.close()
    store = Store(tmp_path)
    assert store.clients() == [{"id": "c1", "name": "Ann", "body": {"bust": "37 in"}}]
    assert [(one["day"], one["body"]) for one in store.measured("c1")] == [("2026-05-04", {"bust": "37 in"})]
    assert store.project("p")["version"] == 7 and store.settings() == {"units": "cm"}
    assert store.search("1")["state"] == "done"
    store.close()


LIMITED = """
import resource, sys
from pathlib import Path
from reports.errors import ReportError
from reports.page.store.backup import backup
from reports.page.store.copies import Copies
from reports.page.store.photos import Photos
from reports.page.store.store import Store
from tests.make.photo import picture
store = Store(Path(sys.argv[1]))
project = store.add_project("Coat", {"note": "x" * 30_000})["id"]
resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))
told = []
for write in (lambda: store.save_project(project, 1, "late", {"note": "y" * 30_000}), lambda: backup(store),
              lambda: Photos(store).add("project", project, "", picture(size=(900, 900)))):
    try:
        write()
        told.append("written")
    except ReportError as error:
        told.append(str(error))
copies = Copies(store)
assert not copies.make_if_due()
print(*told, copies.fault, sep="\\n")
"""


def test_no_room_for_files(tmp_path: Path) -> None:
    """Where no file may grow beyond 1 kB, each write is refused in a line, and all that was there is there.

    The limit is the system's, RLIMIT_FSIZE: writes beyond it fail as on a full disk, for database and files alike.
    """
    ran = subprocess.run(
        [sys.executable, "-c", LIMITED, tmp_path], capture_output=True, text=True, timeout=60, check=True
    )
    lines = ran.stdout.splitlines()
    assert len(lines) == 4 and "written" not in lines, lines
    assert "this change is not saved" in lines[0] and "not made" in lines[1] and "not made" in lines[3]
    store = Store(tmp_path)
    (one,) = store.projects()
    assert (one["name"], one["version"]) == ("Coat", 1) and store.project(one["id"])["data"]["note"] == "x" * 30_000
    assert not list((tmp_path / "copies").iterdir()) and not list((tmp_path / "photos").iterdir())
    store.close()


def test_on_the_disk_first(tmp_path: Path, monkeypatch: MonkeyPatch) -> None:
    """A file of saved work is on the disk before it takes its name, and its folder after; SQLite writes through (FULL).

    ``synchronous`` 2 is FULL (sqlite.org/pragma.html).
    """
    done: list[str] = []
    sync, replace = os.fsync, Path.replace

    def synced(opened: int) -> None:
        done.append("folder" if os.path.isdir(opened) else "file")
        sync(opened)

    def named(self: Path, target: Path) -> Path:
        done.append("named")
        return replace(self, target)

    monkeypatch.setattr(os, "fsync", synced)
    monkeypatch.setattr(Path, "replace", named)
    write_bytes(tmp_path / "photos" / "a.jpg", b"x")
    assert done == ["file", "named", "folder"]
    store = Store(tmp_path)
    assert store.rows("PRAGMA synchronous") == [(2,)] and store.rows("PRAGMA journal_mode") == [("wal",)]
    store.close()
