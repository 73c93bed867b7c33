"""Rolls of patterned cloth, worked out by hand: plies begin whole repeats apart, a repeat is lost at the start."""

from types import SimpleNamespace
from typing import Any

import pytest

from reports.run.rolled import matched_rolls


def test_plies_on_a_roll_begin_whole_repeats_apart() -> None:
    """Four plies of 64 cm on a repeat of 30 cm: 3 × 90 + 64 + 30 = 364 cm of roll, and not 1 mm less."""
    cloth: Any = SimpleNamespace(repeat_along=300.0, splice=0.0, lengths=(3640.0,))
    found = matched_rolls([640.0] * 4, cloth)
    assert not found.missing
    assert found.remnants == {0: pytest.approx(0.0)}
    short: Any = SimpleNamespace(repeat_along=300.0, splice=0.0, lengths=(3639.0,))
    lacking = matched_rolls([640.0] * 4, short)
    assert len(lacking.missing) == 1 and not lacking.impossible  # a cut elsewhere on the pattern might lose less
