"""How short a marker can be: what is asked in which order, and what is known at the end."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nesting.placing.least import NEAREST, Least
from nesting.placing.question import HELD, Placed, Placing
from nesting.proof.bounds import lower_bound
from nesting.search.settled import settled
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from nesting.shape.shapes import Shapes
from tests.make.jigsaw import jigsaw

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from nesting.marker.marker import Marker
    from nesting.placing.model import StandingSpot
    from nesting.problem.problem import Problem


def least(problem: Problem, most: float, aims: Callable[[float], float | None] | None = None) -> Least:
    """What is to be proved of a problem."""
    shapes = Shapes(problem)

    def settle(spots: Sequence[StandingSpot]) -> Marker | None:
        layout = settled(shapes, spots)
        return layout.to_marker(shapes) if layout else None

    return Least(Placing(problem, most, settle=settle), *lower_bound(problem), aims)


def test_the_shortest_to_the_millimetre() -> None:
    """Of five parts that fill 250 mm with a step cut off, the shortest length is found and proved to a millimetre."""
    problem = jigsaw(300.0, 400.0, 4, 3)
    first = solve(problem, MaxIterations(0)).marker
    found = least(problem, first.length)
    marker, spent = found.go_on(first, 30.0)
    assert spent < 30.0
    assert found.bound <= 400.0 + 1e-6
    assert marker.length - found.bound <= 2 * NEAREST
    assert found.held == HELD or found.bound == pytest.approx(lower_bound(problem)[0])


def test_the_purchase_is_asked_about_first(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where cloth is sold by 450 mm and one length will do, no less is asked about than decides it."""
    problem = jigsaw(300.0, 400.0, 4, 3)
    first = solve(problem, MaxIterations(0)).marker
    asked: list[float] = []
    found = least(problem, first.length, lambda length: 300.0)
    ask = found.placing.ask

    def told(length: float, effort: float) -> Placed:
        asked.append(length)
        return ask(length, effort)

    monkeypatch.setattr(found.placing, "ask", told)
    found.bound = 200.0
    found.go_on(first, 0.4)
    assert asked[0] == pytest.approx(300.0, abs=0.01)


def test_no_effort_no_question() -> None:
    """Without effort nothing changes."""
    problem = jigsaw(300.0, 400.0, 4, 3)
    first = solve(problem, MaxIterations(0)).marker
    found = least(problem, first.length)
    before = found.bound
    assert found.go_on(first, 0.0) == (first, 0.0)
    assert found.bound == before
