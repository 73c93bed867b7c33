"""Slow connections: they are ended after a time, and keep nobody else from an answer."""

from __future__ import annotations

import asyncio
from typing import TYPE_CHECKING, Any

from starlette.responses import PlainTextResponse
from uvicorn.config import Config
from uvicorn.server import ServerState

from reports.page.server import patient
from reports.page.server.patient import PatientProtocol

if TYPE_CHECKING:
    from collections.abc import Awaitable, Callable

    import pytest

HEAD = b"GET / HTTP/1.1\r\nHost: here\r\n"
SLOW = 300


def served(talk: Callable[[int], Awaitable[None]]) -> None:
    """Talk to a server that answers every request at once."""

    async def run() -> None:
        config = Config(PlainTextResponse("here"), log_config=None, lifespan="off", limit_concurrency=600)
        config.load()
        state = ServerState()
        loop = asyncio.get_running_loop()
        made: Callable[[], Any] = lambda: PatientProtocol(config, state, {})  # noqa: E731
        server = await loop.create_server(made, "127.0.0.1", 0)
        async with server:
            await asyncio.wait_for(talk(server.sockets[0].getsockname()[1]), 60)

    asyncio.run(run())


def test_slow_heads(monkeypatch: pytest.MonkeyPatch) -> None:
    """300 connections that never end their request: others are answered meanwhile, and all 300 are closed."""
    monkeypatch.setattr(patient, "SLOWEST_HEAD", 1.0)

    async def talk(port: int) -> None:
        slow = [await asyncio.open_connection("127.0.0.1", port) for _ in range(SLOW)]
        for _, writer in slow:
            writer.write(HEAD)
        reader, writer = await asyncio.open_connection("127.0.0.1", port)
        for _ in range(2):  # one connection for both
            writer.write(HEAD + b"\r\n")
            assert (await reader.readline()).split()[1] == b"200"
            assert await reader.readuntil(b"here") is not None
        ends = await asyncio.gather(*(reader.read() for reader, _ in slow))
        assert ends == [b""] * SLOW
        for _, each in [*slow, (reader, writer)]:
            each.close()
        await asyncio.sleep(0.05)

    served(talk)


def test_a_head_in_parts(monkeypatch: pytest.MonkeyPatch) -> None:
    """One that comes in two parts within the time is answered."""
    monkeypatch.setattr(patient, "SLOWEST_HEAD", 30.0)

    async def talk(port: int) -> None:
        reader, writer = await asyncio.open_connection("127.0.0.1", port)
        writer.write(HEAD)
        await asyncio.sleep(0.05)
        writer.write(b"\r\n")
        assert (await reader.readline()).split()[1] == b"200"
        writer.close()
        await asyncio.sleep(0.05)

    served(talk)
