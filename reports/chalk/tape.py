"""The tape that a marker is chalked by."""

from __future__ import annotations

from pieces.units import INCH, Units

TAPE = {Units.INCHES: INCH / 8, Units.METRIC: 5.0}
"""The usual steps of the tape, mm."""

FINEST, COARSEST = 1.0, 25.4
"""No tape is read more finely, or marked by more, mm."""
