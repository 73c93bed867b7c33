"""What a marker or a plan is found again by: a digest of all that it follows from."""

from __future__ import annotations

import hashlib
import struct
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from importlib.metadata import version
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from nesting.problem.problem import Problem

FORMAT = 1
"""Of the files, and of what their names stand for."""

UNSEEN = ("name", "piece")
"""What a search does not look at: a cloth or a piece of another name is laid the same way."""


def key_of(problem: Problem | tuple[Any, ...], *effort: Any) -> str:
    """What a marker or a plan is found again by: all that it follows from, the effort, and this program's version."""
    digest = hashlib.sha256()
    for part in (FORMAT, version("ellwand"), effort, problem):
        _feed(digest, part)
    return digest.hexdigest()[:40]


def _feed(digest: hashlib._Hash, value: Any) -> None:
    """Add a value to a digest, to the last bit, with its kind, so that no two values read alike."""
    if is_dataclass(value) and not isinstance(value, type):
        digest.update(f"<{type(value).__name__}>".encode())
        for field in fields(value):
            if field.name not in UNSEEN:
                digest.update(field.name.encode())
                _feed(digest, getattr(value, field.name))
    elif isinstance(value, np.ndarray):
        digest.update(f"array{value.shape}{value.dtype}".encode() + np.ascontiguousarray(value).tobytes())
    elif isinstance(value, tuple | list):
        digest.update(f"list{len(value)}".encode())
        for part in value:
            _feed(digest, part)
    elif isinstance(value, Mapping):
        digest.update(f"mapping{len(value)}".encode())
        for part in value.items():
            _feed(digest, part)
    elif isinstance(value, float):
        digest.update(b"float" + struct.pack("<d", value))
    else:
        digest.update(f"{type(value).__name__}:{value!r};".encode())
