"""Who is answered: checks of token and cookie, host, origin, header, size, and of what a page may load."""

from __future__ import annotations

import asyncio
from typing import TYPE_CHECKING, Any

import pytest
from pytest import MonkeyPatch

from reports.page.server import guard
from reports.page.server.session import Session, kept_secret
from tests.reports.page.conftest import HERE, OURS, app_of, sign_in

if TYPE_CHECKING:
    from collections.abc import Callable
    from contextlib import AbstractContextManager
    from pathlib import Path

    from fastapi.testclient import TestClient


def test_token(guest: Any) -> None:
    """Only the address with the token gives a cookie, which no script can read; then `/` is the page."""
    assert guest.get("/").status_code == 401
    assert guest.get("/", params={"token": "wrong"}).status_code == 401
    assert "set-cookie" not in guest.get("/", params={"token": "wrong"}).headers
    opened = guest.get("/", params={"token": app_of(guest).state.session.token})
    assert (opened.status_code, opened.headers["location"]) == (303, "/")
    cookie = opened.headers["set-cookie"].lower()
    assert "httponly" in cookie
    assert "samesite=strict" in cookie
    assert app_of(guest).state.session.token not in cookie
    assert "main.js" in guest.get("/").text


def test_api_needs_cookie(guest: TestClient) -> None:
    """Without the cookie no call of the API is answered, not even its description."""
    for path in ("/api/projects", "/api/openapi.json", "/api/backup", "/api/searches/x", "/api/nothing"):
        assert guest.get(path).status_code == 401
    assert guest.post("/api/projects", json={}, headers=OURS).status_code == 401
    guest.cookies.set("ellwand-8437", "forged")
    assert guest.get("/api/projects").status_code == 401


@pytest.mark.parametrize(
    "host", ["evil.example", "evil.example:8437", "127.0.0.1:1", "", "127.0.0.1:8437.evil.example"]
)
def test_host(client: TestClient, host: str) -> None:
    """A name that leads here from elsewhere (DNS rebinding) is not answered, cookie or not: RFC 9110, 421."""
    assert client.get("/api/projects", headers={"Host": host}).status_code == 421
    assert client.get("/", headers={"Host": host}).status_code == 421


def test_our_names(client: TestClient) -> None:
    """The machine's own names are answered."""
    for host in ("127.0.0.1:8437", "localhost:8437", "LOCALHOST:8437", "[::1]:8437"):
        assert client.get("/css/style.css", headers={"Host": host}).status_code != 421


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "http://evil.example"},
        {"Origin": "null"},
        {"Origin": "http://127.0.0.1:9999"},
        {"Origin": "https://127.0.0.1:8437"},
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
        {"X-Ellwand": ""},
    ],
)
def test_forged(client: TestClient, headers: dict[str, str]) -> None:
    """What another site's page could send changes nothing, though the browser adds the cookie."""
    sent = client.post("/api/projects", json={"name": "x", "data": {}}, headers=headers)
    assert sent.status_code == 403
    assert client.get("/api/projects").json() == []


def test_own_origin(client: TestClient) -> None:
    """The page itself may."""
    headers = {"Origin": HERE, "Sec-Fetch-Site": "same-origin"}
    assert client.post("/api/projects", json={"name": "x", "data": {}}, headers=headers).status_code == 201


def test_methods(client: TestClient) -> None:
    """A method that a path does not know is refused with those it does (RFC 9110); no other site may ask (CORS)."""
    for method in ("TRACE", "CONNECT", "PATCH", "OPTIONS"):
        asked = client.request(method, "/api/projects", headers={"Origin": HERE})
        assert asked.status_code == 405
        assert asked.headers["allow"] == "GET, POST"
        assert not [name for name in asked.headers if name.startswith("access-control")]
    assert client.get("/api/restore").headers["allow"] == "POST"
    assert client.get("/api/nothing").status_code == 404


def test_policy(client: TestClient) -> None:
    """No script, style or anything else from elsewhere or within a page; no page may frame it (CSP level 3)."""
    for path in ("/", "/api/projects", "/nothing", "/api/projects/nothing"):
        headers = client.get(path).headers
        policy = dict(part.split(" ", 1) for part in headers["content-security-policy"].split("; "))
        assert policy["default-src"] == "'self'"
        assert policy["frame-ancestors"] == policy["object-src"] == policy["base-uri"] == "'none'"
        assert "unsafe" not in headers["content-security-policy"]
        assert "http" not in headers["content-security-policy"]
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["referrer-policy"] == "no-referrer"
    assert client.get("/api/projects").headers["cache-control"] == "no-store"


def test_size_told(client: TestClient, monkeypatch: MonkeyPatch) -> None:
    """A body that says it is too large is refused; no length is believed that is no number."""
    monkeypatch.setattr(guard, "LARGEST_BODY", 100)
    assert client.post("/api/projects", json={"name": "x", "data": {"a": "b" * 100}}).status_code == 413
    assert client.post("/api/projects", content=b"{}", headers={"Content-Length": "-1"}).status_code == 413


def test_size_counted(client: TestClient, monkeypatch: MonkeyPatch) -> None:
    """A body in chunks, which says nothing of its size, is counted."""
    monkeypatch.setattr(guard, "LARGEST_BODY", 100)
    headers = {"Content-Type": "application/json"}
    chunks = (b'{"name": "x", ', b'"data": {}}', b" " * 100)
    assert client.post("/api/projects", content=iter(chunks[:2]), headers=headers).status_code == 201
    assert client.post("/api/projects", content=iter(chunks), headers=headers).status_code == 413


def test_slow(client: TestClient, monkeypatch: MonkeyPatch) -> None:
    """A body that does not come is not waited for for ever."""
    monkeypatch.setattr(guard, "SLOWEST_BODY", 0.01)
    monkeypatch.setattr(guard.Guard, "_refusal", lambda *_: None)
    sent = []

    async def never() -> Any:
        await asyncio.sleep(60)

    async def send(message: Any) -> None:
        sent.append(message)

    scope = {"type": "http", "method": "POST", "path": "/api/projects", "headers": []}
    stack: Any = app_of(client).build_middleware_stack()
    asyncio.run(stack(scope, never, send))
    assert sent[0]["status"] == 408


@pytest.mark.parametrize(
    "body", [b"", b"{", b"[" * 50_000, b'{"name": "\\ud800", "data": {}}', b"\xff", b"[]", b"null"]
)
def test_no_json(client: TestClient, body: bytes) -> None:
    """What is no project is refused in our words: broken JSON, endless nesting, letters that are none."""
    sent = client.post("/api/projects", content=body, headers={"Content-Type": "application/json"})
    assert sent.status_code in (400, 422)
    assert set(sent.json()) & {"error", "errors"}


def test_not_a_number(client: TestClient) -> None:
    """NaN, which Python takes for JSON and browsers do not (RFC 8259), is refused."""
    body = b'{"name": "x", "data": {"a": NaN}}'
    sent = client.post("/api/projects", content=body, headers={"Content-Type": "application/json"})
    assert sent.status_code == 422
    assert client.get("/api/projects").json() == []


def test_static_stays_inside(client: TestClient) -> None:
    """No path leads out of the folder of the page."""
    for path in ("/../app.py", "/%2e%2e/app.py", "/..%2fapp.py", "/js/../../app.py", "//etc/passwd"):
        assert client.get(HERE + path).status_code in (400, 404)


def test_password(serve: Callable[..., AbstractContextManager[TestClient]]) -> None:
    """With a password there is no token; the form lets in whoever knows it, and no other site's form does."""
    with serve(Session(password="long enough, this", wait=0)) as client:
        assert app_of(client).state.session.token is None
        assert 'type="password"' in client.get("/").text
        assert client.post("/login", data={"password": "wrong"}).status_code == 401
        assert client.post("/login", content=b"\xff&&password").status_code == 401
        assert client.get("/api/projects").status_code == 401
        right = {"password": "long enough, this"}
        assert client.post("/login", data=right, headers={"Origin": "http://evil.example"}).status_code == 403
        opened = client.post("/login", data=right, headers={"Origin": HERE})
        assert opened.status_code == 303
        assert "long enough" not in opened.headers["set-cookie"]
        assert client.get("/api/projects").status_code == 200


def test_secret_is_kept(tmp_path: Path) -> None:
    """A page left open goes on after the server is started again; not with another password."""
    first = kept_secret(tmp_path)
    assert first == kept_secret(tmp_path)
    assert first != kept_secret(tmp_path, "another word")
    assert (tmp_path / "session").stat().st_mode & 0o077 == 0


def test_network(serve: Callable[..., AbstractContextManager[TestClient]]) -> None:
    """A server for a network answers to its name and to numeric addresses; still to no other name."""
    with serve(names=["cutting-room"], any_address=True) as client:
        sign_in(client)
        for host, status in (("cutting-room:8437", 200), ("192.168.1.5:8437", 200), ("evil.example:8437", 421)):
            assert client.get("/css/style.css", headers={"Host": host}).status_code == status
