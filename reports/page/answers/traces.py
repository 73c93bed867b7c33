"""What was traced in photos, held while the page runs: what is decided of a photo changes nothing of it."""

from __future__ import annotations

import hashlib
import threading
from collections import OrderedDict
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from reports.page.store.patterns import KeptPattern

MOST, LARGEST = 12, 4_000_000
"""So many are held, and of no more bytes each: those of photos that were opened last."""

_held: OrderedDict[str, bytes] = OrderedDict()
_holding = threading.Lock()


def held_trace(pattern: KeptPattern) -> bytes:
    """What was traced in the photos of a pattern; empty if it is not held."""
    with _holding:
        found = _held.get(_key(pattern), b"")
        if found:
            _held.move_to_end(_key(pattern))
        return found


def hold_trace(pattern: KeptPattern, trace: bytes) -> None:
    """Hold what was traced in the photos of a pattern; the server does not look into it."""
    if len(trace) > LARGEST:
        return
    with _holding:
        _held[_key(pattern)] = trace
        _held.move_to_end(_key(pattern))
        while len(_held) > MOST:
            _held.popitem(last=False)


def _key(pattern: KeptPattern) -> str:
    """All that counts for tracing: the photos, their names, what they are measured by, and whether they are joined."""
    said = repr((pattern.name, pattern.photos, tuple(pattern.by), pattern.is_joined)).encode()
    return hashlib.sha256(hashlib.sha256(pattern.source).digest() + said).hexdigest()
