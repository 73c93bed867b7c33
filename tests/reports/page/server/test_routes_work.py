"""The work over HTTP: what the page sends and gets, and what each mistake comes back as."""

from __future__ import annotations

import json
import tomllib
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any

import pytest
from pytest import MonkeyPatch

from reports.page.search import Search
from reports.page.searches import work
from reports.plan.effort import Effort
from tests.make.model import MODEL
from tests.reports.page.answers.test_upload import SQUARE
from tests.reports.page.conftest import app_of

if TYPE_CHECKING:
    from fastapi.testclient import TestClient

JOB = tomllib.loads(MODEL)


@pytest.fixture
def page(client: TestClient, monkeypatch: MonkeyPatch) -> Any:
    """A client of a server on which one search is done, and another waits."""
    monkeypatch.setitem(work.EFFORTS, "quick", Effort(0))
    payload = {"job": JOB, "effort": "quick", "options": {}}
    done, waits = Search("done", "buy", payload), Search("waits", "buy", payload)
    done.turn("done", json.loads(json.dumps(work.run_task("buy", payload, lambda told: None, lambda: False))))
    known = {"done": done, "waits": waits}

    def keep(search: str, result: dict[str, Any]) -> Search:
        known[search].result = result
        return known[search]

    app_of(client).state.searches = SimpleNamespace(find=known.__getitem__, keep=keep)
    client.done = done  # type: ignore[attr-defined]
    return client


def test_catalogue_and_draft(client: TestClient) -> None:
    """The job of the catalogue is drafted; one with faults comes back with each at its field."""
    job = client.get("/api/catalogue").json()["template_job"]
    drawn = client.post("/api/draft", json={"job": {key: job[key] for key in ("garment", "units", "body", "style")}})
    assert drawn.status_code == 200
    assert {piece["name"] for piece in drawn.json()["pieces"]} >= {"back", "sleeve"}
    job["body"]["bust"], job["style"]["seam"] = "wide", "narrow"
    refused = client.post("/api/draft", json={"job": job})
    assert refused.status_code == 422
    assert {fault["field"] for fault in refused.json()["errors"]} == {"body.bust", "style.seam"}
    assert client.post("/api/draft", json={"job": job, "more": 1}).status_code == 422


def test_move_and_keep(page: Any) -> None:
    """A piece is moved from where the page says all lie; the layout is kept; one that cannot be cut is 409."""
    shown = page.done.result["markers"][0]
    places = [[x, y] for *_, x, y in shown["placed"]]
    far = [shown["length"] + 200, places[0][1]]
    move = {"marker": 0, "piece": 1, "x": places[0][0], "y": places[0][1]}
    over = page.post("/api/searches/done/move", json=move).json()
    assert not over["legal"]
    assert "lies over" in over["why"]
    free = page.post("/api/searches/done/move", json=move | {"placements": [far, *places[1:]]}).json()
    assert free["legal"], free["why"]
    made = {"marker": 0, "placements": [far, [free["x"], free["y"], free["turn"]], *places[2:]]}
    kept = page.post("/api/searches/done/placements", json=made)
    assert kept.status_code == 200
    assert kept.json()["result"]["markers"][0]["length"] > shown["length"]
    assert page.done.result["markers"][0]["placed"][1][3:] == [free["x"], free["y"]]
    refused = page.post("/api/searches/done/placements", json={"marker": 0, "placements": [[0, 0]] * len(places)})
    assert refused.status_code == 409
    assert refused.json()["error"]


@pytest.mark.parametrize(
    ("search", "sent", "status"),
    [
        ("waits", {"marker": 0, "piece": 0, "x": 0, "y": 0}, 409),
        ("done", {"marker": 7, "piece": 0, "x": 0, "y": 0}, 404),
        ("done", {"marker": 0, "piece": -1, "x": 0, "y": 0}, 404),
        ("done", {"marker": 0, "piece": 0, "x": 1e9, "y": 0}, 422),
        ("done", {"marker": 0, "piece": 0, "x": 0, "y": 0, "turn": 45}, 422),
        ("done", {"marker": 0, "piece": 0, "x": 0, "y": 0, "placements": [[0]]}, 422),
        ("done", {"marker": 0, "piece": 0, "x": 0, "y": 0, "placements": [[0, 0]]}, 422),
    ],
)
def test_moves_that_make_no_sense(page: TestClient, search: str, sent: dict[str, Any], status: int) -> None:
    """A move too early, of nothing, to nowhere, by a turn the cloth forbids: each has its status, and a reason."""
    refused = page.post(f"/api/searches/{search}/move", json=sent)
    assert refused.status_code == status
    assert refused.json().get("error") or refused.json()["errors"]


def test_files(page: TestClient) -> None:
    """Every file of the list has a name of its own; one comes with its type, to be saved; others are not there."""
    files = page.get("/api/searches/done/files").json()
    assert len({file["name"] for file in files}) == len(files)
    words = page.get("/api/searches/done/files/buy.txt")
    assert words.text.startswith("Buy ")
    assert words.headers["content-type"] == next(file["type"] for file in files if file["name"] == "buy.txt")
    assert words.headers["content-disposition"] == 'attachment; filename="buy.txt"'
    assert page.get("/api/searches/done/files/passwd").status_code == 404
    assert page.get("/api/searches/waits/files").status_code == 409


def test_upload(client: TestClient) -> None:
    """A table of corners is read; one of a kind that is not read, and one too large, are refused."""
    send: dict[str, Any] = {"headers": {"Content-Type": "application/octet-stream"}}
    found = client.post("/api/uploads", params={"name": "flap.csv"}, content=SQUARE.encode(), **send)
    assert found.status_code == 200
    assert [piece["name"] for piece in found.json()["pieces"]] == ["flap"]
    assert client.post("/api/uploads", params={"name": "flap.exe"}, content=b"MZ", **send).status_code == 422
    large = client.post("/api/uploads", params={"name": "flap.csv"}, content=b"x" * 5_000_001, **send)
    assert large.status_code == 422 and "more than 5 MB" in large.json()["error"]
    assert client.post("/api/uploads", params={"name": "a.jpg"}, content=b"x" * 25_000_001, **send).status_code == 413
    assert client.post("/api/uploads", params={"name": "a.jpg", "mat": "wide"}, content=b"x", **send).status_code == 422


def test_upload_photos(client: TestClient) -> None:
    """Photos come in one body, with names and sizes beside it; what is none is refused, as is too much at once."""
    send: dict[str, Any] = {"headers": {"Content-Type": "application/octet-stream"}}
    asked: dict[str, Any] = {"name": ["a.jpg", "b.dxf"], "size": [1, 2], "joined": True}
    refused = client.post("/api/uploads/photos", params=asked, content=b"abc", **send)
    assert refused.status_code == 422 and "'b.dxf' is not a photo" in refused.text
    large = client.post("/api/uploads/photos", params=asked, content=b"x" * 45_000_001, **send)
    assert large.status_code == 413
    assert client.get("/api/uploads/photos/abc").json() == {}


def test_reference_sheets(client: TestClient) -> None:
    """The sheets for photos come as PDF, in both papers; there are no others."""
    for paper in ("a4", "letter"):
        sent = client.get(f"/api/reference-sheets/{paper}")
        assert sent.content.startswith(b"%PDF") and sent.headers["content-type"] == "application/pdf"
        assert sent.headers["content-disposition"] == f'attachment; filename="reference-{paper}.pdf"'
    assert client.get("/api/reference-sheets/a9").status_code == 422
