"""Projects over the API."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from fastapi.testclient import TestClient

PROJECT = {"name": "Jacket", "data": {"job": {"garment": "rib-jacket"}}}


def test_flow(client: TestClient) -> None:
    """A project is saved, listed, read, saved again, and deleted; a version saved elsewhere meanwhile comes back."""
    saved = client.post("/api/projects", json=PROJECT)
    assert saved.status_code == 201
    path = f"/api/projects/{saved.json()['id']}"
    assert client.get(path).json() | PROJECT == client.get(path).json()
    assert client.put(path, json=PROJECT | {"version": 1, "name": "Coat"}).json()["version"] == 2
    late = client.put(path, json=PROJECT | {"version": 1})
    assert (late.status_code, late.json()["current"]["name"]) == (409, "Coat")
    assert "saved elsewhere" in late.json()["error"]
    assert [line["name"] for line in client.get("/api/projects").json()] == ["Coat"]
    assert client.delete(path).status_code == 204
    assert client.get(path).status_code == client.put(path, json=PROJECT | {"version": 2}).status_code == 404


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        *[({"name": name}, "name") for name in ("", "co\0at", "coat\x1b[2J", "co\nat", "x" * 201)],
        ({"data": []}, "data"),
        ({"more": 1}, "more"),
    ],
)
def test_mistakes(client: TestClient, wrong: dict[str, Any], field: str) -> None:
    """What is wrong is said field by field."""
    sent = client.post("/api/projects", json=PROJECT | wrong)
    assert sent.status_code == 422
    assert [error["field"] for error in sent.json()["errors"]] == [field]


def test_backup(client: TestClient) -> None:
    """A backup is a SQLite file to save; restored, it adds what is missing."""
    saved = client.post("/api/projects", json=PROJECT).json()
    kept = client.get("/api/backup")
    assert "attachment" in kept.headers["content-disposition"]
    assert kept.content.startswith(b"SQLite format 3\0")  # sqlite.org/fileformat2.html, 1.3
    client.delete(f"/api/projects/{saved['id']}")
    back = client.post("/api/restore", content=kept.content, headers={"Content-Type": "application/octet-stream"})
    assert back.json()["projects"] == {"added": 1, "same": 0}
    assert client.get(f"/api/projects/{saved['id']}").json()["data"] == PROJECT["data"]
    assert client.post("/api/restore", content=b"junk").status_code == 422


def test_described(client: TestClient) -> None:
    """The API describes itself in OpenAPI 3, every answer with the status of each mistake."""
    told = client.get("/api/openapi.json").json()
    assert told["openapi"].startswith("3.")
    assert {"/api/projects", "/api/projects/{project}", "/api/searches/{search}/events"} <= set(told["paths"])
    for path, methods in told["paths"].items():
        for said in methods.values():
            assert path.startswith("/api/")
            assert {"401", "422"} <= set(said["responses"])


def test_a_client_is_measured_by_now(client: TestClient) -> None:
    """A day that is still to come is no day of a measuring: it would stand before all sets taken until then."""
    body = {"name": "Ann", "body": {"bust": "37 in"}, "day": "2999-01-01"}
    (fault,) = client.post("/api/clients", json=body).json()["errors"]
    assert fault["field"] == "day" and "in the future" in fault["message"]
    assert client.get("/api/clients").json() == []
