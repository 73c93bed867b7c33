"""The model: patterns, choices and too little cloth."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from nesting.cloth.repeat import Repeat
from nesting.placing.question import Placing
from nesting.problem.item import Choice, Item, Variant
from nesting.problem.problem import Problem

BRICK = np.array([(0, 0), (100, 0), (100, 100), (0, 100)], dtype=float)


def bricks(number: int, width: float = 100.0) -> Problem:
    """So many squares of 100 mm on a strip."""
    return Problem.from_outlines(width, [BRICK], [number], [[0.0]])


def test_on_a_pattern_the_next_piece_waits_for_its_line() -> None:
    """Three squares of 100 on a strip as wide, matched on lines 130 apart: 360, wherever the pattern begins."""
    plain = bricks(3)
    (item,) = plain.items
    ways = tuple(replace(variant, match=(10.0, 10.0)) for variant in item.variants)
    striped = replace(plain, items=(replace(item, variants=ways),), repeat=Repeat(along=130.0))
    placing = Placing(striped, 500.0)
    assert placing.ask(359.0, 2.0).kind == "impossible"
    assert placing.ask(360.0, 2.0).kind == "open"
    assert Placing(plain, 500.0).ask(301.0, 2.0).kind == "open"


@pytest.mark.parametrize("off", [-1000.0, -135.0, -25.0, 165.0, 2345.0])
def test_a_point_far_from_its_piece(off: float) -> None:
    """The same with the points on a mark so far from the pieces, on lines 10 apart: all squares lie edge to edge."""
    plain = bricks(3)
    (item,) = plain.items
    ways = tuple(replace(variant, match=(off, 10.0)) for variant in item.variants)
    striped = replace(plain, items=(replace(item, variants=ways),), repeat=Repeat(along=10.0))
    placing = Placing(striped, 500.0)
    assert placing.ask(299.0, 2.0).kind == "impossible"
    assert placing.ask(300.0, 2.0).kind != "impossible"


def test_what_stands_in_may_be_shorter() -> None:
    """A square of 100, in whose stead two strips of 50 x 40 may lie side by side: 40 will do, 39 will not."""
    strip = np.array([(0, 0), (40, 0), (40, 50), (0, 50)], dtype=float)
    square = Variant(BRICK, 0.0, False, 0, 0.0, 0.0)
    part = Variant(strip, 0.0, False, 0, 0.0, 50.0)
    items = (Item("square", 1, (square,)), Item("part", 0, (part,)))
    problem = replace(bricks(1), items=items, choices=(Choice(0, (1, 1)),))
    placing = Placing(problem, 200.0)
    assert placing.ask(39.0, 2.0).kind == "impossible"
    assert placing.ask(40.0, 2.0).kind == "open"


def test_a_piece_longer_than_the_length() -> None:
    """Where a piece alone is longer, no solver is asked."""
    answer = Placing(bricks(1), 200.0).ask(99.0, 1.0)
    assert answer.kind == "impossible"
    assert answer.spent == 0.0


def test_gap_is_kept() -> None:
    """Two squares 10 mm apart on a strip as wide as they are take 210."""
    placing = Placing(replace(bricks(2), gap=10.0), 300.0)
    assert placing.ask(209.0, 2.0).kind == "impossible"
    assert placing.ask(210.0, 2.0).kind == "open"
