"""Passwords: who guesses keeps nobody else from giving the right one."""

from __future__ import annotations

import asyncio

from reports.page.server.session import MOST_GUESSING, Session, address_group

RIGHT = "a long right word"


def test_guesses_of_others() -> None:
    """Many wrong ones from one address: that address waits, the owner at another is let in meanwhile."""

    async def run() -> None:
        session = Session(password=RIGHT, wait=30.0)
        guesses = [asyncio.create_task(session.is_password("wrong", "10.0.0.9")) for _ in range(MOST_GUESSING + 3)]
        assert await asyncio.wait_for(session.is_password(RIGHT, "10.0.0.2"), 20)
        assert sorted(str(one.result()) for one in guesses if one.done()) == ["None"] * 3
        for one in guesses:
            one.cancel()
        await asyncio.gather(*guesses, return_exceptions=True)
        assert not await asyncio.wait_for(Session(password=RIGHT, wait=0.0).is_password("wrong", "10.0.0.9"), 20)

    asyncio.run(run())


def test_address_group() -> None:
    """Of IPv6 a whole network of 64 bits is one guesser's; an IPv4 address, or a name, stands for itself."""
    assert address_group("2001:db8::1") == address_group("2001:db8::ffff") != address_group("2001:db8:0:1::1")
    assert address_group("10.0.0.2") != address_group("10.0.0.3")
    assert address_group("fe80::1%eth0") == address_group("fe80::2")
    assert address_group("testclient") == "testclient"
