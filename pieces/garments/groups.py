"""Options of styles in groups, and what people call them, by ``tables/options.toml``."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any, NamedTuple

OTHER = "other"
"""The group of options that the table does not have, such as those of garments by others."""


class OptionGroup(NamedTuple):
    """A group of options, and its title."""

    name: str
    title: str


@cache
def _table() -> dict[str, Any]:
    return tomllib.loads((files("pieces") / "tables" / "options.toml").read_text(encoding="utf-8"))


def option_groups() -> tuple[OptionGroup, ...]:
    """All groups, in the order in which they are asked for."""
    return (*(OptionGroup(one["name"], one["title"]) for one in _table()["group"]), OptionGroup(OTHER, "More"))


@cache
def _places() -> dict[str, tuple[str, int]]:
    return {
        option: (group["name"], place) for group in _table()["group"] for place, option in enumerate(group["options"])
    }


def group_of(option: str) -> str:
    """The name of an option's group."""
    return _places().get(option, (OTHER, 0))[0]


def label_of(option: str) -> str:
    """What people call an option."""
    words: str = _table()["labels"].get(option, option.replace("_", " "))
    return words[:1].upper() + words[1:]
