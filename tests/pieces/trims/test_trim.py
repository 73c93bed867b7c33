"""How many of a trim are bought."""

from __future__ import annotations

from pieces.trims.trim import TrimNeeded


def test_counted_things_are_multiplied() -> None:
    """Seven buttons for each of three jackets are 21."""
    assert TrimNeeded("buttons or snaps", ("front edge",), count=7).bought(3) == 21


def test_thread_is_added_up_before_it_is_rounded() -> None:
    """60 m is one spool of 100 m, twice 60 m two, four times 60 m three; another spool holds 250 m."""
    thread = TrimNeeded("thread", ("side",), needed=60_000, sold=100_000)
    assert [thread.bought(garments) for garments in (1, 2, 4)] == [1, 2, 3]
    assert thread.bought(4, sold=250_000) == 1


def test_a_machine_needs_its_spools() -> None:
    """However little is used, an overlock machine runs from three; what fills two exactly needs no more."""
    thread = TrimNeeded("overlock thread", ("side",), needed=200_000, sold=100_000, at_once=3)
    assert (thread.bought(1), thread.bought(2)) == (3, 4)


def test_an_area_is_not_counted() -> None:
    """Of interfacing only the area is known."""
    assert TrimNeeded("interfacing", ("front facing",), area=1e5).bought(2) is None
