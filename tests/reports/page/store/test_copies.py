"""Daily copies: made once a day, kept by days and weeks, brought back one project at a time."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from reports.errors import MissingError
from reports.page.store.copies import ARCHIVE, COPIES, Copies, DayCopy, copies_in, kept
from reports.page.store.photos import Photos
from tests.make.ledger import shelf
from tests.make.photo import picture

if TYPE_CHECKING:
    from reports.page.store.store import Store

FIRST = date(2026, 3, 2)  # a Monday


class Calendar:
    """A day that goes on when it is told to."""

    def __init__(self) -> None:
        self.day = FIRST

    def __call__(self) -> date:
        """Today."""
        return self.day


def test_by_days_and_weeks() -> None:
    """Of copies of ten weeks, one a day, the last 7 days are kept and the Sundays of the 5 weeks before them.

    Weeks begin on Monday, as in ISO 8601.
    """
    last = FIRST + timedelta(days=69)
    every = [DayCopy(FIRST + timedelta(days=number), Path("x")) for number in range(70)]
    days = [last - timedelta(days=number) for number in range(7)]
    sundays = [days[-1] - timedelta(days=1 + 7 * number) for number in range(5)]
    assert all(day.weekday() == 6 for day in sundays)
    assert sorted((copy.day for copy in kept(every)), reverse=True) == [*days, *sundays]
    far = [DayCopy(FIRST + timedelta(days=100 * number), Path("x")) for number in range(12)]
    assert kept(far) == set(far)


def test_old_ones_go(store: Store) -> None:
    """One copy is made a day; on the tenth day the second one of its week is gone, not the last of the week before."""
    calendar = Calendar()
    copies = Copies(store, calendar)
    for number in range(-1, 8):
        calendar.day = FIRST + timedelta(days=number)
        store.add_project(str(number), {})
        assert copies.make_if_due() and not copies.make_if_due()
    assert [copy.day.day for copy in copies.listed()] == [9, 8, 7, 6, 5, 4, 3, 2, 1]
    calendar.day = FIRST + timedelta(days=8)
    store.add_project("8", {})
    assert copies.make_if_due()
    assert [copy.day.day for copy in copies.listed()] == [10, 9, 8, 7, 6, 5, 4, 3, 1]


def test_nothing_new_is_no_copy(store: Store) -> None:
    """On days on which nothing changed none is made, so that old copies are not driven out; a new file counts."""
    calendar = Calendar()
    copies = Copies(store, calendar)
    store.add_project("Coat", {})
    assert copies.make_if_due()
    for number in range(1, 4):
        calendar.day = FIRST + timedelta(days=number)
        assert not copies.make_if_due() and not copies.fault
    (store.folder / "uploads").mkdir()
    (store.folder / "uploads" / f"{'a' * 32}.json").write_text("{}")
    calendar.day = FIRST + timedelta(days=4)
    assert copies.make_if_due()
    assert [copy.day.day for copy in copies.listed()] == [6, 2]


def test_as_it_was(store: Store) -> None:
    """A project comes back as it was on a day, with its client, photo and pattern, beside the one that has changed.

    One that was not changed does not come twice; one that was deleted is there again under its own name. The photos in
    all copies take room once.
    """
    pattern = f"{'b' * 32}.json"
    (store.folder / "uploads").mkdir()
    (store.folder / "uploads" / pattern).write_text('{"pieces": []}')
    store.keep_client("נועה 🧵", {"bust": "90 cm"})
    (ann,) = store.clients()
    project = store.add_project("Coat", {"job": {"pieces_file": pattern}, "client": ann["id"]})["id"]
    store.add_project("Skirt", {})
    photo = Photos(store).add("project", project, "", picture())
    copies = Copies(store, Calendar())
    assert copies.make_if_due()
    file = next((store.folder / "photos").iterdir())
    assert file.stat().st_nlink == 2

    assert copies.bring_back("2026-03-02", project)["projects"] == {"added": 0, "same": 1}
    store.save_project(project, 1, "Coat", {"job": {"changed": True}})
    names: dict[str, str] = {}
    assert copies.bring_back("2026-03-02", project, names)["projects"]["added"] == 1
    back = store.project(names[project])
    assert (back["name"], back["data"]["job"]) == ("Coat (as on 2026-03-02)", {"pieces_file": pattern})
    assert store.project(project)["data"] == {"job": {"changed": True}}
    assert copies.bring_back("2026-03-02", project)["projects"]["added"] == 0

    store.drop_project(names[project])
    store.drop_project(project)
    store.drop_client(ann["id"])
    (store.folder / "uploads" / pattern).unlink()
    assert not file.exists()
    told = copies.bring_back("2026-03-02", project)
    assert {kind: told[kind]["added"] for kind in ("projects", "clients", "photos", "patterns", "shelf")} == {
        **{"projects": 1, "clients": 1, "photos": 1, "patterns": 1},
        "shelf": 0,
    }
    assert store.project(project)["name"] == "Coat" and Photos(store).read(photo["id"])
    assert [one["name"] for one in store.projects()] == ["Coat", "Skirt"] or len(store.projects()) == 2
    for day, one in (("2026-03-01", project), ("../..", project), ("2026-03-02", "x")):
        with pytest.raises(MissingError):
            copies.bring_back(day, one)


def test_no_room(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    """A copy that cannot be made is told of, leaves nothing half done, and is made once it can be."""
    shelf(store.folder)
    copies = Copies(store, Calendar())

    def full(*_: Any) -> None:
        raise OSError(28, "No space left on device")

    store.add_project("Coat", {})
    with monkeypatch.context() as patch:
        patch.setattr("reports.page.store.copies.bring_files", full)
        assert not copies.make_if_due()
    assert "not made" in copies.fault and "No space left" in copies.fault
    assert list((store.folder / COPIES).iterdir()) == []
    assert copies.make_if_due() and not copies.fault
    (copy,) = copies_in(store.folder)
    assert (copy.folder / ARCHIVE).is_file() and [one["name"] for one in copy.projects()] == ["Coat"]


def test_folders_of_others(tmp_path: Path) -> None:
    """What lies among the copies and is none is left alone."""
    for name in ("2026-03-02", "notes", ".making-x", "2026-13-01"):
        (tmp_path / COPIES / name).mkdir(parents=True)
    assert copies_in(tmp_path) == []
