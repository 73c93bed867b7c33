"""The notebook: every kind of thing is in it, with what it goes with; what is deleted leaves no loose end."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest

from reports.ledger.journal import LEDGER
from reports.page.errors import ChangedError, TakenError
from reports.page.notebook.notebook import notebook_of
from reports.page.notebook.thing import KeptThing, Notebook
from reports.page.store.photos import Photos
from reports.page.store.shelf import Shelf
from tests.make.ledger import shelf
from tests.make.photo import picture

if TYPE_CHECKING:
    from reports.page.store.store import Store

PATTERN = f"{'a' * 32}.json"


def filled(store: Store) -> dict[str, str]:
    """One of each kind; the ids of some."""
    shelf(store.folder)  # a roll and a remnant of canvas, zips, an order 'forty' of the rib jacket
    (store.folder / "uploads").mkdir()
    (store.folder / "uploads" / PATTERN).write_text(json.dumps({"garment": "old coat", "pieces": [1, 2]}))
    store.keep_client("Ann", {"bust": "37 in"}, day="2026-03-01")
    store.keep_client("Ann", {"bust": "38 in"}, day="2026-05-01")
    ann = store.clients()[0]["id"]
    things = Shelf(store)
    kept = {
        kind: things.add(kind, name, data)["id"]
        for kind, name, data in (
            ("cloth", "Canvas", {"width": "150 cm", "price": "12 / m"}),
            ("rib", "grey rib", {"opened": "90 cm"}),
            ("trim", "Zip", {}),
            ("style", "my jacket", {"garment": "rib-jacket", "style": {"back": "seam"}}),
        )
    }
    plan = {"plan": {"fabrics": [{"name": "canvas", "stopped_by": "hand"}]}}
    store.keep_search(
        {"id": "f1", "kind": "buy", "payload": {}, "state": "done", "seconds": 1.0, "result": plan, "error": None}
    )
    job = {"garment": "rib-jacket", "fabric": [{"name": "canvas"}], "rib": [{"name": "Grey  rib"}]}
    data = {"job": job, "client": ann, "whom": "Ann", "own_style": kept["style"], "answers": {"buy": {"search": "f1"}}}
    coat = store.add_project("Forty", data)["id"]
    old = store.add_project("Old coat", {"job": {"garment": "imported", "pieces_file": PATTERN}, "whom": "Ann"})["id"]
    photo = Photos(store).add("project", coat, "toile", picture())["id"]
    return {"ann": ann, "coat": coat, "old": old, "photo": photo, **kept}


def of(book: Notebook, kind: Any, id_: str) -> set[tuple[str, str]]:
    """What a thing goes with, by kind and name."""
    return {(other[0], book.things[other].name) for other in book.of((kind, id_))}


def test_what_goes_together(store: Store) -> None:
    """A project goes with its client, cloth, rib, style, patterns, layouts, order and photos, and they with it."""
    ids = filled(store)
    book = notebook_of(store)
    assert of(book, "project", ids["coat"]) == {
        ("client", "Ann"),
        ("cloth", "Canvas"),
        ("stock", "canvas (roll 1)"),
        ("stock", "canvas (remnant 2)"),
        ("rib", "grey rib"),
        ("style", "my jacket"),
        ("layout", "Laid by hand: canvas"),
        ("order", "forty"),  # it was entered under the project's name
        ("photo", "toile"),
    }
    assert of(book, "project", ids["old"]) == {("client", "Ann"), ("pattern", "old coat")}
    assert of(book, "client", ids["ann"]) == {("project", "Forty"), ("project", "Old coat")}
    assert of(book, "cloth", ids["cloth"]) >= {("project", "Forty"), ("order", "forty"), ("stock", "canvas (roll 1)")}
    assert of(book, "trim", ids["trim"]) == {("stock", "zip (trim 4)")}
    about = {thing.name: thing.about for thing in book.things.values()}
    assert about["Ann"] == "measured 2 times, last on 1 May 2026"
    assert about["Canvas"] == "150 cm wide, 12 / m" and about["old coat"] == "2 pieces"
    assert about["Old coat"] == "pattern file, for Ann" and about["forty"].endswith("6 ordered, 0 cut")
    plain = book.plain()
    assert json.loads(json.dumps(plain)) == plain and plain["faults"] == []


def test_deleted_while_in_use(store: Store) -> None:
    """A client, a style and a cloth that projects use can go: the projects keep what they have, and open as before."""
    ids = filled(store)
    before = store.project(ids["coat"])
    store.drop_client(ids["ann"])
    for kind in ("style", "cloth"):
        Shelf(store).drop(ids[kind])
    book = notebook_of(store)
    assert not {"client", "style"} & {kind for kind, _ in of(book, "project", ids["coat"])}
    assert store.project(ids["coat"]) == before and store.measured(ids["ann"]) == []
    again = store.add_project("From an earlier version", {"job": [], "whom": 7, "kept": "x"})["id"]
    assert of(notebook_of(store), "project", again) == set()


def test_a_ledger_that_cannot_be_read(store: Store) -> None:
    """The rest is shown, and that the ledger is damaged is said."""
    ids = filled(store)
    (store.folder / LEDGER).write_bytes(b"x" * 4096)
    book = notebook_of(store)
    assert ("client", ids["ann"]) in book.things and "damaged" in book.faults[0]


def test_links_need_both() -> None:
    """Nothing goes with what is not there, or with itself."""
    book = Notebook()
    book.add([KeptThing("client", "a", "Ann")])
    book.link(("client", "a"), ("project", "x"))
    book.link(("client", "a"), ("client", "a"))
    assert book.of(("client", "a")) == []


def test_the_shelf_in_two_tabs(store: Store) -> None:
    """Of two tabs that change a cloth, the second is told; no two of a kind have one name, of two kinds they may."""
    things = Shelf(store)
    cloth = things.add("cloth", "canvas", {"width": "60 in"})
    things.change(cloth["id"], 1, "canvas 🧵", {"width": "59 in"})
    with pytest.raises(ChangedError, match="'canvas 🧵' was saved elsewhere") as told:
        things.change(cloth["id"], 1, "mine", {"width": "58 in"})
    assert told.value.current["data"] == {"width": "59 in"}
    other = things.add("rib", "canvas 🧵", {})
    with pytest.raises(TakenError, match="choose another name"):
        things.add("cloth", "canvas 🧵", {})
    more = things.add("cloth", "twill", {})
    with pytest.raises(TakenError):
        things.change(more["id"], 1, "canvas 🧵", {})
    assert {one["id"] for one in things.all()} == {cloth["id"], other["id"], more["id"]}
