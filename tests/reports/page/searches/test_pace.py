"""How far a search is: cloth by cloth, and how long it will still take."""

from __future__ import annotations

import pytest

from reports.page.searches.pace import USUAL_END, Pace


class Clock:
    """Goes only when it is told to."""

    seconds = 0.0

    def __call__(self) -> float:
        """The time."""
        return self.seconds


def test_time_left() -> None:
    """Of four searches alike, each with a start and an end: what is left is what the rest takes.

    How long an end takes is known once there was one.
    """
    clock = Clock()
    pace = Pace(2, 1.0, clock)
    for number, cloth in enumerate((0, 0, 1, 1)):
        start = clock.seconds = 20.0 * number
        pace.follow([1.0] * (3 - number))
        pace.begin(cloth, 1.0)
        for work in (0.0, 0.25, 0.5, 0.75, 1.0):  # 3 s to begin, 12 s to search, 5 s to end
            clock.seconds = start + 3.0 + 12.0 * work
            pace.step(work)
            told = pace.plain()
            assert (told["cloth"], told["of"], told["proving"]) == (cloth + 1, 2, False)
            here, done = 12.0 * (1.0 - work), 3.0 + 12.0 * work
            after, ending = (3 - number) * 15.0, 5.0 / 15.0 if number else USUAL_END
            if number or work:
                assert told["left_s"] == pytest.approx(here + after + ending * (done + here + after), abs=0.1)
            else:
                assert told["left_s"] is None


def test_between_two_searches() -> None:
    """Before a search has made its first step, its whole work is still to do; some end before their time.

    The first has used half of its work: so will the one that is ahead.
    """
    clock = Clock()
    pace = Pace(1, 1.0, clock)
    pace.follow([1.0, 1.0])
    pace.begin(0, 1.0)
    pace.step(0.0)
    clock.seconds = 5.0
    pace.step(0.5)
    pace.follow([1.0])
    pace.begin(0, 1.0)
    assert pace.plain()["left_s"] == pytest.approx(10.0 + 5.0)


def test_shares() -> None:
    """Ways that share the work of a cloth are shorter searches each."""
    clock = Clock()
    pace = Pace(1, 2.0, clock)
    pace.follow([0.25])
    pace.begin(0, 0.25)
    pace.step(0.0)
    clock.seconds = 4.0
    pace.step(0.4)
    assert pace.plain()["left_s"] == pytest.approx(1.0 + 5.0 + USUAL_END * (4.0 + 1.0 + 5.0))


def test_a_proof_takes_as_long_as_it_takes() -> None:
    """Nothing is said of its end; nor of first layouts, which take no work."""
    pace = Pace(1, 0.0)
    pace.begin(0, 1.0)
    pace.step(0.0)
    assert pace.plain()["left_s"] is None
    pace.begin(0, None)
    assert pace.plain() == {"cloth": 1, "of": 1, "left_s": None, "proving": True}
