"""Widths from which on pieces lie beside one another: by hand, and against what the search lays."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from nesting.cloth.fabric import Fabric
from nesting.edit.abreast import widths_beside
from nesting.problem.lay import lay_pieces
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from pieces.length import mm
from tests.make.cloth import back, front, tab

if TYPE_CHECKING:
    from nesting.cloth.spread import Spread
    from nesting.edit.abreast import Beside

TWILL = Fabric("twill", mm(1000.0), mm(10.0))


def widths(found: list[Beside], *names: str) -> list[float]:
    """The widths from which on exactly these pieces lie beside one another."""
    return [beside.width for beside in found if beside.names == names]


@pytest.mark.parametrize(
    ("spread", "one", "two"),
    [
        ("open", 70.0, 120.0),  # 50 or 100, and a selvedge on either side
        ("folded", 120.0, 220.0),  # twice 50 or 100 and one selvedge
        ("double-folded", 240.0, 440.0),  # four times that
    ],
)
def test_tabs(spread: Spread, one: float, two: float) -> None:
    """A tab 50 mm across, and two of them, with selvedges of 10 mm."""
    found = widths_beside([tab(4)], TWILL, spread)
    assert widths(found, "tab") == [pytest.approx(one)]
    assert widths(found, "tab", "tab") == [pytest.approx(two)]


def test_the_search_agrees() -> None:
    """Two tabs 80 mm long take 80 mm from the width on at which they fit beside one another, 160 mm below it."""
    (width,) = widths(widths_beside([tab(2)], replace(TWILL, gap=mm(3.0)), "open"), "tab", "tab")
    assert width == pytest.approx(123.0)
    lengths = [
        solve(lay_pieces([tab(2)], replace(TWILL, gap=mm(3.0), width=mm(w)), "open"), MaxIterations(20)).marker.length
        for w in (width + 0.01, width - 0.5)
    ]
    assert lengths == [pytest.approx(80.0), pytest.approx(163.0)]


def test_pieces_on_one_fold_do_not_lie_beside_one_another() -> None:
    """Two halves on the same fold lie one behind another, a half and a tab beside one another; a tube has two folds."""
    names = {beside.names for beside in widths_beside([replace(back(), cut=2), tab(2)], TWILL, "folded")}
    assert names == {("back",), ("tab",), ("back", "tab")}
    tube = widths_beside([replace(back(), cut=2)], replace(TWILL, selvedge=mm(0.0)), "tube")
    assert widths(tube, "back", "back") == [pytest.approx(2 * (150 + 150))]


def test_left_and_right_are_one_piece() -> None:
    """Left and right of a pair count as two of one piece; of a single piece there are no two."""
    names = {beside.names for beside in widths_beside([front(), tab(1)], TWILL, "open", most=3)}
    assert names == {("front",), ("tab",), ("front", "front"), ("front", "tab"), ("front", "front", "tab")}
