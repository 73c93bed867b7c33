"""Where the page of a folder is served, for whoever wants to open it a second time."""

from __future__ import annotations

import http.client
import os
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

FILE = "address"
"""In the folder of saved work, for this user alone, as long as the server runs: it lets in whoever reads it."""

PATIENCE = 5.0
"""Seconds in which a server must answer."""


@contextmanager
def told(folder: Path, address: str) -> Iterator[None]:
    """Keep the address of a server that runs within. Where it cannot be written, a second start does not find it."""
    path = folder / FILE
    with suppress(OSError):
        path.unlink(missing_ok=True)
        with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w", encoding="utf-8") as file:
            file.write(address)
    try:
        yield
    finally:
        with suppress(OSError):
            path.unlink(missing_ok=True)


def served_address(folder: Path) -> str | None:
    """The address at which the page of a folder is served now; None if it is not, or asks for a password."""
    try:
        address = (folder / FILE).read_text(encoding="utf-8")
        place = urlsplit(address)
        line = http.client.HTTPConnection(place.hostname or "", place.port, timeout=PATIENCE)
        try:
            line.request("GET", f"{place.path}?{place.query}")
            answer = line.getresponse()
        finally:
            line.close()
    except (OSError, ValueError, http.client.HTTPException):
        return None
    # A file left by a server that was killed may name the port of another program: only ours knows the token.
    is_ours = answer.status == 303 and answer.headers.get("Set-Cookie", "").startswith("ellwand-")
    return address if is_ours else None
