"""Ranges of measurements, by wearer."""

from __future__ import annotations

from typing import get_args

import pytest

from pieces.body.body import measurement_names
from pieces.body.ranges import Wearer, usual_range

INCH = 25.4


@pytest.mark.parametrize("wearer", get_args(Wearer))
@pytest.mark.parametrize("name", measurement_names())
def test_every_measurement_has_its_range(wearer: Wearer, name: str) -> None:
    """Of each wearer, what is usual is possible, and neither is empty."""
    limits = usual_range(wearer, name)
    assert 0 < limits.least < limits.low < limits.high < limits.most


def test_a_bare_wrist_is_usual() -> None:
    """ANSUR II has wrists of 142 mm at the 5th of 100 women, whose hands are a fifth larger: both are usual."""
    limits = usual_range("women", "wrist")
    assert limits.low < 142 < 187 < limits.high


def test_children_are_smaller() -> None:
    """No usual range of a child reaches as far as a man's."""
    for name in measurement_names():
        assert usual_range("children", name).high < usual_range("men", name).high
