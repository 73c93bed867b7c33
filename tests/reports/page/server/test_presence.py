"""A server that ends with the page: when it is left, and when it is not."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.page.server.presence import Presence
from tests.reports.page.conftest import sign_in

if TYPE_CHECKING:
    from starlette.testclient import TestClient


def test_left() -> None:
    """It is left once no page has been open, and no search has run, for as long as its patience."""
    now = [0.0]
    presence = Presence(10, lambda: now[0])

    def is_left_at(time: float, *, is_busy: bool = False) -> bool:
        now[0] = time
        return presence.is_left(is_busy=is_busy)

    assert [is_left_at(time) for time in (0, 10, 10.5)] == [False, False, True]
    with presence.held():
        assert not is_left_at(100)
        with presence.held():
            now[0] = 110
        assert not is_left_at(200)
    assert [is_left_at(time) for time in (209, 211)] == [False, True]
    assert not is_left_at(300, is_busy=True)
    assert [is_left_at(time) for time in (309, 311)] == [False, True]


def test_others_do_not_ask(guest: TestClient) -> None:
    """A server that was not started by an icon goes on without the page, and the page asks no more."""
    assert guest.get("/api/presence").status_code == 401
    with guest as running:
        assert sign_in(running).get("/api/presence").status_code == 204
