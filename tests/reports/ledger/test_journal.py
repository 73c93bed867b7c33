"""The journal: entries are added and never changed, by many programs at once, and what was told as done stays done."""

from __future__ import annotations

import signal
import sqlite3
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from reports.errors import LedgerFileError
from reports.ledger.journal import MIGRATIONS, Journal
from reports.ledger.record import record
from tests.make.ledger import left, shelf

if TYPE_CHECKING:
    from collections.abc import Callable

WRITER = """
import sys
from pathlib import Path
from typing import TYPE_CHECKING
from reports.ledger.journal import Journal
from reports.ledger.record import record
journal, number = Journal(Path(sys.argv[1])), int(sys.argv[2])
for _ in range(number):
    entry = record(journal, "used", {"item": "trim 4", "amount": 1})
    print(entry.number, flush=True)
"""


def writer(folder: Path, number: int) -> subprocess.Popen[str]:
    """A process that takes one zip after another."""
    arguments = [sys.executable, "-c", WRITER, str(folder), str(number)]
    return subprocess.Popen(arguments, stdout=subprocess.PIPE, text=True, cwd=Path(__file__).parents[3])


def broken(path: Path, statement: str) -> None:
    """Change the file behind the program's back."""
    database = sqlite3.connect(path, isolation_level=None)
    database.executescript(statement)
    database.close()


def test_nothing_there(tmp_path: Path) -> None:
    """To look at a ledger makes none: without a file there are no entries, and still no file."""
    journal = Journal(tmp_path / "new")
    assert journal.entries() == [] and journal.rows() == []
    assert not journal.folder.exists()


def test_file_is_the_users_own(tmp_path: Path) -> None:
    """Only the user may read it; after an entry there is one file, so that a copy of it is whole."""
    journal = shelf(tmp_path / "new")
    assert journal.path.stat().st_mode & 0o777 == 0o600
    assert [path.name for path in journal.folder.iterdir()] == ["ledger.sqlite3"]


def test_nothing_is_overwritten(tmp_path: Path) -> None:
    """The file itself refuses to change or delete an entry."""
    journal = shelf(tmp_path)
    for statement in ("UPDATE entries SET day = '2020-01-01'", "DELETE FROM entries WHERE number = 1"):
        with pytest.raises(sqlite3.IntegrityError, match="entries are never"):
            broken(journal.path, statement)
    assert len(journal.entries()) == 4


def test_killed_and_at_once(tmp_path: Path) -> None:
    """Two writers at once, one killed amid its work: every entry that was told is there, once, and all add up."""
    journal = shelf(tmp_path)
    killed, other = writer(tmp_path, 1000), writer(tmp_path, 6)
    assert killed.stdout is not None
    told = [int(killed.stdout.readline()) for _ in range(3)]
    killed.send_signal(signal.SIGKILL)
    rest = killed.communicate(timeout=60)[0].split()
    told += [int(number) for number in (rest if len(rest) < 30 else [])]
    told += [int(number) for number in other.communicate(timeout=60)[0].split()]
    assert (killed.returncode, other.returncode) == (-signal.SIGKILL, 0)
    entries = journal.entries()
    used = [entry.number for entry in entries if entry.kind == "used"]
    assert len(told) == len(set(told)) >= 9 and set(told) <= set(used)
    assert len(used) - len(told) <= 1  # one may be in the file that nobody was told of yet
    assert left(journal)["trim 4"] == 30 - len(used)
    assert record(journal, "used", {"item": "trim 4", "amount": 1}).number == len(entries) + 1


def test_in_use(tmp_path: Path) -> None:
    """A ledger that another program holds is waited for, and then named in a line; nothing is entered."""
    journal = shelf(tmp_path)
    other = sqlite3.connect(journal.path, isolation_level=None)
    other.execute("BEGIN EXCLUSIVE")
    with pytest.raises(LedgerFileError, match=r"ledger\.sqlite3: another program is writing to it: try again"):
        record(Journal(tmp_path, patience=0.05), "used", {"item": "trim 4", "amount": 1})
    other.execute("ROLLBACK")
    other.close()
    assert len(journal.entries()) == 4


def test_newer_version(tmp_path: Path) -> None:
    """A ledger of a later version is refused in a line, and left as it is."""
    journal = shelf(tmp_path)
    broken(journal.path, f"PRAGMA user_version = {len(MIGRATIONS) + 1}")
    held = journal.path.read_bytes()
    for use in (journal.entries, lambda: record(journal, "used", {"item": "trim 4", "amount": 1})):
        with pytest.raises(LedgerFileError, match=r"version 2, written by a newer ellwand.*: update ellwand"):
            use()
    assert journal.path.read_bytes() == held


def another(path: Path) -> None:
    """Put another program's database in its place."""
    path.unlink()
    broken(path, "CREATE TABLE a (b)")


def changed(path: Path) -> None:
    """Change a byte of what an entry tells."""
    path.write_bytes(path.read_bytes().replace(b'"10 m"', b'"90 m"'))


def with_gap(path: Path) -> None:
    """Take out an entry."""
    broken(path, "DROP TRIGGER held; DELETE FROM entries WHERE number = 2")


SPOILT: dict[str, tuple[Callable[[Path], object], str]] = {
    "no database": (lambda path: path.write_bytes(b"x" * 5000), "damaged"),
    "cut off": (lambda path: path.write_bytes(path.read_bytes()[:6000]), "damaged"),
    "a byte": (changed, "entry 1 is not as"),
    "a gap": (with_gap, "are missing"),
    "another's": (another, "is not a ledger of ellwand"),
}


@pytest.mark.parametrize("how", SPOILT)
def test_damaged(how: str, tmp_path: Path) -> None:
    """A damaged ledger is named in a line, with what to do; nothing is written to it."""
    journal = shelf(tmp_path)
    spoil, words = SPOILT[how]
    spoil(journal.path)
    with pytest.raises(LedgerFileError, match=words) as said:
        record(journal, "used", {"item": "trim 4", "amount": 1})
    assert str(journal.path) in str(said.value) and "\n" not in str(said.value)


def test_folder_that_cannot_be(tmp_path: Path) -> None:
    """A folder that cannot be made is named."""
    (tmp_path / "file").write_text("")
    with pytest.raises(LedgerFileError, match="choose another with --folder"):
        record(Journal(tmp_path / "file"), "bought", {"what": "trim", "name": "zip", "amount": 1})
