"""Which garments may share a marker."""

from __future__ import annotations

import pytest

from nesting.errors import LayPlanError
from nesting.lays.mixes import list_mixes, singles
from nesting.lays.order import LayRules, StyleOrder

ORDER = StyleOrder(
    ("S", "M"), ("red", "blue"), {("red", "S"): 2, ("blue", "M"): 1}, {("red", "S"): 2, ("blue", "M"): 1}
)
"""Two S in red, one M in blue: no ply can give S and M together."""


def length(mix: tuple[int, ...]) -> float:
    """A metre a garment."""
    return 1000.0 * sum(mix)


def test_only_what_some_colour_wants_of_one_ply() -> None:
    """S alone, S twice, M alone; nothing that would be cut and not wanted."""
    mixes, complete = list_mixes(ORDER, LayRules(9000.0, 10, 3), length, 0.0)
    assert mixes == {(1, 0): 1000.0, (2, 0): 2000.0, (0, 1): 1000.0}
    assert complete
    assert singles(ORDER) == [(1, 0), (0, 1)]


def test_the_table_and_the_ends_bound_the_length() -> None:
    """Two metres and their ends are too long for a table of two metres."""
    mixes, _ = list_mixes(ORDER, LayRules(2000.0, 10, 3), length, 50.0)
    assert set(mixes) == {(1, 0), (0, 1)}


def test_a_size_that_no_marker_holds_is_named() -> None:
    """With what it takes, and what there is."""
    with pytest.raises(LayPlanError, match="'S'"):
        list_mixes(ORDER, LayRules(900.0, 10, 3), length, 0.0)
    with pytest.raises(LayPlanError, match="no marker holds size 'M'"):
        list_mixes(ORDER, LayRules(9000.0, 10, 3), lambda mix: None if mix[1] else length(mix), 0.0)


def test_a_mix_has_a_count_for_each_size() -> None:
    """Of given mixes, one of three sizes is a mistake."""
    with pytest.raises(LayPlanError, match="2 sizes"):
        list_mixes(ORDER, LayRules(9000.0, 10, 3), {(1, 0, 0): 1000.0}, 0.0)
