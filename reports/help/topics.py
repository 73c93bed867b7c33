"""The topics of the help: a page of Markdown each, beside this file."""

from __future__ import annotations

import re
from importlib.resources import files
from typing import NamedTuple

from reports.errors import HelpError

INDEX = "index"
"""The page that lists all topics, in their order."""

ALSO = {
    "demo": "buy",
    "draft": "buy",
    "help": INDEX,
    "lay": "buy",
    "measures": "measuring",
    "new": "job",
    "which": "fits",
}
"""Commands without a page of their own, each with the topic that tells of it."""

LINK = re.compile(r"(!?)\[([^\]]+)\]\(([\w-]+)\.md(?:#[\w-]+)?\)")
PICTURE = re.compile(r"^!\[[^\]]*\]\([^)]+\)\n\n?", re.MULTILINE)


class Topic(NamedTuple):
    """A page of the help."""

    name: str
    text: str

    @property
    def title(self) -> str:
        """Its heading."""
        return self.text.partition("\n")[0].removeprefix("# ")

    @property
    def in_terminal(self) -> str:
        """Its text without pictures; a link names the command that shows the other page."""
        return LINK.sub(_as_command, PICTURE.sub("", self.text))


def topic_names() -> list[str]:
    """All topics, in the order of the index."""
    return [found[3] for found in LINK.finditer(_text(INDEX))]


def topic_called(name: str) -> Topic:
    """A topic, or the one that tells of a command.

    Raises
    ------
    HelpError
        If there is none of that name.
    """
    names = topic_names()
    found = ALSO.get(name, name)
    if found not in (INDEX, *names):
        raise HelpError(name, names)
    return Topic(found, _text(found))


def _text(name: str) -> str:
    return (files("reports.help") / f"{name}.md").read_text(encoding="utf-8")


def _as_command(link: re.Match[str]) -> str:
    words, name = link[2], link[3]
    return f"`{name}`" if words == name else f"{words} (`ellwand help {name}`)"
