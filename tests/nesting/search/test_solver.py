"""The front door: anytime, repeatable, honest about why it stopped."""

from __future__ import annotations

import itertools
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from nesting.cloth.band import Band
from nesting.cloth.repeat import Repeat
from nesting.errors import CheckError
from nesting.marker.marker import Marker
from nesting.marker.opinion import check
from nesting.problem.item import Item, Variant
from nesting.problem.problem import Problem
from nesting.search.listener import Listener
from nesting.search.solver import solve
from nesting.search.stop import Interrupted, MaxIterations, MaxRuntime, NoImprovement, Target
from pieces.length import mm
from tests.make.jigsaw import jigsaw

if TYPE_CHECKING:
    from numpy.typing import NDArray


class Heard(Listener):
    """Keeps what it hears."""

    def __init__(self) -> None:
        self.lengths: list[float] = []
        self.notes: list[str] = []

    def on_best(self, marker: Marker) -> None:
        """Check it, and keep its length."""
        check(marker)
        self.lengths.append(marker.length)

    def on_note(self, text: str) -> None:
        """Keep the note."""
        self.notes.append(text)


@pytest.fixture
def puzzle() -> Problem:
    """A jigsaw of 15 pieces, 140 long if solved."""
    return jigsaw(100.0, 140.0, 14, seed=3)


def test_a_layout_even_without_time(puzzle: Problem) -> None:
    """No iterations, no seconds: there is still one checked marker."""
    for stop in (MaxIterations(0), MaxRuntime(0.0)):
        result = solve(puzzle, stop)
        check(result.marker)
        assert result.stopped_by == stop.reason and result.iterations == 0


def test_each_marker_heard_of_is_better(puzzle: Problem) -> None:
    """Lengths told to a listener fall, all pass the check, and the last is the result's."""
    heard = Heard()
    result = solve(puzzle, MaxIterations(150), listener=heard)
    assert len(heard.lengths) > 2
    assert all(b < a for a, b in itertools.pairwise(heard.lengths))
    assert heard.lengths[-1] == result.marker.length >= 140.0 * (1 - 1e-6)


def test_the_search_beats_the_fills(puzzle: Problem) -> None:
    """After 150 iterations the jigsaw is at least 8 % shorter than after the first fill."""
    assert solve(puzzle, MaxIterations(150)).marker.length < 0.92 * solve(puzzle, MaxIterations(0)).marker.length


def test_same_seed_same_marker(puzzle: Problem) -> None:
    """One seed, one worker, one number of iterations: the same placements, bit for bit."""
    one, two = (solve(puzzle, MaxIterations(120), seed=7) for _ in range(2))
    assert one.marker.placements == two.marker.placements and one.marker.length == two.marker.length


def test_a_single_piece_is_proved_at_once() -> None:
    """One rectangle, 30 by 20, is as long as its shorter way allows, and the search ends by itself."""
    problem = Problem.from_outlines(100.0, [[[0, 0], [30, 0], [30, 20], [0, 20]]], [1], [[0.0, 90.0]])
    result = solve(problem, MaxRuntime(60.0))
    assert result.stopped_by == "proved" and result.marker.length == pytest.approx(20.0)


def test_rectangles_that_fill_the_cloth_are_proved() -> None:
    """Twelve 40 by 25 rectangles on 100 of cloth: 120 by their area, reached by the fill."""
    problem = Problem.from_outlines(100.0, [[[0, 0], [40, 0], [40, 25], [0, 25]]], [12], [[0.0]])
    assert solve(problem, MaxRuntime(60.0)).stopped_by == "proved"


def test_few_pieces_end_by_themselves() -> None:
    """Three discs leave a gap to the bound that no time closes: the search ends long before its hour is over."""
    angle = np.linspace(0, 2 * np.pi, 12, endpoint=False)
    disc = 20 * np.column_stack([np.cos(angle), np.sin(angle)])
    result = solve(Problem.from_outlines(70.0, [disc], [3], [[0.0]]), MaxRuntime(3600.0))
    assert result.stopped_by == "no improvement" and result.seconds < 600


def test_stops_say_why(puzzle: Problem) -> None:
    """The result names the criterion that ended the search."""
    asked = Interrupted()
    asked.set()
    for stop in (asked, Target(mm(1e9)), NoImprovement(1)):
        assert solve(puzzle, stop).stopped_by == stop.reason


def test_an_interrupt_keeps_the_best(puzzle: Problem) -> None:
    """A KeyboardInterrupt in the middle ends the search with the best marker so far."""
    calls = itertools.count()

    def stop(length: float) -> bool:
        if next(calls) == 5:
            raise KeyboardInterrupt
        return False

    result = solve(puzzle, stop)
    check(result.marker)
    assert result.stopped_by == "interrupt"


def test_starts_from_a_marker(puzzle: Problem) -> None:
    """A search that is given a good marker does not end with a worse one."""
    good = solve(puzzle, MaxIterations(120)).marker
    assert solve(puzzle, MaxIterations(3), initial=good, seed=9).marker.length <= good.length


def test_refuses_a_bad_start(puzzle: Problem) -> None:
    """A marker with all pieces in one heap is no start."""
    good = solve(puzzle, MaxIterations(0)).marker
    heap = tuple(type(p)(p.item, p.copy, p.variant, 0.0, p.y) for p in good.placements)
    with pytest.raises(CheckError):
        solve(puzzle, MaxIterations(3), initial=Marker(puzzle, heap, good.length))


SQUARE = [[0.0, 0.0], [40.0, 0.0], [40.0, 40.0], [0.0, 40.0]]


def squares(*, width: float = 100.0, count: int = 5, gap: float = 2.0, side: float = 1.0) -> Problem:
    """Some squares, 40 a side, on a strip."""
    return Problem.from_outlines(width, [side * np.array(SQUARE)], [count], [[0.0, 180.0]], gap=gap)


@pytest.mark.parametrize(
    ("other", "says"),
    [
        (squares(width=150.0), "its width is 150, not 100"),
        (squares(gap=0.0), "its gap is 0, not 2"),
        (squares(count=4), "it has 'piece 0' 4 times, not 5"),
        (squares(side=0.9), "'piece 0' has another outline, or may lie in other ways"),
        (replace(squares(), lengths=2), "its number of lengths of cloth is 2, not 1"),
        (replace(squares(), faults=(np.array(SQUARE),)), "its cloth has other faults"),
        (replace(squares(), repeat=Repeat(30.0)), "its cloth has another pattern"),
    ],
)
def test_refuses_a_start_of_another_problem(other: Problem, says: str) -> None:
    """A marker of other pieces, or of other cloth, is no start: its length says nothing here."""
    start = solve(other, MaxIterations(0)).marker
    with pytest.raises(CheckError, match=f"^the initial marker is of another problem: {says};"):
        solve(squares(), MaxIterations(1), initial=start)


def test_starts_from_a_marker_of_a_like_problem() -> None:
    """The same pieces on the same cloth, laid anew; begun elsewhere on the pattern; an alternative: all are starts."""
    checks = [replace(squares(), repeat=Repeat(30.0, start=start)) for start in (0.0, 10.0)]
    turned = squares(count=5, side=1.0)
    for problem, like in ((squares(), squares()), checks, (replace(squares(gap=3.0), alternatives=(turned,)), turned)):
        start = solve(like, MaxIterations(0)).marker
        assert solve(problem, MaxIterations(1), initial=start).marker.length <= start.length


def folded_garment() -> Problem:
    """Halves on the fold, loose pieces on the folded cloth or on the single cloth beside it, with a gap."""
    bands = Band("folded", 0.0, 500.0, 2, True, "fold", "free"), Band("single", 500.0, 900.0)
    angle = np.linspace(0, np.pi, 24)
    half = np.column_stack([250 + 250 * np.cos(angle), 200 * np.sin(angle)])
    sleeve = np.array([[0, 0], [300, 0], [260, 180], [150, 230], [40, 180]], dtype=float)

    def ways(outline: NDArray[Any], pinned: bool) -> tuple[Any, ...]:
        high = outline[:, 1].max()
        found = []
        for b, band in enumerate(bands):
            if pinned and b == 0:
                found.append(Variant(outline, 0.0, False, 0, 0.0, 0.0, on_fold=True))
            elif not pinned:
                found.append(Variant(outline, 0.0, False, b, band.low, band.high - high))
        return tuple(found)

    return Problem(bands, (Item("front", 2, ways(half, True)), Item("sleeve", 4, ways(sleeve, False))), gap=4.0)


def test_folds_bands_and_gaps_are_kept_by_the_search() -> None:
    """With pinned halves, two bands and a gap every marker found passes the check; 1 m is the least, by the fold."""
    heard = Heard()
    result = solve(folded_garment(), MaxIterations(80), listener=heard)
    assert heard.lengths and result.marker.length >= 1000.0
    assert result.marker.length < 1100.0


def test_few_rectangles_are_proved() -> None:
    """Seven rectangles, whose area alone proves less: CP-SAT's proven optimum is the answer, and the bound meets it."""
    sizes = [(50, 60), (40, 55), (30, 70), (25, 45), (20, 35), (60, 20), (10, 80)]
    outlines = [[(0, 0), (a, 0), (a, b), (0, b)] for a, b in sizes]
    problem = Problem.from_outlines(100.0, outlines, [1] * 7, [[0.0, 90.0]] * 7)
    result = solve(problem, NoImprovement(100_000))
    assert result.stopped_by == "proved"
    assert result.marker.length - 0.1 < result.bound < result.marker.length  # less by what the check lets pass
    assert result.at_least == result.marker.length and result.gap == 0
