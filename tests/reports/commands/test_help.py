"""The command `help`."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest
from pytest import MonkeyPatch

from reports.help.topics import INDEX, topic_called, topic_names

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.reports.conftest import Ran


def test_all_topics(run: Callable[..., Ran]) -> None:
    """Without a topic, all are listed."""
    said = run("help")
    assert (said.code, said.err) == (0, "")
    assert re.findall(r"^- `([\w-]+)`:", said.out, re.MULTILINE) == topic_names()


def test_one_topic(run: Callable[..., Ran]) -> None:
    """A topic is shown as it is written, and a command leads to the page that tells of it."""
    said = run("help", "spread")
    assert (said.code, said.out) == (0, topic_called("spread").in_terminal)
    assert run("help", "new").out == topic_called("job").in_terminal


def test_unknown(run: Callable[..., Ran]) -> None:
    """A topic that is not there is a mistake: one line names those that there are."""
    said = run("help", "pockets")
    assert (said.code, said.out, said.err.count("\n")) == (2, "", 1)
    assert "'pockets'" in said.err and all(name in said.err for name in (topic_names()[0], topic_names()[-1]))


@pytest.mark.parametrize("name", [INDEX, *topic_names()])
def test_in_a_terminal(run: Callable[..., Ran], monkeypatch: MonkeyPatch, name: str) -> None:
    """In a terminal no line is longer than 100 letters, and no mark of Markdown is left over."""
    monkeypatch.setattr("sys.stdout.isatty", lambda: True)
    monkeypatch.setenv("COLUMNS", "140")
    monkeypatch.setenv("TERM", "xterm")
    said = run("help", name)
    lines = re.sub(r"\x1b\[[\d;]*m", "", said.out).splitlines()
    assert said.code == 0
    assert max(len(line.rstrip()) for line in lines) <= 100
    assert not any("](" in line or line.startswith(("#", "|", "```")) for line in lines)
