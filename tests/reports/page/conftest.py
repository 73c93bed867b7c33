"""A server in this process, with fake searches, and a client that has signed in."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

import pytest
from starlette.testclient import TestClient

from reports.page.server.app import create_app
from reports.page.server.session import Session
from reports.page.store.store import Store
from tests.make import fake_search as fake

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

PORT = 8437
HERE = f"http://127.0.0.1:{PORT}"
OURS = {"X-Ellwand": "1"}


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Any]:
    """An empty store."""
    made = Store(tmp_path)
    yield made
    made.close()


@pytest.fixture
def serve(tmp_path: Any) -> Iterator[Any]:
    """Make a client of a server in the folder of the test; not signed in."""

    @contextmanager
    def served(session: Any = None, running: bool = False, **options: Any) -> Iterator[Any]:
        store = Store(tmp_path / "work")
        options = {"task": fake.task, "check": fake.check, "workers": 1} | options
        app = create_app(store, session or Session(), port=PORT, **options)
        client = TestClient(app, HERE, follow_redirects=False, raise_server_exceptions=False)
        try:
            if running:
                with client:
                    yield client
            else:
                yield client
        finally:
            store.close()

    return served


@pytest.fixture
def guest(serve: Callable[..., Any]) -> Iterator[TestClient]:
    """A client that has not signed in."""
    with serve() as client:
        yield client


@pytest.fixture
def client(guest: TestClient) -> TestClient:
    """A client that has opened the address with the token."""
    return sign_in(guest)


def sign_in(client: Any) -> Any:
    """Open the page as whoever started it does, and send what the page sends."""
    assert client.get("/", params={"token": client.app.state.session.token}).status_code == 303
    client.headers.update(OURS)
    return client
