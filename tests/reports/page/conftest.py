"""A server in this process, with fake searches, and a client that has signed in."""

from __future__ import annotations

from contextlib import contextmanager
from functools import partial
from typing import TYPE_CHECKING, Any, cast

import pytest
from starlette.testclient import TestClient

from reports.page.server.app import create_app
from reports.page.server.session import Session
from reports.page.store.store import Store
from tests.make import fake_search as fake

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from contextlib import AbstractContextManager
    from pathlib import Path

    from fastapi import FastAPI

PORT = 8437
HERE = f"http://127.0.0.1:{PORT}"
OURS = {"X-Ellwand": "1"}


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    """An empty store."""
    made = Store(tmp_path)
    yield made
    made.close()


@contextmanager
def served(folder: Path, session: Session | None = None, running: bool = False, **options: Any) -> Iterator[TestClient]:
    """A client of a server that keeps its work in a folder; not signed in."""
    store = Store(folder)
    options = dict[str, Any](task=fake.task, check=fake.check, workers=1) | options
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


@pytest.fixture
def serve(tmp_path: Path) -> Callable[..., AbstractContextManager[TestClient]]:
    """Make a client of a server in the folder of the test; not signed in."""
    return partial(served, tmp_path / "work")


@pytest.fixture
def guest(serve: Callable[..., AbstractContextManager[TestClient]]) -> Iterator[TestClient]:
    """A client that has not signed in."""
    with serve() as client:
        yield client


@pytest.fixture
def client(guest: TestClient) -> TestClient:
    """A client that has opened the address with the token."""
    return sign_in(guest)


def app_of(client: TestClient) -> FastAPI:
    """The server that a client talks to."""
    return cast("FastAPI", client.app)


def sign_in(client: TestClient) -> TestClient:
    """Open the page as whoever started it does, and send what the page sends."""
    assert client.get("/", params={"token": app_of(client).state.session.token}).status_code == 303
    client.headers.update(OURS)
    return client
