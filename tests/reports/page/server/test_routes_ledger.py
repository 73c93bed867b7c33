"""The ledger by the page's calls: entries made, refused and struck; seen by the command at once; files of it."""

from __future__ import annotations

import csv
import io
import json
import tomllib
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any

from openpyxl import load_workbook

from reports.ledger.journal import LEDGER, Journal
from reports.ledger.record import record
from reports.page.search import Search
from reports.page.searches import work
from reports.plan.effort import Effort
from tests.make.ledger import shelf
from tests.make.model import MODEL
from tests.make.orders import TEMPLATE
from tests.reports.page.conftest import app_of, sign_in

if TYPE_CHECKING:
    from collections.abc import Callable
    from contextlib import AbstractContextManager

    from pytest import MonkeyPatch
    from starlette.testclient import TestClient


def bought(client: TestClient, **more: Any) -> Any:
    """Enter a roll."""
    told = {"what": "cloth", "name": "canvas", "amount": "10 m", "width": "150 cm", "lot": "A", "note": ""}
    return client.post("/api/ledger", json={"kind": "bought", "told": told} | more)


def test_entered_and_struck(client: TestClient) -> None:
    """What is entered on the page stands in the ledger of the folder; the page and a command write to the same."""
    assert client.get("/api/ledger").json()["items"] == []
    made = bought(client, day="2026-01-05")
    assert made.status_code == 200
    assert [(one["item"], one["left_words"]) for one in made.json()["items"]] == [("roll 1", "10.00 m")]
    journal = Journal(app_of(client).state.store.folder)
    record(journal, "used", {"item": "roll 1", "amount": "2 m"})
    assert client.get("/api/ledger").json()["items"][0]["left"] == 8000
    struck = client.post("/api/ledger", json={"kind": "struck", "told": {}, "corrects": 2}).json()
    assert struck["items"][0]["left"] == 10_000
    assert [(one["number"], one["replaced_by"]) for one in struck["entries"]] == [(1, None), (2, 3), (3, None)]
    assert [entry.kind for entry in journal.entries()] == ["bought", "used", "struck"]


def test_refused(client: TestClient) -> None:
    """What does not add up is refused with one line, and not entered."""
    bought(client)
    used = {"kind": "used", "told": {"item": "roll 1", "amount": "11 m"}}
    for body, words in (
        (used, "roll 1 has 10.00 m left"),
        (used | {"told": {"item": "roll 9", "amount": "1 m"}}, "there is no roll 9"),
        (used | {"day": "2999-01-01"}, "in the future"),
        (used | {"told": {"item": ["roll 1"], "amount": {"a": 1}}}, "cannot read the item"),
    ):
        refused = client.post("/api/ledger", json=body)
        assert (refused.status_code, words in refused.json()["error"]) == (422, True), refused.json()
    assert len(client.get("/api/ledger").json()["entries"]) == 1


def test_what_on_hand_covers(client: TestClient, monkeypatch: MonkeyPatch) -> None:
    """Of an answer what is there is said in words, from the page's own ledger; no new search is made."""
    monkeypatch.setitem(work.EFFORTS, "quick", Effort(0))
    payload = {"job": tomllib.loads(MODEL), "effort": "quick", "options": {}}
    done = Search("done", "buy", payload)
    done.turn("done", json.loads(json.dumps(work.run_task("buy", payload, lambda told: None, lambda: False))))
    app_of(client).state.searches = SimpleNamespace(find={"done": done}.__getitem__)
    assert "none on hand by that name" in client.get("/api/ledger/covers/done").json()["words"][0]
    bought(client, told={"what": "cloth", "name": "navy twill", "amount": "9 yd", "width": "60 in"})
    words = client.get("/api/ledger/covers/done").json()["words"]
    assert words[0].startswith("You have navy twill, wide:") and words[0].endswith("of roll 1. Nothing to buy of it.")


def test_not_for_strangers(guest: TestClient) -> None:
    """Who has not signed in sees nothing, and enters nothing."""
    assert guest.get("/api/ledger").status_code == 401
    assert bought(guest).status_code == 401


def test_damaged(client: TestClient) -> None:
    """A damaged ledger is named in a line; the rest of the page goes on."""
    (app_of(client).state.store.folder / LEDGER).write_bytes(b"x" * 4096)
    answer = client.get("/api/ledger")
    assert (answer.status_code, "ledger.sqlite3: it is damaged" in answer.json()["error"]) == (409, True)
    assert client.get("/api/projects").status_code == 200


def test_files(client: TestClient) -> None:
    """The workbook and the tables have what the ledger has, as other libraries read them (openpyxl, csv)."""
    shelf(app_of(client).state.store.folder)
    sheet = load_workbook(io.BytesIO(client.get("/api/ledger/files/ledger.xlsx").content))["On hand"]
    values = [[cell.value for cell in row] for row in sheet.iter_rows()]
    assert any(row[:2] == ["roll 1", "canvas"] and 8.8 in row for row in values)
    table = client.get("/api/ledger/files/ledger-on-hand.csv").text
    assert [row["left"] for row in csv.DictReader(io.StringIO(table))] == ["8.8", "1.2", "30.0"]
    assert client.get("/api/ledger/files/session").status_code == 404


def test_order_of_a_run(serve: Callable[..., AbstractContextManager[TestClient]]) -> None:
    """A planned run is entered with its garments and its plan; the same name is not taken twice."""
    order = tomllib.loads(TEMPLATE)
    kinds = [(colour, size, number) for colour, sizes in order["quantity"].items() for size, number in sizes.items()]
    result = {
        "garments": [{"colour": c, "size": s, "ordered": n, "cut": n + 1} for c, s, n in kinds],
        "lots": [{"cloths": {"rust": {"name": "rust canvas", "spread_mm": 20_000.0}}}],
        "cutting_minutes": 90.0,
    }
    with serve(running=True) as client:
        sign_in(client)
        done = Search("1" * 32, "run", {"order": order})
        done.turn("done", result)
        app_of(client).state.searches._known[done.id] = done
        made = client.post("/api/ledger/orders", json={"search": done.id, "name": "forty"})
        assert made.status_code == 200, made.text
        (entered,) = made.json()["orders"]
        assert entered["total"]["ordered"] == sum(number for _, _, number in kinds)
        assert entered["cloths"] == [{"name": "rust canvas", "planned_mm": 20_000, "used_mm": 0}]
        again = client.post("/api/ledger/orders", json={"search": done.id, "name": "Forty"})
        assert (again.status_code, "already" in again.json()["error"]) == (422, True)
