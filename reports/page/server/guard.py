"""What stands before every answer: who asks, from which page, for how much; and what a page may load."""

from __future__ import annotations

import asyncio
import ipaddress
import json
import re
from http.cookies import CookieError, SimpleCookie
from typing import TYPE_CHECKING, NamedTuple
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders

if TYPE_CHECKING:
    from starlette.types import ASGIApp, Message, Receive, Scope, Send

    from reports.page.server.session import Session

PRODUCT_HEADER = "x-ellwand"
"""Sent with whatever changes something: another site's page cannot, without asking first, which is not answered."""

CLIENT = "-client"
"""What the name of the cookie ends in that tells one browser from another, so that each has its turn."""

LARGEST_BODY = 1_000_000
LARGEST_BACKUP = 500_000_000
"""Bytes of a backup; of some hundred answers it has a tenth of that."""

LARGEST_BODIES = {
    "/api/uploads": 25_000_000,
    "/api/uploads/photos": 45_000_000,
    "/api/photos": 15_000_000,
    "/api/restore": LARGEST_BACKUP,
    "/api/restore/projects": LARGEST_BACKUP,
}
"""Bytes that may be sent, where it is more than usual."""

SLOWEST_BODY = 60.0
"""Seconds in which all of it must have come."""

SAFE_METHODS = ("GET", "HEAD")

HEADERS = {
    "Content-Security-Policy": "; ".join(
        [
            *("default-src 'self'", "img-src 'self' data: blob:", "object-src 'none'", "base-uri 'none'"),
            *("form-action 'self'", "frame-ancestors 'none'"),
        ]
    ),
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
}


class RequestRefusal(NamedTuple):
    """Why a request is not answered."""

    status: int
    why: str


class TooMuch(Exception):  # noqa: N818
    """A body that is too large."""


class Guard:
    """The outermost layer of the app.

    Parameters
    ----------
    session
        Whose cookie opens ``/api``.
    hosts
        Names under which the page is reached, with the port; a name that leads here from elsewhere is not answered.
    any_address
        Whether numeric addresses are answered too, for a server that listens to a network.
    cookie
        Name of the cookie; cookies are shared by all ports of a machine, so each port has its own.
    """

    def __init__(
        self, app: ASGIApp, session: Session, hosts: frozenset[str], *, any_address: bool = False, cookie: str
    ) -> None:
        self._app, self._session, self._hosts = app, session, hosts
        self._any_address, self._cookie = any_address, cookie

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request, or say why not."""
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":
            return
        headers, path, method = Headers(scope=scope), scope["path"], scope["method"]

        async def send_guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                added = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    added[name] = value
                added.setdefault("Cache-Control", "no-store" if path.startswith("/api") else "no-cache")
            await send(message)

        refusal = self._refusal(method, path, headers, scope.get("scheme", "http"))
        if refusal is None and method not in SAFE_METHODS:
            try:
                receive = await _whole_body(headers, LARGEST_BODIES.get(path, LARGEST_BODY), receive)
            except TooMuch as error:
                refusal = RequestRefusal(413, str(error))
            except TimeoutError:
                refusal = RequestRefusal(408, f"it took more than {SLOWEST_BODY:g} s to come: try again")
        if refusal is None:
            await self._app(scope, receive, send_guarded)
        else:
            await _refuse(refusal, send_guarded)

    def _refusal(self, method: str, path: str, headers: Headers, scheme: str) -> RequestRefusal | None:
        host = headers.get("host", "").lower()
        if not self._is_ours(host):
            return RequestRefusal(421, "this address is not served here: open the one that 'ellwand serve' printed")
        site, origin = headers.get("sec-fetch-site", "none"), headers.get("origin")
        is_foreign = site not in ("none", "same-origin") or origin not in (None, f"{scheme}://{host}")
        if not path.startswith("/api"):
            return RequestRefusal(403, "sent from another site") if is_foreign and method not in SAFE_METHODS else None
        if is_foreign:
            return RequestRefusal(403, "asked for by another site")
        if not self._session.is_open(cookie_of(headers, self._cookie)):
            return RequestRefusal(401, "not signed in: open the address that 'ellwand serve' printed")
        if method not in SAFE_METHODS and headers.get(PRODUCT_HEADER) != "1":
            return RequestRefusal(403, "the header X-Ellwand: 1 is missing")
        return None

    def _is_ours(self, host: str) -> bool:
        if host in self._hosts or not self._any_address:
            return host in self._hosts
        try:
            name = urlsplit(f"//{host}").hostname
            ipaddress.ip_address(name or "")
        except ValueError:
            return False
        return True


def cookie_of(headers: Headers, name: str) -> str | None:
    """A cookie of a request."""
    try:
        held = SimpleCookie(headers.get("cookie", "")).get(name)
    except CookieError:
        return None
    return held.value if held else None


async def _whole_body(headers: Headers, largest: int, receive: Receive) -> Receive:
    """Take in a body, up to a size and a time; a `receive` that hands it on."""
    why = f"too large: at most {largest // 1000:,} kB are taken here"
    told = headers.get("content-length", "0")
    if not re.fullmatch(r"\d{1,12}", told) or int(told) > largest:
        raise TooMuch(why)
    body = bytearray()
    async with asyncio.timeout(SLOWEST_BODY):
        while True:
            message = await receive()
            if message["type"] != "http.request":
                break
            body += message.get("body", b"")
            if len(body) > largest:
                raise TooMuch(why)
            if not message.get("more_body", False):
                break
    waiting = [{"type": "http.request", "body": bytes(body), "more_body": False}]

    async def again() -> Message:
        return waiting.pop() if waiting else await receive()

    return again


async def _refuse(refusal: RequestRefusal, send: Send) -> None:
    body = json.dumps({"error": refusal.why}).encode()
    headers = [(b"content-type", b"application/json"), (b"content-length", str(len(body)).encode())]
    if refusal.status in (408, 413):
        headers.append((b"connection", b"close"))
    await send({"type": "http.response.start", "status": refusal.status, "headers": headers})
    await send({"type": "http.response.body", "body": body})
