"""Widths of tubes."""

from __future__ import annotations

import pytest

from reports.ask.offer import FabricOffer
from reports.ask.opened import opened_widths
from reports.errors import JobError

TUBE = FabricOffer.model_validate({"name": "jersey", "lay_flat": "30 in", "spread": "tube"})
FLAT = FabricOffer.model_validate({"name": "twill", "width": "60 in"})


def test_a_tube_is_twice_as_wide_opened() -> None:
    """As it lies flat it counts twice; opened, as it is."""
    assert opened_widths([700.0], TUBE, "lay_flat") == [1400.0]
    assert opened_widths([700.0], TUBE, "opened") == [700.0]
    assert opened_widths([700.0], FLAT, None) == [700.0]


def test_which_width_has_to_be_said_of_a_tube_alone() -> None:
    """Each with the cloth's name, and what to write."""
    with pytest.raises(JobError, match=r"'jersey' .*--tube"):
        opened_widths([700.0], TUBE, None)
    with pytest.raises(JobError, match=r"--tube .*'twill'"):
        opened_widths([700.0], FLAT, "opened")
