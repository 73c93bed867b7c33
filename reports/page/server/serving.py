"""Serving the page: on an address of this machine, until it is told to stop."""

from __future__ import annotations

import ipaddress
import os
import signal
import socket
import threading
from typing import TYPE_CHECKING

import uvicorn

from reports.page.errors import AddressError
from reports.page.server.address import told
from reports.page.server.app import create_app
from reports.page.server.patient import PatientProtocol
from reports.page.server.presence import Presence
from reports.page.server.session import Session, kept_secret
from reports.page.store.opening import open_store
from reports.signals import end

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path
    from types import FrameType

    from fastapi import FastAPI

PORT = 8437
"""Where the page is, if that is free: the same each time, so that a page left open finds the server again."""

MOST_CONNECTIONS = 600
"""At the same time; more are told to come back."""

PATIENCE = 2
"""Seconds that answers under way have when the server stops."""


class Serving(uvicorn.Server):
    """A server that stops at the first Ctrl-C or SIGTERM, and says when it is ready."""

    def __init__(self, app: FastAPI, ready: Callable[[], None]) -> None:
        super().__init__(
            uvicorn.Config(
                app,
                http=PatientProtocol,
                lifespan="on",
                log_config=None,
                access_log=False,
                server_header=False,
                proxy_headers=False,
                limit_concurrency=MOST_CONNECTIONS,
                timeout_graceful_shutdown=PATIENCE,
            )
        )
        self._app, self._ready = app, ready

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Begin to answer."""
        await super().startup(sockets)
        if self.started:
            self._ready()
            threading.Thread(target=_draft_once, daemon=True).start()

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        """Stop; the second Ctrl-C ends at once, and all processes with it. uvicorn's own would leave them behind."""
        if self.should_exit and sig == signal.SIGINT:
            end(sig, frame)
        self.should_exit = True
        self._close_streams()

    async def on_tick(self, counter: int) -> bool:
        """Whether to stop: told to, or left by everyone."""
        return await super().on_tick(counter) or self._is_left()

    def _is_left(self) -> bool:
        presence: Presence | None = getattr(self._app.state, "presence", None)
        if presence is None or not presence.is_left(is_busy=not self._app.state.searches.is_idle):
            return False
        self._close_streams()
        return True

    def _close_streams(self) -> None:
        """Open streams end, which the server would wait for."""
        if hasattr(self._app.state, "searches"):
            self._app.state.searches.is_closing = True


def serve(
    folder: Path,
    host: str,
    port: int | None,
    password: str | None,
    ready: Callable[[str], None],
    while_open: float | None = None,
) -> None:
    """Serve until told to stop.

    Parameters
    ----------
    folder
        Of saved work.
    port
        By default the usual one, or any that is free if that is not.
    ready
        Called with the address to open.
    while_open
        Seconds without an open page after which the server ends by itself, once no search runs; by default it does not.

    Raises
    ------
    AddressError, StoreError
        If the address cannot be listened to, or the folder not used.
    """
    store = open_store(folder)
    try:
        listening = _listening(host, port)
        session = Session(kept_secret(folder, password), password)
    except BaseException:
        store.close()
        raise
    at = listening.getsockname()[1]
    here = socket.gethostname().lower()
    names = [] if is_loopback(host) else [_in_address(host.lower()), here, f"{here}.local"]
    presence = None if while_open is None else Presence(while_open)
    app = create_app(store, session, port=at, names=names, any_address=not is_loopback(host), presence=presence)
    shown = "127.0.0.1" if is_loopback(host) else here if host in ("0.0.0.0", "::") else _in_address(host)
    address = f"http://{shown}:{at}/" + (f"?token={session.token}" if session.token else "")
    try:
        with told(folder, address):
            Serving(app, lambda: ready(address)).run(sockets=[listening])
    finally:
        listening.close()
        store.close()


def _draft_once() -> None:
    """Import what drafting needs, so that the first pieces are drawn as fast as all others."""
    from reports.page.answers.answers import draft
    from reports.page.answers.catalogue import catalogue

    draft(catalogue()["template_job"])


def is_loopback(host: str) -> bool:
    """Whether an address is reached from this machine alone."""
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return host.lower() == "localhost"


def _listening(host: str, port: int | None) -> socket.socket:
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    for tried in (PORT, 0) if port is None else (port,):
        try:
            listening = socket.create_server((host, tried), family=family)
        except OSError as error:
            why = os.strerror(error.errno) if error.errno and error.errno > 0 else str(error)
        except OverflowError:
            why = "choose a port from 0 to 65535"
        else:
            # asyncio sets it only where the protocol is named, which it is not here; without it answers wait 40 ms.
            listening.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
            return listening
    raise AddressError(f"cannot serve at {host}:{PORT if port is None else port}: {why.lower()}: choose another --port")


def _in_address(host: str) -> str:
    return f"[{host}]" if ":" in host else host
