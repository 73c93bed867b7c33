"""A backup holds all, and brings it back: into an empty folder as it was, into a full one beside what is there."""

from __future__ import annotations

import json
import sqlite3
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from reports.errors import LedgerFileError
from reports.ledger.journal import LEDGER, Journal
from reports.ledger.record import record
from reports.ledger.standing import standing_of
from reports.page.errors import BackupError
from reports.page.notebook.notebook import notebook_of
from reports.page.store.backup import backup
from reports.page.store.photos import Photos
from reports.page.store.restore import restore
from reports.page.store.shelf import Shelf
from reports.page.store.store import FILE, Store
from tests.make.ledger import left, shelf
from tests.make.photo import picture

if TYPE_CHECKING:
    from collections.abc import Iterator

TABLES = ("projects", "searches", "clients", "measured", "shelf", "photos", "settings")
PATTERN, OTHER = f"{'a' * 32}.json", f"{'b' * 32}.json"
KEY = "c" * 40
RUN, KEPT, LOST = "1" * 32, "2" * 32, "3" * 32


def search(search: str, kind: str = "buy", state: str = "done", **result: list[Any]) -> dict[str, Any]:
    """A search as the queue keeps it."""
    asked = {"id": search, "kind": kind, "payload": {"job": {"pieces_file": PATTERN}}, "state": state}
    return asked | {"seconds": 1.5, "result": result or None, "error": None}


def filled(folder: Path) -> Store:
    """A folder with one of everything: a project with answers, a kept one and an order; a client; files; settings."""
    store = Store(folder)
    for place, name, held in (("uploads", PATTERN, {"pieces": [1]}), ("markers", f"marker-{KEY}.json", {"sum": "x"})):
        (folder / place).mkdir()
        (folder / place / name).write_text(json.dumps(held))
    store.keep_search(search(RUN, "run", tickets=[1], markers=[KEY]))
    store.keep_search(search(KEPT, markers=[{"placed": [[0, 0, 0, 1.5, 2]]}]))
    store.keep_search(search(LOST, state="stopped"))
    data = {
        "job": {"garment": "imported", "pieces_file": PATTERN},
        "answers": {"run": {"search": RUN, "order": {"sizes": "women"}}, "buy": {"search": KEPT}},
        "kept": [{"search": KEPT, "title": "1 yd of canvas, grün"}],
        "order": {"colours": [{"name": "rust"}]},
        "cut": {KEPT: {"0": [1, 2]}},
    }
    coat = store.add_project("Coat", data)["id"]
    store.keep_client("Ann", {"bust": "37 in"}, day="2026-03-01", note="in a coat")
    Shelf(store).add("cloth", "rust canvas", {"width": "60 in"})
    Photos(store).add("project", coat, "on the table", picture())
    Photos(store).add("client", store.clients()[0]["id"], "", picture("teal"))
    store.keep_settings({"units": "cm", "theme": "dark"})
    shelf(folder)
    return store


def everything(folder: Path) -> tuple[dict[str, set[Any]], dict[Path, bytes]]:
    """Every row of every table, and every file, of a folder of saved work."""
    database = sqlite3.connect(folder / FILE)
    known = {name for (name,) in database.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
    assert known == set(TABLES)
    rows = {table: set(database.execute(f"SELECT * FROM {table}")) for table in TABLES}
    database.close()
    files = {path.relative_to(folder): path.read_bytes() for path in Path(folder).rglob("*") if path.is_file()}
    rows["ledger"] = set(Journal(folder).rows())
    return rows, {path: data for path, data in files.items() if not path.name.startswith((FILE, LEDGER))}


def held(store: Store) -> tuple[tuple[dict[str, Any], dict[Path, bytes]], Store]:
    """The same of a store that is open."""
    store.close()
    found = everything(store.folder)
    return found, Store(store.folder)


@pytest.fixture
def full(tmp_path: Path) -> Iterator[tuple[Store, bytes, tuple[dict[str, Any], dict[Path, bytes]]]]:
    """A folder with one of everything, and its backup."""
    store = filled(tmp_path / "full")
    data = backup(store)
    before, store = held(store)
    yield store, data, before
    store.close()


def test_into_an_empty_folder(
    full: tuple[Store, bytes, tuple[dict[str, Any], dict[Path, bytes]]], tmp_path: Path
) -> None:
    """Brought back into an empty folder, every row of every table and every file is what it was, to the last byte."""
    _, data, before = full
    empty = Store(tmp_path / "empty")
    told = restore(empty, data)
    assert {kind: count["added"] for kind, count in told.items()} == {
        "measurements": 1,
        "projects": 1,
        "clients": 1,
        "shelf": 1,
        "photos": 2,
        "answers": 3,
        "patterns": 1,
        "settings": 2,
        "entries": 4,
    }
    after, empty = held(empty)
    assert after == before
    told = restore(empty, data)
    assert not any(count["added"] for count in told.values())
    again, empty = held(empty)
    assert again == before
    empty.close()


def test_into_the_same_folder(full: tuple[Store, bytes, tuple[dict[str, Any], dict[Path, bytes]]]) -> None:
    """Brought back where all of it still is, nothing comes twice."""
    store, data, before = full
    told = restore(store, data)
    assert not any(count["added"] for count in told.values())
    after, store = held(store)
    assert after == before
    store.close()


def test_into_a_folder_that_went_on(full: tuple[Store, bytes, tuple[dict[str, Any], dict[Path, bytes]]]) -> None:
    """What was changed since the backup stays to the last byte; what was in the backup stands beside it, once.

    The project that comes in names the answer and the pattern that came in with it, not those that were changed.
    """
    store, data, _ = full
    (project,) = store.projects()
    changed = store.project(project["id"])["data"] | {"note": "later"}
    store.save_project(project["id"], 1, "Coat", changed)
    store.keep_search(search(KEPT, markers=[{"placed": [[0, 0, 0, 99.0, 2]]}]))
    (store.folder / "uploads" / PATTERN).write_text('{"pieces": [2]}')
    store.keep_client("Ann", {"bust": "38 in"})
    store.keep_client("Bea", {"bust": "40 in"})
    store.keep_settings({"units": "in"})
    (rows, files), store = held(store)

    told = restore(store, data)
    assert [told[kind]["added"] for kind in ("projects", "clients", "measurements", "patterns")] == [1, 0, 0, 1]
    (rows_after, files_after), store = held(store)
    assert all(rows[table] <= rows_after[table] for table in TABLES)
    assert files.items() <= files_after.items()
    assert store.settings() == {"units": "in", "theme": "dark"}
    assert [(one["name"], one["body"]["bust"]) for one in store.clients()] == [
        ("Ann", "38 in"),
        ("Bea", "40 in"),
    ]
    assert [one["body"]["bust"] for one in store.measured(store.clients()[0]["id"])] == ["38 in", "37 in"]
    (copy,) = (line for line in store.projects() if line["name"] == "Coat (from backup)")
    came = store.project(copy["id"])["data"]
    answer = came["answers"]["buy"]["search"]
    assert answer == came["kept"][0]["search"] == next(iter(came["cut"])) != KEPT
    assert store.search(answer)["result"] == {"markers": [{"placed": [[0, 0, 0, 1.5, 2]]}]}
    pattern = came["job"]["pieces_file"]
    assert pattern == store.search(answer)["payload"]["job"]["pieces_file"] != PATTERN
    assert json.loads((store.folder / "uploads" / pattern).read_text()) == {"pieces": [1]}

    told = restore(store, data)
    assert not any(count["added"] for count in told.values())
    again, store = held(store)
    assert again == (rows_after, files_after)
    store.close()


def test_deleted_since(full: tuple[Store, bytes, tuple[dict[str, Any], dict[Path, bytes]]]) -> None:
    """What was deleted since the backup is there again as it was."""
    store, data, before = full
    store.drop_project(store.projects()[0]["id"])
    Shelf(store).drop(Shelf(store).all()[0]["id"])
    store.drop_client(store.clients()[0]["id"])
    store.drop_search(KEPT)
    (store.folder / "uploads" / PATTERN).unlink()
    assert Photos(store).all() == [] == list((store.folder / "photos").iterdir())
    restore(store, data)
    after, store = held(store)
    assert after == before
    store.close()


def test_a_search_that_ran(full: tuple[Store, bytes, tuple[dict[str, Any], dict[Path, bytes]]], tmp_path: Path) -> None:
    """A search that ran when the backup was made never ends elsewhere: it comes in as one that failed, and says so."""
    store, _, _ = full
    store.keep_search(search("f" * 32, state="running"))
    other = Store(tmp_path / "other")
    restore(other, backup(store))
    found = other.search("f" * 32)
    assert (found["state"], found["error"]) == (
        "failed",
        "the server ended before this search was done: start it again",
    )
    other.close()


def test_backup_is_one_sound_file(
    full: tuple[Store, bytes, tuple[dict[str, Any], dict[Path, bytes]]], tmp_path: Path
) -> None:
    """A backup is a SQLite file that SQLite itself finds sound, with all tables, and no journal beside it."""
    _, data, _ = full
    (tmp_path / "copy.sqlite3").write_bytes(data)
    copy = sqlite3.connect(tmp_path / "copy.sqlite3")
    assert copy.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    assert copy.execute("SELECT count(*) FROM searches").fetchone() == (3,)
    assert {name for (name,) in copy.execute("SELECT name FROM files")} == {
        f"uploads/{PATTERN}",
        f"markers/marker-{KEY}.json",
        *(f"photos/{path.name}" for path in (full[0].folder / "photos").iterdir()),
    }
    copy.close()


def test_backup_of_an_earlier_version(tmp_path: Path) -> None:
    """A backup of the second version, of projects alone, with clients hidden among them, comes in whole."""
    from reports.page.store.migrations import APPLICATION, MIGRATIONS

    path = tmp_path / "old.sqlite3"
    old = sqlite3.connect(path)
    old.executescript(
        f"{MIGRATIONS[0]} {MIGRATIONS[1]} PRAGMA application_id = {APPLICATION}; PRAGMA user_version = 2;"
    )
    clients = json.dumps({"clients": [{"name": "Ann", "body": {"bust": "37 in"}}]})
    for row in (("a", "Coat", "{}", 1, "2026"), ("b", "~clients", clients, 3, "2026")):
        old.execute("INSERT INTO projects VALUES (?, ?, ?, ?, ?)", row)
    old.commit()
    old.close()
    store = Store(tmp_path / "work")
    told = restore(store, path.read_bytes())
    assert (told["projects"]["added"], told["clients"]["added"]) == (1, 1)
    assert [one["name"] for one in store.clients()] == ["Ann"]
    assert [line["name"] for line in store.projects()] == ["Coat"]
    store.close()


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
    "UPDATE searches SET kind = 'shell';",
    "UPDATE searches SET state = 'odd';",
    "UPDATE searches SET id = '../up' WHERE rowid = 1;",
    "UPDATE searches SET payload = '[]';",
    "UPDATE searches SET result = '{\"a\": Infinity}';",
    "UPDATE searches SET seconds = 'long';",
    "UPDATE searches SET seconds = 9e999;",
    "UPDATE projects SET data = '{\"a\": 1e999}';",
    "UPDATE clients SET body = '{\"a\": ' || replace(hex(zeroblob(300)), '00', '[') || '1'"
    " || replace(hex(zeroblob(300)), '00', ']') || '}';",
    "UPDATE projects SET id = '../up';",
    "UPDATE projects SET version = 9223372036854775807;",
    "UPDATE measured SET day = '2026-02-30';",
    "UPDATE photos SET bytes = 9223372036854775807;",
    "DROP TABLE settings; CREATE TABLE settings (name, value AS (replace(hex(zeroblob(9)), '00', 'cm')));",
    "UPDATE clients SET body = '1';",
    "UPDATE clients SET name = '';",
    "UPDATE measured SET day = 'today';",
    "UPDATE measured SET body = '1';",
    "UPDATE shelf SET kind = 'shell';",
    "UPDATE photos SET file = '../ellwand.sqlite3' WHERE rowid = 1;",
    "UPDATE photos SET kind = 'settings';",
    "UPDATE files SET name = 'photos/../' || substr(name, 11) WHERE name LIKE 'photos/%';",
    "UPDATE files SET name = 'photos/%2e%2e%2f.jpg' WHERE rowid = 3;",
    "UPDATE files SET data = CAST('<html><script>1</script>' AS BLOB) WHERE name LIKE 'photos/%';",
    "UPDATE settings SET value = 'furlongs';",
    "UPDATE files SET name = 'uploads/../../evil.json' WHERE rowid = 1;",
    "UPDATE files SET name = '../ellwand.sqlite3' WHERE rowid = 1;",
    "UPDATE files SET data = 'text';",
    "UPDATE files SET data = zeroblob(9);",
    "CREATE TABLE more (a);",
    "DROP TABLE projects;",
    "PRAGMA user_version = 99;",
    "PRAGMA application_id = 1;",
)


@pytest.mark.parametrize("script", HOSTILE)
def test_hostile_backup(
    full: tuple[Store, bytes, tuple[dict[str, Any], dict[Path, bytes]]], tmp_path: Path, script: str
) -> None:
    """A backup that someone has changed is refused whole; no file of it is written."""
    _, data, _ = full
    path = tmp_path / "hostile.sqlite3"
    path.write_bytes(data)
    database = sqlite3.connect(path)
    database.executescript(script)
    database.close()
    empty = Store(tmp_path / "empty")
    with pytest.raises(BackupError, match="cannot be restored"):
        restore(empty, path.read_bytes())
    assert [path.name for path in empty.folder.iterdir() if not path.name.startswith(FILE)] == []
    assert (empty.projects(), empty.clients(), empty.settings()) == ([], [], {})
    empty.close()


def test_answer_with_half_a_sign(tmp_path: Path) -> None:
    """Half of a sign that takes two, in an answer that came in, keeps nobody from the notebook or a backup."""
    store = Store(tmp_path / "work")
    store.keep_search(search(RUN, "run", markers=["\ud800", 5, "d" * 300, KEY]))
    assert store.markers_used() == {KEY}
    restore(store, backup(store))
    notebook_of(store)
    store.close()


def test_damaged_backup(tmp_path: Path) -> None:
    """A backup cut short, with bytes changed, or that is none, is refused."""
    store = Store(tmp_path / "work")
    for number in range(40):
        store.add_project(f"project {number}", {"data": "x" * 500})
    data = backup(store)
    for damaged in (
        b"",
        b"PK\x03\x04",
        data[: len(data) // 2],
        data[:-100],
        data[:8192] + b"\xff" * 8192 + data[16384:],
    ):
        with pytest.raises(BackupError):
            restore(store, damaged)
    assert len(store.projects()) == 40
    store.close()


def test_ledgers_that_went_different_ways(tmp_path: Path) -> None:
    """Entries made on two machines stand in one ledger after a restore; what does not add up is said, and none is lost.

    On each, 7 m of the 8.8 m left of the roll were entered as used, and corrected: to 8 m here, to 8.1 m there.
    """
    here, there = Store(tmp_path / "here"), Store(tmp_path / "there")
    shelf(here.folder)
    restore(there, backup(here))
    for store, length in ((here, "8 m"), (there, "8.1 m")):
        journal = Journal(store.folder)
        record(journal, "used", {"item": "roll 1", "amount": "7 m"})
        record(journal, "used", {"item": "roll 1", "amount": length}, corrects=5)
    own = Journal(here.folder).rows()
    assert restore(here, backup(there))["entries"] == {"added": 2, "same": 4}
    journal = Journal(here.folder)
    assert journal.rows()[: len(own)] == own
    assert left(journal)["roll 1"] == pytest.approx(8800 - 8000 - 8100)
    (fault,) = standing_of(journal.entries()).faults
    assert fault.number == 7 and "roll 1 has 0.80 m left" in fault.why
    assert restore(here, backup(there))["entries"] == {"added": 0, "same": 6}
    here.close()
    there.close()


def test_a_ledger_that_cannot_be_read_is_no_backup(tmp_path: Path) -> None:
    """A backup is refused where the ledger is damaged: without it, it would look whole."""
    store = Store(tmp_path)
    (tmp_path / LEDGER).write_bytes(b"x" * 4096)
    with pytest.raises(LedgerFileError, match="is damaged"):
        backup(store)
    store.close()


@pytest.mark.parametrize("change", ["told = '{}'", "kind = 'sold'", "id = 'x'", "day = 'today'", "seal = ''"])
def test_a_ledger_changed_in_a_backup(change: str, tmp_path: Path) -> None:
    """A backup whose entries are not as they were written is refused, and nothing comes in."""
    store = Store(tmp_path / "a")
    shelf(store.folder)
    path = tmp_path / "backup"
    path.write_bytes(backup(store))
    database = sqlite3.connect(path, isolation_level=None)
    database.execute(f"UPDATE ledger SET {change} WHERE number = 2")
    database.close()
    empty = Store(tmp_path / "b")
    with pytest.raises(BackupError):
        restore(empty, path.read_bytes())
    assert Journal(empty.folder).entries() == []
    store.close()
    empty.close()
