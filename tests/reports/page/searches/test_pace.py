"""How far a search is: cloth by cloth, and how long it will still take."""

from __future__ import annotations

from reports.page.searches.pace import Pace


class Clock:
    """Goes only when it is told to."""

    seconds = 0.0

    def __call__(self) -> float:
        """The time."""
        return self.seconds


def test_time_left() -> None:
    """Of two cloths in two ways each, at a steady pace: what is left is what the rest takes."""
    clock = Clock()
    pace = Pace([2, 2], work=1.0, clock=clock)
    assert pace.plain() == {"cloth": 1, "of": 2, "left_s": None, "proving": False}
    for number, cloth in enumerate((0, 0, 1, 1)):
        pace.begin(cloth, is_proof=False)
        for share in (0.25, 0.5, 0.75, 1.0):
            clock.seconds = 10 * (number + share)
            pace.step(share)
            assert pace.plain() == {"cloth": cloth + 1, "of": 2, "left_s": 40 - clock.seconds, "proving": False}


def test_refused_ways_take_no_time() -> None:
    """Once the second cloth is laid, the ways of the first that were passed over are not waited for."""
    clock = Clock()
    pace = Pace([5, 1], work=2.0, clock=clock)
    pace.begin(0, is_proof=False)
    clock.seconds = 10.0
    pace.step(2.0)
    assert pace.plain()["left_s"] == 50.0
    pace.begin(1, is_proof=False)
    pace.step(1.0)
    clock.seconds = 15.0
    assert pace.plain()["left_s"] == 5.0


def test_a_proof_takes_as_long_as_it_takes() -> None:
    """Nothing is said of its end; nor of first layouts, which take no work."""
    pace = Pace([1], work=0.0)
    pace.begin(0, is_proof=False)
    pace.step(0.0)
    assert pace.plain()["left_s"] is None
    pace.begin(0, is_proof=True)
    assert pace.plain() == {"cloth": 1, "of": 1, "left_s": None, "proving": True}
