"""What comes in beside what is there: other names and ids, the same each time."""

from __future__ import annotations

import hashlib
import json
from itertools import count
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

LONGEST_NAME = 200
"""Letters of a name."""

BESIDE = " (from backup)"
"""What is put to the name of what comes in beside another of the same name."""


def others(own: str, end: str = "") -> Iterator[str]:
    """A name of one's own, and others that follow from it, the same each time."""
    yield own + end
    for number in count(1):
        yield hashlib.sha256(f"{own}:{number}".encode()).hexdigest()[: len(own)] + end


def beside(name: str, number: int, end: str = BESIDE) -> str:
    """The name of what comes in beside another of the same name."""
    end = end if number == 1 else f"{end[:-1]} {number})"
    return f"{name[: LONGEST_NAME - len(end)]}{end}"


def renamed(text: str, names: Mapping[str, str]) -> str:
    """JSON that names searches and files by what they are called here."""
    other = {old: new for old, new in names.items() if old != new}
    if not other:
        return text
    return json.dumps(_renamed(json.loads(text), lambda said: other.get(said, said)), separators=(",", ":"))


def _renamed(value: Any, name: Callable[[str], str]) -> Any:
    if isinstance(value, dict):
        return {name(key): _renamed(one, name) for key, one in value.items()}
    if isinstance(value, list):
        return [_renamed(one, name) for one in value]
    return name(value) if isinstance(value, str) else value
