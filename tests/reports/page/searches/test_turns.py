"""Whose turn it is: nobody is shut out by who asks for many, and first layouts go ahead."""

from __future__ import annotations

import pytest

from reports.page.errors import FullError
from reports.page.search import Search
from reports.page.searches.turns import Turns


def search(name: str, effort: str = "good") -> Search:
    """A search; its client is the first letter of its name."""
    return Search(name, "buy", {"effort": effort}, client=name[0])


def taken(turns: Turns) -> list[str]:
    """The names of all that wait, in the order of their turns."""
    found = []
    while one := turns.take():
        found.append(one.id)
    return found


def test_each_client_has_a_turn() -> None:
    """One with 34 searches has one done, then the other has its first."""
    turns = Turns(most_of_one=34)
    for number in range(34):
        turns.add(search(f"a{number}"))
    turns.add(search("b0"))
    turns.add(search("b1"))
    assert taken(turns)[:5] == ["a0", "b0", "a1", "b1", "a2"]


def test_first_layouts_go_ahead() -> None:
    """They are taken before all others, by the process too that takes nothing else."""
    turns = Turns()
    for one in (search("a0"), search("a1", "first"), search("b0", "long"), search("c0", "first")):
        turns.add(one)
    assert [found.id for _ in range(2) if (found := turns.take(others=False))] == ["a1", "c0"]
    assert turns.take(others=False) is None
    assert taken(turns) == ["b0", "a0"]
    assert len(turns) == 0


def test_who_has_seen_none_goes_first() -> None:
    """A first layout that is shown already waits behind those that are not, and ahead of longer searches."""
    turns = Turns()
    shown, long, fresh = search("a0", "first"), search("b0"), search("c0", "first")
    shown.tell({"layout": []})
    turns.add(shown)
    turns.add(long)
    assert not turns.is_in_a_hurry
    turns.add(fresh)
    assert turns.is_in_a_hurry
    assert taken(turns) == ["c0", "a0", "b0"]


def test_others_alone() -> None:
    """Where another process is free for first layouts, they are left to it."""
    turns = Turns()
    turns.add(search("a0", "first"))
    turns.add(search("a1"))
    assert [found and found.id for found in (turns.take(firsts=False), turns.take(firsts=False))] == ["a1", None]


def test_room() -> None:
    """Too many of one, or of all, are refused; who waits no longer makes room."""
    turns = Turns(most_of_one=1, most_in_all=2)
    first = search("a0")
    turns.add(first)
    assert first in turns
    with pytest.raises(FullError, match="1 search waits already"):
        turns.require_room("a")
    turns.require_room("b")
    turns.add(search("b0"))
    with pytest.raises(FullError, match="2 searches of all who use this page"):
        turns.require_room("c")
    turns.drop(first)
    turns.require_room("a")
