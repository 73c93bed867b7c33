"""The tape's steps, and distances read off it."""

from __future__ import annotations

import pytest

from pieces.units import Units
from reports.chalk.tape import STEPS, TAPE, tape_units, write_on_tape


def test_steps() -> None:
    """An eighth of an inch, or 5 mm, are usual; each step belongs to the units that its tape is read in."""
    assert TAPE[Units.INCHES] * 8 == pytest.approx(25.4)
    assert TAPE[Units.METRIC] == 5.0
    assert all(tape_units(step) is units for units, every in STEPS.items() for step in every)
    assert tape_units(7.0) is None


@pytest.mark.parametrize(
    ("mm", "units", "step", "said"),
    [
        (15.4375 * 25.4, Units.INCHES, 25.4 / 16, "15 7/16 in"),
        (15.4375 * 25.4, Units.INCHES, None, "15 3/8 in"),
        (564.0, Units.METRIC, 1.0, "56.4 cm"),
        (12.0, Units.METRIC, 2.0, "1.2 cm"),
        (565.0, Units.METRIC, 5.0, "56.5 cm"),
    ],
)
def test_read_as_finely_as_its_step(mm: float, units: Units, step: float | None, said: str) -> None:
    """What lies on the steps of a fine tape is written as it is."""
    assert write_on_tape(mm, units, step) == said
