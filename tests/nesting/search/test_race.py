"""Searches that run by turns."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from nesting.search import race, rounds, warm_up
from nesting.search.race import APART, LONG, RUNNERS, STALE, Race
from nesting.search.rounds import Rounds
from nesting.search.solver import solve
from nesting.search.stop import MaxWork
from nesting.shape.layout import Layout
from tests.make.jigsaw import jigsaw

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    import pytest

    from nesting.shape.nofit import NoFit
    from nesting.shape.shapes import Shapes

STEP = 0.05
"""Work of a step of a made-up search."""


def layout(length: float) -> Layout:
    """A layout of nothing, so long."""
    return Layout(np.empty(0, dtype=np.int64), np.empty(0), np.empty(0), length)


class Course:
    """Made-up searches, whose lengths are known by the work they have done, and the work of all."""

    def __init__(self, effort: float, length: Callable[[int, float], float], end: float = np.inf) -> None:
        self.effort, self.length, self.end = effort, length, end
        self.done = 0.0
        self.steps: list[int] = []

    def begin(self, seed: int) -> CourseSearch:
        """A search that counts from no work."""
        return CourseSearch(self, seed)

    def race(self) -> Race:
        """The race of these searches, from seed 0."""
        return Race(self.begin, 0, lambda: self.done, lambda: self.done / self.effort)

    def run(self) -> tuple[Race, list[float]]:
        """A race until the effort is spent, and the lengths it told of."""
        going, told = self.race(), list[float]()
        for found in going.rounds():
            told += [found.length] if found else []
            if self.done >= self.effort:
                break
        return going, told

    def share(self, number: int) -> float:
        """How much of all work the search of a number got."""
        return self.steps.count(APART * number) / len(self.steps)


class CourseSearch:
    """One of these searches."""

    def __init__(self, course: Course, seed: int) -> None:
        self.course, self.seed, self.own, self.best = course, seed, 0.0, layout(100.0)
        self.going = self.steps()

    def rounds(self) -> Iterator[Layout | None]:
        """Steps; may be left and taken up again."""
        for found in self.going:  # noqa: UP028 - `yield from` would close what is to be taken up again.
            yield found

    def steps(self) -> Iterator[Layout | None]:
        """A better layout wherever the course has one."""
        while self.own < self.course.end:
            self.own += STEP
            self.course.done += STEP
            self.course.steps.append(self.seed)
            length = self.course.length(self.seed // APART, self.own)
            is_better = length < self.best.length
            self.best = layout(length) if is_better else self.best
            yield self.best if is_better else None


def test_the_leader_of_the_first_turns_gets_the_rest() -> None:
    """Of three searches that gain all the time the second is ahead: each has an eighth, and it has what is left."""
    course = Course(40.0, lambda number, own: 90.0 - own / 100 - (number == 1))
    going, told = course.run()
    assert [round(course.share(number), 2) for number in range(RUNNERS)] == [0.13, 0.75, 0.12]
    assert told == sorted(told, reverse=True)
    assert going.best.length == told[-1] == 90.0 - 0.75 * 40 / 100 - 1


def test_a_short_effort_is_not_shared_out() -> None:
    """With less effort than a race is worth its while for, one search has it all."""
    course = Course(0.9 * LONG, lambda _, own: 90.0 - own)
    course.run()
    assert course.share(0) == 1


def test_a_leader_that_gains_nothing_makes_room() -> None:
    """After its patience a first search that is stuck is followed by the second, which gets further and leads."""
    course = Course(0.0, lambda number, own: 80.0 if number == 0 else 79.0 - own / 100)
    going = Race(course.begin, 0, lambda: course.done, lambda: 0.0)
    for _ in going.rounds():
        if course.done > 5 * STALE:
            break
    assert STALE < course.steps.index(APART) * STEP < STALE + 3 * STEP
    assert going.best.length < 79.0
    assert set(course.steps[-10:]) == {APART}


def test_only_the_leader_goes_on_towards_the_end() -> None:
    """After three quarters of the effort no step is done by a search that is behind."""
    course = Course(40.0, lambda number, own: 80.0 - min(own, 0.5) + number)
    course.run()
    late = course.steps[int(0.75 * len(course.steps)) + 2 :]
    assert set(late) == {0}


def test_a_search_that_ends_by_itself_ends_the_race() -> None:
    """Of few outlines a search ends when it finds nothing more: so does the race, after that much work."""
    course = Course(40.0, lambda _, own: 80.0 - own, end=1.0)
    course.run()
    assert len(course.steps) == 1.0 / STEP


def test_a_better_layout_from_outside_is_gone_on_from() -> None:
    """The leader takes it over."""
    course = Course(40.0, lambda _, own: 80.0)
    going = course.race()
    going.best = layout(70.0)
    assert going.best.length == 70.0
    assert all(found is None for found, _ in zip(going.rounds(), range(20), strict=False))


def test_a_race_left_is_taken_up_where_it_was() -> None:
    """Looked at a step at a time, as another process does, it goes the way it goes in one."""
    once = Course(40.0, lambda number, own: 90.0 - own / 100 - (number == 1))
    once.run()
    again = Course(40.0, lambda number, own: 90.0 - own / 100 - (number == 1))
    going = again.race()
    while again.done < again.effort:
        next(iter(going.rounds()))
    assert again.steps == once.steps


def test_a_race_repeats(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two searches of the same effort begin from the same seeds, several of them, and end with the same marker."""
    monkeypatch.setattr(race, "LONG", 0.05)
    begun: list[int] = []

    class Noted(Rounds):
        """Notes the seed that it begins from."""

        def __init__(self, shapes: Shapes, nofit: NoFit, start: Layout, seed: int, *more: Any) -> None:
            begun.append(seed)
            super().__init__(shapes, nofit, start, seed, *more)

    monkeypatch.setattr(rounds, "Rounds", Noted)
    problem = jigsaw(97.0, 140.0, 40, seed=3)
    warm_up.begin().join()  # the kernels are made ready by a search, too
    begun.clear()
    one = solve(problem, MaxWork(0.2))
    seeds = list(begun)
    begun.clear()
    other = solve(problem, MaxWork(0.2))
    assert len(set(seeds)) >= RUNNERS
    assert begun == seeds
    assert one.marker.placements == other.marker.placements
