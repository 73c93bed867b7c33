"""Ctrl-C and SIGTERM at any moment: one line, the code of the signal, no half file, no process left."""

import signal

import pytest

from tests.reports.interrupting import interrupt

MOMENTS = (
    ("draft", signal.SIGTERM, 0.0, False),
    ("import", signal.SIGINT, 0.05, True),
    ("buy", signal.SIGINT, 0.2, True),
    ("buy", signal.SIGTERM, 1.2, False),
    ("buy as data", signal.SIGINT, 0.1, False),
    ("fits", signal.SIGTERM, 0.4, True),
    ("widths", signal.SIGINT, 0.9, True),
    ("chart", signal.SIGTERM, 1.5, True),
    ("chart in one process", signal.SIGTERM, 0.6, False),
    ("draft", signal.SIGINT, 0.7, False),
    ("run", signal.SIGINT, 1.0, True),
    ("serve", signal.SIGINT, 0.5, True),
)


@pytest.mark.parametrize(("command", "number", "after", "group"), MOMENTS)
def test_any_moment(command, number, after, group):
    """A signal so many seconds after a command began, while it imports, starts processes, searches or writes.

    Many more, at random: ``python -m tests.reports.interrupting 300``.
    """
    ended = interrupt(command, number, after, group=group)
    assert not ended.faults, f"{ended.faults}: {ended.err}"
    assert ended.code in (0, 128 + number)


def test_twice():
    """A second signal ends a search at once, and its best is lost; one line says so all the same."""
    ended = interrupt("buy", signal.SIGINT, 0.6, again=0.05)
    assert not ended.faults, f"{ended.faults}: {ended.err}"
    assert ended.code == 128 + signal.SIGINT
