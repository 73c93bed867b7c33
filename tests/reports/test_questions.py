"""The table of questions: a question that is a folder and a row is found by command line, schemas and page."""

from __future__ import annotations

import json
import time
import tomllib
from typing import TYPE_CHECKING, Any

import jsonschema_rs
import pytest
from starlette.testclient import TestClient

from reports.asking.question import PageQuestion
from reports.page.searches.worker import default_check
from reports.page.server.app import create_app
from reports.page.server.session import Session
from reports.page.store.store import Store
from reports.questions import QUESTIONS, page_questions
from tests.make.model import MODEL
from tests.make.toy import Toy, task
from tests.reports.page.conftest import HERE, PORT, sign_in

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from tests.reports.conftest import Ran

SECONDS = 60.0
"""How long a process may take to start and to count."""


@pytest.fixture
def toy() -> Iterator[Toy]:
    """A question that is a row of the table for the time of a test."""
    made = Toy()
    QUESTIONS.append(made)
    yield made
    QUESTIONS.remove(made)


@pytest.fixture
def client(tmp_path: Path, toy: Toy) -> Iterator[TestClient]:
    """A client of the page's server, signed in; its searches run in a process that has the toy's row as well."""
    store = Store(tmp_path / "work")
    app = create_app(store, Session(), port=PORT, task=task, check=default_check, workers=1)
    with TestClient(app, HERE, follow_redirects=False) as made:
        yield sign_in(made)
    store.close()


def test_rows_are_whole() -> None:
    """Each row has a name of its own, tells in a line what it says, and shows a use of itself."""
    names = [question.name for question in QUESTIONS]
    assert len(set(names)) == len(names) and set(names) == {
        *("buy", "widths", "chart", "saves", "fits", "which", "left", "boxes", "guide", "run")
    }
    for question in QUESTIONS:
        assert question.what.endswith(".") and question.example.startswith(f"ellwand {question.name} ")
        assert question.schema().version >= 1
    assert list(page_questions()) == [one.name for one in QUESTIONS if isinstance(one, PageQuestion)]


def test_found_by_the_command_line(toy: Toy, run: Callable[..., Ran], job_file: Callable[[str], Path]) -> None:
    """It is listed with its help; it takes its own options and those of all; it answers in words, JSON and files."""
    assert "toy" not in [question.name for question in QUESTIONS[:-1]]
    listed = " ".join(run("--help").out.split())
    assert "toy" in listed and "Count the cloths of a job" in listed
    helped = " ".join(run("toy", "--help").out.split())
    assert all(word in helped for word in ("--by-how-many", "--how", "--seed", "--json", "--out", toy.example))
    job = job_file(MODEL)
    cloths = len(tomllib.loads(MODEL)["fabric"])
    said = run("toy", job, "--by-how-many", 3, "--how", "loud", "--out", "t")
    assert (said.code, said.out.splitlines()[0]) == (0, f"{3 * cloths} CLOTHS.")
    assert (job.parent / "t" / "toy.txt").read_text(encoding="utf-8") == f"{3 * cloths} CLOTHS.\n"
    again = run("toy", job, "--out", "t")
    assert again.code == 2 and "already exists" in again.err
    plain = json.loads(run("toy", job, "--seed", 5, "--json").out)
    assert plain == {"job": "job.toml", "cloths": cloths, "seed": 5}
    assert run("toy", job, "--by-how-many", 0).code == 2


def test_found_by_the_schemas(toy: Toy, run: Callable[..., Ran], job_file: Callable[[str], Path]) -> None:
    """Its schema is listed with its version, and its answer is as the schema says; without the row there is none."""
    assert ["toy", "3"] in [line.split()[:2] for line in run("schema").out.splitlines()]
    schema = json.loads(run("schema", "toy").out)
    assert jsonschema_rs.Draft202012Validator(schema).is_valid(json.loads(run("toy", job_file(MODEL), "--json").out))
    QUESTIONS.remove(toy)
    try:
        assert run("schema", "toy").code == 2
    finally:
        QUESTIONS.append(toy)


def test_found_by_the_page(toy: Toy, client: TestClient) -> None:
    """It is described, asked and answered as any other; a wrong option is refused; its files can be had."""
    described = client.get("/api/openapi.json").json()["components"]["schemas"]["SearchAsked"]
    assert "toy" in described["properties"]["kind"]["enum"]
    asked: dict[str, Any] = {
        "kind": "toy",
        "job": tomllib.loads(MODEL),
        "options": {"by-how-many": 2, "how": "loud", "seed": 4},
    }
    for wrong in ({"how": "cheerful"}, {"by-how-many": "two"}, {"by_how_many": 2}):
        refused = client.post("/api/searches", json=asked | {"options": wrong})
        assert refused.status_code == 422
        assert [one["field"] for one in refused.json()["errors"]] == [f"options.{next(iter(wrong))}"]
    search = client.post("/api/searches", json=asked)
    assert search.status_code == 202
    found, end = client.get(f"/api/searches/{search.json()['id']}").json(), time.monotonic() + SECONDS
    while found["state"] in ("waiting", "running") and time.monotonic() < end:
        time.sleep(0.1)
        found = client.get(f"/api/searches/{found['id']}").json()
    cloths = 2 * len(asked["job"]["fabric"])
    assert found["state"] == "done", found["error"]
    assert found["result"] == {"job": "job", "cloths": cloths, "seed": 4, "words": [f"{cloths} CLOTHS."]}
    files = client.get(f"/api/searches/{found['id']}/files").json()
    assert [(file["name"], file["subject"]) for file in files] == [("toy.txt", "The count")]
    text = client.get(f"/api/searches/{found['id']}/files/toy.txt").text
    assert text == f"{cloths} CLOTHS.\n"
