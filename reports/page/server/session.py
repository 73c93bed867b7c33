"""Who may use the page: whoever opened the address with the token, or knows the password."""

from __future__ import annotations

import asyncio
import hashlib
import hmac
import ipaddress
import os
import secrets
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

FILE = "session"
"""In the folder of saved work, for this user alone: an open page goes on after the server is started again."""

SHORTEST_PASSWORD = 10
"""Letters."""

LONGEST_PASSWORD = 1000
WAIT = 1.0
"""Seconds after a wrong password, in which no other is looked at."""

MOST_GUESSING = 4
"""Passwords from one address that may wait to be looked at."""

MOST_ADDRESSES = 256
"""Addresses from which passwords may wait to be looked at at the same time."""


class Session:
    """The token, the password if there is one, and the secret in the cookie.

    Parameters
    ----------
    secret
        What the cookie holds; by default random.
    password
        Asked for in place of the token in the address.
    """

    def __init__(self, secret: str | None = None, password: str | None = None, wait: float = WAIT) -> None:
        self.secret = secret or secrets.token_urlsafe(32)
        self.token = None if password else secrets.token_urlsafe(32)
        self._salt = secrets.token_bytes(16)
        self._hash = _hashed(password, self._salt) if password else None
        self._hashing, self._wait = asyncio.Lock(), wait
        self._guessing: dict[str, _Guesses] = {}

    @property
    def asks_password(self) -> bool:
        """Whether a password opens the page."""
        return self._hash is not None

    def is_token(self, token: str) -> bool:
        """Whether this is the token of the address that was printed."""
        return self.token is not None and hmac.compare_digest(token.encode(), self.token.encode())

    def is_open(self, cookie: str | None) -> bool:
        """Whether a cookie was given out by this session."""
        return cookie is not None and hmac.compare_digest(cookie.encode(), self.secret.encode())

    async def is_password(self, password: str, host: str = "") -> bool | None:
        """Whether this is the password; None if so many are being tried that this one was not looked at.

        Who guesses at one address waits for that address alone: nobody else is kept from giving the right one.
        """
        if self._hash is None or len(password) > LONGEST_PASSWORD:
            return False
        whose = address_group(host)
        guesses = self._guessing.setdefault(whose, _Guesses())
        try:
            if guesses.waiting >= MOST_GUESSING or len(self._guessing) > MOST_ADDRESSES:
                return None
            guesses.waiting += 1
            try:
                async with guesses.one_at_a_time:
                    async with self._hashing:
                        hashed = await asyncio.to_thread(_hashed, password, self._salt)
                    if hmac.compare_digest(hashed, self._hash):
                        return True
                    await asyncio.sleep(self._wait)
                    return False
            finally:
                guesses.waiting -= 1
        finally:
            if not guesses.waiting:
                self._guessing.pop(whose, None)


class _Guesses:
    """The passwords from one address that wait to be looked at, one at a time."""

    def __init__(self) -> None:
        self.one_at_a_time, self.waiting = asyncio.Lock(), 0


def address_group(host: str) -> str:
    """Whoever has one IPv6 address has the 2**64 around it; of IPv4 each address counts by itself."""
    try:
        address = ipaddress.ip_address(host.partition("%")[0])
    except ValueError:
        return host
    if address.version == 4:
        return host
    return str(ipaddress.ip_network((int(address), 64), strict=False))


def kept_secret(folder: Path, password: str | None = None) -> str:
    """The secret of a folder's cookies, made the first time; with each password another one.

    A person who has only the password of before is not let in by an old cookie.
    """
    path = folder / FILE
    try:
        held = path.read_text(encoding="ascii").strip()
    except (OSError, ValueError):
        held = ""
    if len(held) < 40:
        held = secrets.token_urlsafe(32)
        path.unlink(missing_ok=True)
        with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w", encoding="ascii") as file:
            file.write(held)
    return hmac.new(held.encode(), (password or "").encode(), hashlib.sha256).hexdigest()


def _hashed(password: str, salt: bytes) -> bytes:
    return hashlib.scrypt(password.encode(), salt=salt, n=2**14, r=8, p=1)
