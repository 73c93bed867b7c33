"""The topics of the help: all are listed, each command has one, and a terminal is told which command shows another."""

from __future__ import annotations

from pathlib import Path

import pytest

from reports.errors import HelpError
from reports.help.topics import ALSO, INDEX, Topic, topic_called, topic_names

HELP = Path(__file__).parents[3] / "reports" / "help"


def test_all_are_listed_once() -> None:
    """The index lists each page once, and no other."""
    names = topic_names()
    assert sorted([*names, INDEX]) == sorted(path.stem for path in HELP.glob("*.md"))


@pytest.mark.parametrize("name", [INDEX, *topic_names()])
def test_pages_begin_with_their_title(name: str) -> None:
    """A page begins with its one title."""
    topic = topic_called(name)
    lines = topic.text.splitlines()
    assert lines[0] == f"# {topic.title}"
    assert [line for line in lines if line.startswith("# ")] == lines[:1]


def test_each_command_has_one() -> None:
    """Every command has a page, or another tells of it, by name; a page of its own needs no other."""
    from reports.commands.table import all_commands

    commands = {command.name for command in all_commands()}
    for command in commands:
        assert f"ellwand {command}" in topic_called(command).text
    assert set(ALSO) == commands - set(topic_names())


def test_unknown() -> None:
    """What is asked for and is not there is named, with all that there is."""
    with pytest.raises(HelpError, match=r"no help on 'pockets': choose buy, job, .*limits") as raised:
        topic_called("pockets")
    assert raised.value.topics == tuple(topic_names())


@pytest.mark.parametrize("name", ["", "../job", "job.md", "/etc/passwd", "__init__"])
def test_names_are_no_paths(name: str) -> None:
    """No other file can be asked for."""
    with pytest.raises(HelpError):
        topic_called(name)


def test_in_terminal() -> None:
    """In a terminal a picture is left out, and a link is the command that shows its page."""
    text = "# T\n\n![a picture](x.svg)\n\nSee [sizes\nof all](sizes.md#two), [run](run.md).\n"
    assert Topic("t", text).in_terminal == "# T\n\nSee sizes\nof all (`ellwand help sizes`), `run`.\n"
