"""Searches behind the page: a bounded queue, real processes, stop, and events that can be resumed."""

from __future__ import annotations

import json
import time
from typing import TYPE_CHECKING, Any

import pytest
from pytest import MonkeyPatch

from reports.errors import MissingError, StateError
from reports.page.errors import FullError
from reports.page.search import LOST, Search
from reports.page.searches import queue
from reports.page.searches.queue import Searches
from reports.page.searches.turns import Turns
from reports.page.searches.worker import Worker
from tests.make import fake_search as fake
from tests.reports.page.conftest import sign_in

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from contextlib import AbstractContextManager
    from pathlib import Path

    from starlette.testclient import TestClient

    from reports.page.store.store import Store


@pytest.fixture
def searches(store: Store) -> Iterator[Searches]:
    """One worker, three may wait."""
    made = Searches(store, fake.task, fake.check, workers=1, turns=Turns(3))
    yield made
    made.close()


def until(is_so: Callable[..., Any], seconds: float = 30.0) -> None:
    """Wait until something is so."""
    end = time.monotonic() + seconds
    while not is_so():
        assert time.monotonic() < end, "waited in vain"
        time.sleep(0.01)


def ended(search: Search) -> Any:
    """A search, once it has ended and is kept."""
    until(lambda: search.has_ended)
    return search


def test_kinds_of_end(searches: Searches, store: Store, monkeypatch: MonkeyPatch) -> None:
    """Done with the result; failed in the words of a mistake, without the trace of ours; a dead process is replaced."""
    done = ended(searches.submit("buy", {"job": {"steps": 2}}))
    assert (done.state, done.result) == ("done", {"best": 1000, "whole": True})
    assert done.progress == {"fabric": 0, "length_mm": 999}
    for job, said in (
        ({"fail": 1}, "the cloth is too narrow"),
        ({"break": 1}, "ellwand itself"),
        ({"die": 1}, "without"),
    ):
        failed = ended(searches.submit("buy", {"job": job}))
        assert (failed.state, failed.result) == ("failed", None)
        assert said in failed.error
    assert ended(searches.submit("buy", {"job": {}})).state == "done"
    until(lambda: store.search(done.id)["state"] == "done")
    assert store.search(done.id)["result"] == done.result


def test_stop(searches: Searches, store: Store) -> None:
    """A search that runs hands over its best; one that waits is over at once; one more than may wait is refused."""
    running = searches.submit("buy", {"job": {"steps": 10_000, "pause": 0.01}})
    until(lambda: running.state == "running" and running.progress)
    waiting = [searches.submit("buy", {"job": {}}) for _ in range(3)]
    with pytest.raises(FullError, match="3 searches wait"):
        searches.submit("buy", {"job": {}})
    assert searches.stop(waiting[0].id).state == "stopped"
    searches.stop(running.id)
    assert ended(running).state == "stopped"
    assert running.result is not None
    assert running.result["best"] < 1000
    assert not running.result["whole"]
    assert [ended(search).state for search in waiting] == ["stopped", "done", "done"]
    searches.forget(waiting[1].id)
    with pytest.raises(MissingError):
        searches.find(waiting[1].id)


def test_gives_way(searches: Searches) -> None:
    """Of one process, a first layout that is shown gives way to who has none yet; then its search goes on."""
    shown = searches.submit("buy", {"effort": "first", "job": {"shows": 1, "steps": 100, "pause": 0.01}})
    until(lambda: shown.progress)
    other = searches.submit("buy", {"effort": "first", "job": {"shows": 1}})
    until(lambda: other.has_ended)
    assert (shown.state, other.state) == ("running", "done")
    assert ended(shown).result == {"best": 1000, "whole": True}


def test_stop_of_what_gave_way(searches: Searches) -> None:
    """Who gave way and is stopped while waiting has stopped at once, and says that there is no answer."""
    shown = searches.submit("buy", {"effort": "first", "job": {"shows": 1, "steps": 10_000, "pause": 0.01}})
    until(lambda: shown.progress)
    other = searches.submit("buy", {"effort": "first", "job": {"steps": 10_000, "pause": 0.01}})
    until(lambda: other.progress)
    assert searches.stop(shown.id).state == "stopped"
    assert shown.error == "stopped before there was an answer"
    searches.stop(other.id)
    assert ended(other).state == "stopped"


def test_hangs(store: Store) -> None:
    """A search that does not heed the stop is ended with its process, and the next one gets a fresh process."""
    hung, fresh = (Search(name, "buy", {"job": {"hang": name == "a"}}) for name in "ab")
    worker = Worker(fake.task, longest=0.3, grace=0.3)
    worker.run(hung)
    assert (hung.state, "did not stop in time" in (hung.error or "")) == ("failed", True)
    worker.run(fresh)
    worker.close()
    assert fresh.result is not None
    assert (fresh.state, fresh.result["whole"]) == ("done", True)


def test_clean_stop(store: Store, tmp_path: Path) -> None:
    """A server that stops keeps the best so far; what never began is said to be lost; no process is left."""
    searches = Searches(store, fake.task, fake.check, workers=1)
    running = searches.submit("buy", {"job": {"steps": 10_000, "pause": 0.01}})
    waiting = searches.submit("buy", {"job": {}})
    until(lambda: running.progress)
    searches.close()
    assert not any(worker.is_alive for worker in searches._workers)
    assert store.search(running.id)["state"] == "stopped"
    assert store.search(running.id)["result"]["best"] < 1000
    with pytest.raises(FullError):
        searches.submit("buy", {"job": {}})
    again = Searches(store, fake.task, fake.check, workers=1)
    assert again.find(running.id).result == running.result
    assert (again.find(waiting.id).state, again.find(waiting.id).error) == ("failed", LOST)
    again.close()


def test_keep(searches: Searches, store: Store) -> None:
    """A layout made by hand takes the place of the result, once there is one."""
    running = searches.submit("buy", {"job": {"steps": 10_000, "pause": 0.01}})
    with pytest.raises(StateError, match="no result yet"):
        searches.keep(running.id, {"by": "hand"})
    until(lambda: running.progress)
    searches.stop(running.id)
    ended(running)
    searches.keep(running.id, {"by": "hand"})
    assert store.search(running.id)["result"] == {"by": "hand"}


def frames(text: str) -> Iterator[tuple[Any, ...]]:
    """Events of a stream: as WHATWG's HTML standard says (server-sent events, 9.2.6), in short."""
    for block in text.split("\n\n"):
        fields = dict(line.split(": ", 1) for line in block.split("\n") if line and not line.startswith(":"))
        if "event" in fields:
            yield int(fields["id"]), fields["event"], json.loads(fields["data"])


def test_events(serve: Callable[..., AbstractContextManager[TestClient]]) -> None:
    """The stream has every better layout, then the end; with Last-Event-ID it goes on where it was cut off."""
    with serve(running=True) as client:
        sign_in(client)
        asked = client.post("/api/searches", json={"kind": "buy", "job": {"steps": 3, "pause": 0.05}})
        assert asked.status_code == 202
        path = f"/api/searches/{asked.json()['id']}"
        stream = client.get(f"{path}/events")
        assert stream.headers["content-type"].startswith("text/event-stream")
        seen = list(frames(stream.text))
        assert [number for number, _, _ in seen] == list(range(1, len(seen) + 1))
        lengths = [data["length_mm"] for _, name, data in seen if name == "progress"]
        assert lengths == [1000, 999, 998]
        assert [data["state"] for _, name, data in seen if name == "state"] == ["waiting", "running", "done"]
        assert seen[-1][1] == "done"
        rest = client.get(f"{path}/events", headers={"Last-Event-ID": "4"})
        assert list(frames(rest.text)) == seen[4:]
        for late in ("999", "5x", str(len(seen))):
            assert list(frames(client.get(f"{path}/events", headers={"Last-Event-ID": late}).text))[-1][1] == "done"
        told = client.get(path).json()
        assert (told["state"], told["result"], told["error"]) == ("done", {"best": 1000, "whole": True}, None)
        assert client.delete(path).status_code == 204
        assert client.get(path).status_code == client.get(f"{path}/events").status_code == 404


MISTAKES: tuple[dict[str, Any], ...] = (
    {"kind": "sew"},
    {"job": None},
    {"kind": "run"},
    {"effort": "for ever"},
    {"options": []},
    {"more": 1},
)


def test_mistakes(serve: Callable[..., AbstractContextManager[TestClient]]) -> None:
    """A search that makes no sense is refused before it waits."""
    with serve(running=True) as client:
        sign_in(client)
        for wrong in MISTAKES:
            sent = client.post("/api/searches", json={"kind": "buy", "job": {}} | wrong)
            assert (sent.status_code, bool(sent.json()["errors"])) == (422, True), wrong


def test_full(serve: Callable[..., AbstractContextManager[TestClient]], monkeypatch: MonkeyPatch) -> None:
    """When as many wait as may, the answer is 429 with a time to try again; stop makes room."""
    monkeypatch.setattr(queue, "Turns", lambda: Turns(1))
    with serve(running=True) as client:
        sign_in(client)
        slow = {"kind": "buy", "job": {"steps": 10_000, "pause": 0.01}}
        first = client.post("/api/searches", json=slow).json()["id"]
        until(lambda: client.get(f"/api/searches/{first}").json()["state"] == "running")
        assert client.post("/api/searches", json=slow).status_code == 202
        full = client.post("/api/searches", json=slow)
        assert (full.status_code, full.headers["retry-after"]) == (429, "10")
        client.post(f"/api/searches/{first}/stop")
        until(lambda: client.post("/api/searches", json=slow).status_code == 202)
