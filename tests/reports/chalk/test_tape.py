"""The tape's usual steps, in the units of each."""

from __future__ import annotations

import pytest

from pieces.units import Units
from reports.chalk.tape import COARSEST, FINEST, TAPE


def test_steps() -> None:
    """An eighth of an inch, or 5 mm; both are steps that a job may ask for."""
    assert TAPE[Units.INCHES] * 8 == pytest.approx(25.4)
    assert TAPE[Units.METRIC] == 5.0
    assert all(FINEST <= step <= COARSEST for step in TAPE.values())
