"""Squares for checking the scale of a print, by the length that is written in them."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import numpy as np

from pieces.units import INCH

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

OFF = 0.02
"""By what share the sides of a square may differ, and a side from what is written."""

_UNITS = {"mm": 1.0, "cm": 10.0, "in": INCH, "inch": INCH, "inches": INCH, '"': INCH, "″": INCH}

_LENGTH = re.compile(
    r"(?P<a>\d{1,4}(?:[.,]\d{1,3})?)\s*(?P<unit>mm|cm|inches|inch|in|\"|″)?\s*"
    r"(?:[x×*]\s*(?P=a)\s*(?P<last>mm|cm|inches|inch|in|\"|″))?",
    re.IGNORECASE,
)
"""The side of a square as people write it: ``5 cm``, ``2" x 2"``, ``50 x 50 mm``."""


def scale_square(points: Floats, texts: Sequence[str]) -> tuple[str, bool] | None:
    """What is said of a square whose only words are a length, which checks the scale, and whether it is as large.

    None for any other outline.
    """
    wide, high = np.ptp(points, axis=0).tolist()
    found = [_LENGTH.fullmatch(text) for text in texts]
    if not found or len(points) != 4 or abs(wide - high) > OFF * wide or not all(found):
        return None
    one = found[0]
    unit = one and (one["unit"] or one["last"])
    if one is None or unit is None:
        return None
    length = float(one["a"].replace(",", ".")) * _UNITS[unit.lower()]
    why = f"it is a square for checking the scale of a print, by its words '{texts[0][:30]}'"
    is_true = abs(length - wide) <= OFF * length
    return why if is_true else f"{why}, but measures {wide:.1f} mm: is the unit right", is_true
