"""Orders, rules and costs that make no sense are refused, by name; costs add up."""

from __future__ import annotations

import math
from typing import Any

import pytest

from nesting.errors import LayPlanError
from nesting.lays.order import LayCosts, LayRules, StyleOrder


def order(least: dict[tuple[str, str], int], most: dict[tuple[str, str], int]) -> StyleOrder:
    """Sizes S and M in red."""
    return StyleOrder(("S", "M"), ("red",), least, most)


def test_ranges() -> None:
    """What is left out is not wanted."""
    wanted = order({("red", "S"): 2}, {("red", "S"): 3})
    assert wanted.range_of(("red", "S")) == (2, 3)
    assert wanted.most_of("red") == [3, 0]


@pytest.mark.parametrize(
    ("least", "most", "named"),
    [
        ({("red", "L"): 1}, {("red", "L"): 1}, "'L' in 'red'"),
        ({("blue", "S"): 1}, {("blue", "S"): 1}, "'S' in 'blue'"),
        ({("red", "S"): 3}, {("red", "S"): 2}, "'S' in 'red'"),
        ({("red", "S"): -1}, {("red", "S"): 2}, "'S' in 'red'"),
        ({}, {("red", "S"): 0}, "no garment"),
    ],
)
def test_orders_that_make_no_sense(least: Any, most: Any, named: str) -> None:
    """The size and colour are named."""
    with pytest.raises(LayPlanError, match=named):
        order(least, most)


@pytest.mark.parametrize(
    "rules", [(0.0, 1, 1, 1), (1.0, 0, 1, 1), (1.0, 1, 0, 1), (1.0, 3, 1, 4), (1.0, 3, 1, 0), (math.nan, 1, 1, 1)]
)
def test_rules_that_allow_nothing(rules: tuple[float, int, int, int]) -> None:
    """A table without length, no plies, no garments, more plies a step than can be cut."""
    with pytest.raises(LayPlanError):
        LayRules(*rules)


def test_costs_of_ply_and_lay() -> None:
    """A ply: its walk, and cloth and spreading of its length and ends; a lay: set-up, garments, and its length."""
    costs = LayCosts({"red": 0.02}, lay=5.0, ply=0.5, ply_mm=0.001, garment=0.3, cut_mm=0.002, end_loss=40.0)
    assert costs.of_ply("red", 960.0) == pytest.approx(0.5 + 1000 * 0.021)
    assert costs.of_lay((2, 1), 960.0) == pytest.approx(5.0 + 0.9 + 1.92)
    with pytest.raises(LayPlanError, match="'blue'"):
        costs.of_ply("blue", 960.0)
    with pytest.raises(LayPlanError, match="cloth 'red'"):
        LayCosts({"red": -1.0})
