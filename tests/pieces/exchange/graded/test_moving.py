"""Lines and points of a block, brought to another size by rules."""

from __future__ import annotations

import numpy as np
import pytest

from pieces.errors import FormatError
from pieces.exchange.graded.moving import SizeMoves, kind_of
from pieces.exchange.graded.rule_table import RuleTable

TABLE = RuleTable("t", ("S", "M"), "S", {1: ((0.0, 0.0), (0.0, 0.0)), 2: ((0.0, 0.0), (10.0, 0.0))})

SQUARE = np.array([[0.0, 0.0], [100.0, 0.0], [100.0, 50.0], [0.0, 50.0]])


def moves() -> SizeMoves:
    """The right side of the square moves by 10 mm, the left one stays; a notch moves as the right side."""
    found = SizeMoves(TABLE, "M")
    for place, number in (((0, 0), 1), ((100, 0), 2), ((100, 50), 2), ((0, 50), 1)):
        found.add("line", (float(place[0]), float(place[1])), number)
    found.add("notch", (100.0, 25.0), 2)
    return found


def test_what_lies_between_moves_by_its_share() -> None:
    """Corners move by their rules, and the middle of a side by half of what its ends do."""
    grown = moves().line("line", SQUARE, is_closed=True)
    assert grown.tolist() == [[0, 0], [110, 0], [110, 50], [0, 50]]
    inner = moves().line("line", np.array([[0.0, 0.0], [50.0, 0.0], [100.0, 0.0]]), is_closed=False)
    assert inner.tolist() == [[0, 0], [55, 0], [110, 0]]


def test_what_has_no_rule_stays_and_is_counted() -> None:
    """A line apart and a point without a rule stay as they are drawn; a rule that is missing is an error."""
    found = moves()
    apart = np.array([[20.0, 20.0], [30.0, 20.0]])
    assert found.line("line", apart, is_closed=False) is apart
    assert found.point("notch", (100.0, 25.0)) == (110.0, 25.0) and found.point("drill", (5.0, 5.0)) == (5.0, 5.0)
    assert found.without == 2
    with pytest.raises(FormatError, match="has no rule 3"):
        found.add("line", (0.0, 0.0), 3)
    assert [kind_of(layer) for layer in ("2", "3", "4", "7", "13", "14", "15")] == [
        "line", "line", "notch", "grain", "drill", "sew", None,
    ]  # fmt: skip
