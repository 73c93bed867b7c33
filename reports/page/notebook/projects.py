"""What the data of a project name: its job, its answers, the pattern files it uses."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator


def asked_in(data: dict[str, Any]) -> dict[str, Any]:
    """The job of a project; empty where it has none."""
    job = data.get("job")
    return job if isinstance(job, dict) else {}


def searches_of(data: Any) -> set[str]:
    """The searches that a project holds on to."""
    return set(_under(data, "search"))


def uploads_of(data: Any) -> set[str]:
    """The pattern files that it uses, or has an answer for."""
    return set(_under(data, "pieces_file"))


def _under(value: Any, key: str) -> Iterator[str]:
    """All texts under a key."""
    if isinstance(value, dict):
        if isinstance(held := value.get(key), str):
            yield held
        for one in value.values():
            yield from _under(one, key)
    elif isinstance(value, list):
        for one in value:
            yield from _under(one, key)
