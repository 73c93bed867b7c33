"""The API against its own description (OpenAPI 3.1), by schemathesis: whatever is sent, answers are as described."""

from __future__ import annotations

import copy
import json
import tomllib
from contextlib import contextmanager
from datetime import date
from typing import TYPE_CHECKING, Any

import pytest
import requests
from hypothesis import Phase, example, given, settings
from hypothesis import strategies as st
from schemathesis import openapi
from schemathesis.config import SchemathesisConfig

from reports.page.search import Search
from reports.page.searches import work
from reports.page.searches.worker import default_check
from reports.page.server.app import create_app
from reports.page.server.session import Session
from reports.page.store.photos import Photos
from reports.page.store.shelf import Shelf
from reports.plan.effort import Effort
from tests.make.model import MODEL
from tests.make.orders import TEMPLATE
from tests.make.photo import picture
from tests.reports.page.conftest import PORT, app_of, served, sign_in

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from fastapi.testclient import TestClient
    from httpx2 import Response
    from hypothesis.strategies import DrawFn
    from schemathesis.generation.case import Case

CONFIG = """
[generation]
deterministic = true
no-shrink = true
database = "none"

[checks.positive_data_acceptance]
enabled = false  # a job is an object to the description: what is a sound one, only the checks of the job know
"""
DESCRIBED = openapi.from_dict(
    create_app(None, Session(), port=PORT).openapi(),  # type: ignore[arg-type]
    config=SchemathesisConfig.from_str(CONFIG),
)
JOB = tomllib.loads(MODEL)


class Known:
    """A client that has signed in, and the ids of a search that has ended and of a project.

    Parameters
    ----------
    client
        Of a server whose searches search nothing, though what is asked of them is looked at as ever.
    result
        Of the search that has ended.
    """

    def __init__(
        self,
        client: TestClient,
        result: dict[str, Any],
    ) -> None:
        self.client, self._result = client, result

    def ids(self) -> dict[str, str]:
        """The ids, of things that are there, whatever was deleted before."""
        searches, store = app_of(self.client).state.searches, app_of(self.client).state.store
        if "done" not in searches._known:
            done = Search("done", "buy", {"job": JOB, "effort": "quick", "options": {}})
            done.turn("done", copy.deepcopy(self._result))
            searches._known["done"] = done
        projects = store.projects() or [store.add_project("shirt", {})]
        if not store.clients():
            store.keep_client("Ann", {"bust": "37 in"})
        shelved = Shelf(store).all() or [Shelf(store).add("cloth", "canvas", {"width": "60 in"})]
        photos = Photos(store).all() or [Photos(store).add("project", projects[0]["id"], "", picture())]
        return {
            "search": "done",
            "project": projects[0]["id"],
            "client": store.clients()[0]["id"],
            "thing": shelved[0]["id"],
            "photo": photos[0]["id"],
            "day": date.today().isoformat(),
        }

    def send(self, case: Any) -> Response:
        """Send a case, byte for byte as schemathesis would."""
        sent: Any = requests.Request(**case.as_transport_kwargs(base_url=str(self.client.base_url))).prepare()
        headers = {name: value for name, value in sent.headers.items() if name.lower() != "cookie"}
        return self.client.request(sent.method, sent.url, content=sent.body, headers=headers)


@pytest.fixture(scope="module")
def result() -> Any:
    """What to buy for the model job, by first layouts alone."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setitem(work.EFFORTS, "quick", Effort(0))
        payload = {"job": JOB, "effort": "quick", "options": {}}
        return json.loads(json.dumps(work.run_task("buy", payload, lambda told: None, lambda: False)))


@contextmanager
def known_in(folder: Path, result: dict[str, Any]) -> Iterator[Known]:
    """A server in this process."""
    with served(folder, running=True, check=default_check) as client:
        made = Known(sign_in(client), result)
        made.ids()
        yield made


@pytest.fixture
def known(tmp_path: Path, result: dict[str, Any]) -> Iterator[Known]:
    """A server of the test's own."""
    with known_in(tmp_path, result) as made:
        yield made


@pytest.fixture(scope="module")
def lasting(tmp_path_factory: pytest.TempPathFactory, result: dict[str, Any]) -> Iterator[Known]:
    """One server for all calls: whatever is sent to it, it serves whoever signed in to the end."""
    with known_in(tmp_path_factory.mktemp("lasting"), result) as made:
        yield made
        assert made.client.get("/api/projects").is_success


def test_description(known: Any) -> None:
    """What the server says of itself is sound OpenAPI (by the standard's own schema), and has the calls of the page."""
    assert known.client.get("/api/openapi.json").json() == DESCRIBED.raw_schema
    DESCRIBED.validate()
    assert DESCRIBED.raw_schema["openapi"].startswith("3.1")
    assert {"/api/catalogue", "/api/draft", "/api/searches", "/api/uploads"} <= set(DESCRIBED.raw_schema["paths"])


@DESCRIBED.exclude(path_regex="events$").parametrize()
@settings(max_examples=10)
def test_as_described(case: Case[Any], lasting: Any) -> None:
    """No request ends in a fault of ours; status, type and body are as described, for ids that are there as well."""
    answer = lasting.send(case)
    case.validate_response(answer)
    assert answer.status_code < 500
    if answer.status_code == 404:
        case.path_parameters.update(
            {name: each for name, each in lasting.ids().items() if name in case.path_parameters}
        )
        answer = lasting.send(case)
        case.validate_response(answer)
        assert answer.status_code < 500


DEEP = json.loads("[" * 200 + "]" * 200)
HOSTILE = st.sampled_from(
    [
        *(None, True, -1, 0, 1e308, 10**400, "", " ", "\0", "\ud800", "x" * 10_000, [], {}, DEEP, {"a": DEEP}),
        *("0 in", "-3 in", "1/0 in", "nan in", "inf", "1e308 in", "1e-308 mm", "9" * 5000 + " in", "٣ in", "½ ½ in"),
        *("../../etc/passwd", "/dev/zero", "<script>alert(1)</script>", "{{7*7}}", "'; drop table projects --", "%n%s"),
    ]
) | st.text(max_size=20)


def leaves(data: bool | dict[str, Any] | list[Any] | str, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Where the values of nested data are."""
    parts = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in parts:
        yield (*path, key)
        yield from leaves(value, (*path, key))


@st.composite
def spoilt(draw: DrawFn, data: dict[str, Any]) -> dict[str, Any]:
    """Sound data with one value put in another's place, or one more key."""
    data = copy.deepcopy(data)
    path = draw(st.sampled_from(sorted(leaves(data), key=str)))
    held = data
    for key in path[:-1]:
        held = held[key]
    if isinstance(held, dict) and draw(st.integers(0, 7)) == 0:
        held[draw(st.text(max_size=10))] = draw(HOSTILE)
    else:
        held[path[-1]] = draw(HOSTILE)
    return data


def asked(kind: str, **sent: dict[str, Any]) -> dict[str, Any]:
    """The body of a search."""
    return {"kind": kind, "effort": "quick", "options": {}} | sent


SOUND = {
    "draft": ("/api/draft", {"job": JOB}),
    "buy": ("/api/searches", asked("buy", job=JOB, options={"seed": 1})),
    "widths": ("/api/searches", asked("widths", job=JOB, options={"from": "54 in", "to": "60 in"})),
    "run": ("/api/searches", asked("run", order=tomllib.loads(TEMPLATE))),
    "changes": ("/api/searches/{search}/changes", {"job": JOB}),
    "changed order": ("/api/searches/{search}/changes", {"order": tomllib.loads(TEMPLATE)}),
    "ledger": (
        "/api/ledger",
        {"kind": "bought", "told": {"what": "trim", "name": "zip", "amount": 40}, "day": "2026-11-20"},
    ),
    "client": ("/api/clients", {"name": "Ann", "body": JOB["body"], "day": "2026-11-20", "note": "in boots"}),
    "shelf": ("/api/shelf", {"kind": "style", "name": "Ann's coat", "data": {"garment": "robe", "style": {}}}),
    "move": ("/api/searches/{search}/move", {"marker": 0, "piece": 1, "x": 0, "y": 0, "turn": 0}),
}


@pytest.mark.parametrize("call", SOUND)
def test_sound_but_for_one_value(call: str, known: Any) -> None:
    """What makes sense is taken; with one hostile value in it the answer is as described too, never a fault."""
    path, sound = SOUND[call]

    @settings(max_examples=40, deadline=None, derandomize=True, database=None, phases=[Phase.explicit, Phase.generate])
    @example(sound)
    @given(spoilt(sound))
    def send(body: dict[str, Any]) -> None:
        case = DESCRIBED[path]["POST"].Case(body=body, path_parameters=known.ids(), media_type="application/json")
        answer = known.send(case)
        case.validate_response(answer)
        assert answer.is_success or body is not sound, answer.text
        if answer.status_code == 202:
            known.client.delete(f"/api/searches/{answer.json()['id']}")

    send()


BODIES = (b"", b"{", b"\xff\xfe", b"[" * 100_000, b'{"job": ' + b"9" * 5000 + b"}", b'{"job": NaN}', b"null", b'"job"')


@pytest.mark.parametrize("path", [path for path, calls in DESCRIBED.raw_schema["paths"].items() if "post" in calls])
def test_no_json(path: str, lasting: Any) -> None:
    """What is no JSON, or none that could be meant, is refused with a reason at every call."""
    for body in BODIES:
        where = path.format(search="done", project="x", day="x", pattern="0" * 32, number=0)
        sent = lasting.client.post(where, content=body, headers={"Content-Type": "application/json"})
        assert sent.status_code < 500, (body[:20], sent.text)
        assert sent.status_code in (200, 204) or sent.json().get("error") or sent.json()["errors"]
