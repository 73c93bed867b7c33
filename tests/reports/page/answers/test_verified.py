"""The page shows no marker that does not give what was asked for, not even while it searches."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest
from pytest import MonkeyPatch

from nesting.errors import WrongMarkerError
from nesting.problem import lay, ways
from reports.ask.wanted import asked_of
from reports.buy import kept
from reports.buy.kept import Kept
from reports.errors import StateError
from reports.page.answers.fields import job_of
from reports.page.answers.kept import moved
from reports.page.searches import work
from reports.plan.effort import Effort
from tests.make.model import with_fabrics

JOB = tomllib.loads(with_fabrics('width = "60 in"\nspread = "open"'))


def exchange_hands(monkeypatch: MonkeyPatch) -> None:
    """Lay a left for each right."""
    sound = ways.free_ways
    monkeypatch.setattr(
        lay,
        "free_ways",
        lambda piece, outline, cloth, hands, *how, **more: sound(
            piece, outline, cloth, [False for _ in hands], *how, **more
        ),
    )


def test_while_it_searches(monkeypatch: MonkeyPatch) -> None:
    """The first layout found ends a search that goes wrong; nothing of it is shown."""
    exchange_hands(monkeypatch)
    told: list[dict[str, Any]] = []
    with pytest.raises(WrongMarkerError, match="'front' is cut 2 left and 0 right"):
        work.run_task("buy", {"job": JOB, "effort": "quick", "options": {}}, told.append, lambda: False)
    assert told == []


def test_kept_and_moved(monkeypatch: MonkeyPatch) -> None:
    """An answer made again, and a piece moved in it, are judged anew: here as if two garments had been asked for."""
    monkeypatch.setitem(work.EFFORTS, "quick", Effort(0))
    found = work.run_task("buy", {"job": JOB, "effort": "quick", "options": {}}, lambda told: None, lambda: False)
    made = Kept(job_of(JOB))
    made.plan(found)
    marker = made.marker(found, 0)
    place = marker.placements[0]
    assert moved(marker, 0, place.x, place.y, None, made.asked(found, 0))["legal"]
    sound = asked_of
    monkeypatch.setattr(kept, "asked_of", lambda offer, spread, pieces, *how: sound(offer, spread, pieces, 2))
    for show in (
        lambda: made.plan(found),
        lambda: made.marker(found, 0),
        lambda: moved(marker, 0, place.x, place.y, None, made.asked(found, 0)),
    ):
        # A kept answer that does not hold is said to be of an earlier version; the check is why.
        with pytest.raises((WrongMarkerError, StateError)) as refused:
            show()
        assert "'back' is cut 1 time, needed 2" in str(refused.value.__cause__ or refused.value)
