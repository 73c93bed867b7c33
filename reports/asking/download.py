"""A file of an answer that the page offers."""

from __future__ import annotations

from typing import NamedTuple


class Download(NamedTuple):
    """A file that can be had: its name, what it shows, and what it is made together with."""

    name: str
    title: str
    group: str
