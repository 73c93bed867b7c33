"""Whether a marker of one problem is a marker of another."""

from __future__ import annotations

from dataclasses import replace

from nesting.cloth.repeat import Repeat
from nesting.problem.likeness import difference
from nesting.problem.problem import Problem

SQUARE = [[0.0, 0.0], [40.0, 0.0], [40.0, 40.0], [0.0, 40.0]]


def strip(width: float = 100.0, turn: float = 0.0) -> Problem:
    """A square on a strip."""
    return Problem.from_outlines(width, [SQUARE], [1], [[turn]])


def whole(*parts: Problem) -> Problem:
    """Stretches one behind another."""
    return replace(strip(), stretches=parts, loosest=strip())


def test_alike() -> None:
    """What was made twice is alike, wherever its pattern begins."""
    assert difference(strip(), strip()) == "" == difference(whole(strip()), whole(strip()))
    start = [replace(strip(), repeat=Repeat(30.0, start=start)) for start in (0.0, 10.0)]
    assert difference(*start) == ""


def test_the_first_difference_is_told() -> None:
    """Another turn is told, a part that is missing, and a difference within a part."""
    assert difference(strip(), strip(turn=90.0)) == "'piece 0' has another outline, or may lie in other ways"
    assert difference(whole(strip()), whole(strip(), strip())) == "it has another number of stretches"
    assert difference(whole(strip()), whole(strip(90.0))) == "its width is 90, not 100"
