"""Whoever listens: a listener, or a plain function."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from nesting.search.listener import Listener
from nesting.search.solver import solve
from nesting.search.stop import AnyOf, MaxIterations, MaxRuntime
from pieces.errors import WrongTypeError
from tests.make.jigsaw import jigsaw

if TYPE_CHECKING:
    from nesting.marker.marker import Marker


def test_a_function_hears_what_a_listener_hears() -> None:
    """Each shorter marker, the last of them the answer's."""
    problem, heard, by_function = jigsaw(100.0, 150.0, 6, seed=1), [], []

    class Heard(Listener):
        def on_best(self, marker: Marker) -> None:
            heard.append(marker.length)

    solve(problem, MaxIterations(20), listener=Heard())
    result = solve(problem, MaxIterations(20), listener=lambda marker: by_function.append(marker.length))
    assert by_function == heard and by_function[-1] == result.marker.length


def test_a_function_stops() -> None:
    """It is asked once an iteration, with the best length so far, and its word is kept."""
    asked: list[float] = []

    def enough(length: float) -> bool:
        asked.append(length)
        return len(asked) > 4

    result = solve(jigsaw(100.0, 150.0, 6, seed=1), enough)
    assert (result.iterations, result.stopped_by, len(asked)) == (4, "criterion", 5)
    assert asked[-1] == result.marker.length


@pytest.mark.parametrize(
    ("stop", "said"),
    [
        (60, "not the number 60"),
        (None, "not None"),
        (MaxRuntime, "not the class MaxRuntime"),
        (lambda: True, "cannot be called so: too many positional arguments"),
        ("soon", "not the text 'soon'"),
    ],
)
def test_what_cannot_stop(stop: Any, said: str) -> None:
    """A number, a class or a function of nothing is no stop, and neither of several."""
    with pytest.raises(WrongTypeError, match=r"^the stop must be a function of the best length so far") as found:
        solve(jigsaw(100.0, 150.0, 6, seed=1), stop)
    assert said in str(found.value)
    with pytest.raises(WrongTypeError, match=r"^the stop must be"):
        AnyOf(MaxIterations(3), stop)


@pytest.mark.parametrize("listener", [3, Listener, lambda: None])
def test_what_cannot_listen(listener: Any) -> None:
    """A number, a class or a function of nothing hears nothing."""
    with pytest.raises(WrongTypeError, match=r"^the listener must be a Listener, or a function that takes a marker"):
        solve(jigsaw(100.0, 150.0, 6, seed=1), MaxIterations(3), listener=listener)
