"""The tape that a marker is chalked by: its steps, and how distances are read off it."""

from __future__ import annotations

from pieces.units import INCH, Units, format_size

TAPE = {Units.INCHES: INCH / 8, Units.METRIC: 5.0}
"""The usual steps of the tape, mm."""

STEPS = {
    Units.INCHES: (INCH / 16, INCH / 8, INCH / 4, INCH / 2, INCH),
    Units.METRIC: (1.0, 2.0, 5.0, 10.0),
}
"""The steps that a tape may be read by, mm."""

STEPS_IN_WORDS = "1/16, 1/8, 1/4, 1/2 or 1 in, or 1, 2, 5 or 10 mm"

SAME = 1e-6
"""Steps that differ by less, mm, are one."""


def tape_units(step: float) -> Units | None:
    """In which units a tape of that step, mm, is read; None if no tape has it."""
    return next((units for units, every in STEPS.items() for one in every if abs(one - step) < SAME), None)


def write_on_tape(mm: float, units: Units, step: float | None = None) -> str:
    """A distance as a tape shows it: to the eighth of an inch or the half centimetre, or as finely as its step is."""
    if step is None or step >= TAPE[units] - SAME:
        return format_size(mm, units)
    return format_size(mm, units, 16) if units is Units.INCHES else f"{round(mm) / 10:g} cm"
