"""A connection whose request must come within a time: one that sends it byte by byte holds no place for ever."""

from __future__ import annotations

from typing import TYPE_CHECKING

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol

if TYPE_CHECKING:
    import asyncio

SLOWEST_HEAD = 10.0
"""Seconds in which the lines of a request must have come; of what it carries, `guard` says."""


class PatientProtocol(H11Protocol):
    """HTTP as uvicorn speaks it, with an end to its patience."""

    _deadline: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Wait for a request from now on."""
        super().connection_made(transport)
        self._wait()

    def data_received(self, data: bytes) -> None:
        """Take in what comes; as long as it is no whole request, the time goes on."""
        super().data_received(data)
        if self.conn.their_state is h11.IDLE:
            self._wait()
        else:
            self._stop_waiting()

    def connection_lost(self, exc: Exception | None) -> None:
        """Wait no longer."""
        self._stop_waiting()
        super().connection_lost(exc)

    def _wait(self) -> None:
        if self._deadline is None:
            self._deadline = self.loop.call_later(SLOWEST_HEAD, self._end)

    def _stop_waiting(self) -> None:
        if self._deadline is not None:
            self._deadline.cancel()
            self._deadline = None

    def _end(self) -> None:
        self._deadline = None
        if self.conn.their_state is h11.IDLE:
            self.transport.close()
