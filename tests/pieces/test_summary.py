"""Aligned lines."""

from __future__ import annotations

from typing import Any

import pytest

from pieces.errors import WrongTypeError
from pieces.summary import aligned, units_asked
from pieces.units import Units


def test_aligned() -> None:
    """Values stand under one another, two spaces off the longest name; no rows, no lines."""
    assert aligned([("at least", "3 in"), ("buy", "2 yd")]) == "at least  3 in\nbuy       2 yd"
    assert aligned([]) == ""


def test_units() -> None:
    """They are asked for by name, or as they are."""
    assert [units_asked("in"), units_asked("cm"), units_asked(Units.METRIC)] == ["in", "cm", Units.METRIC]


@pytest.mark.parametrize("wrong", ["yd", "", None, 3, ["in"]])
def test_no_units(wrong: Any) -> None:
    """Everything else is refused with what there is."""
    with pytest.raises(WrongTypeError, match=r'^units must be "in" or "cm", not '):
        units_asked(wrong)
