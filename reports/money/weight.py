"""Weight of cloth: grams a square metre or ounces a square yard, to kilograms of a length."""

from __future__ import annotations

import re
from dataclasses import dataclass

from pieces.units import YARD
from reports.errors import PriceError

OUNCE = 28.349523125
"""Grams of an avoirdupois ounce, exactly (international pound of 1959; from memory)."""

HEAVIEST = 5000.0
"""Heavier than 5 kg a square metre is no cloth to sew."""

_WEIGHT = re.compile(r"\s*(\d{1,5}(?:\.\d{1,4})?)\s*(g|gsm|oz)\s*(?:/\s*(m|yd)\s*(?:2|²|\^2))?\s*", re.IGNORECASE)


@dataclass(frozen=True)
class Weight:
    """What cloth weighs, g/m², and how that was written."""

    gsm: float
    text: str

    @classmethod
    def parse(cls, text: str) -> Weight:
        """Read a weight such as ``"240 g/m2"`` or ``"7 oz/yd2"``.

        Raises
        ------
        PriceError
            If it is neither, or no weight of cloth.
        """
        found = _WEIGHT.fullmatch(text) if isinstance(text, str) else None
        unit = f"{found[2]}/{found[3] or ''}".lower() if found else ""
        if found is None or unit not in ("g/m", "gsm/", "oz/yd"):
            raise PriceError(f'cannot read the weight {text!r}: write it as in "240 g/m2" or "7 oz/yd2"')
        gsm = float(found[1]) * (OUNCE / (YARD / 1000) ** 2 if unit == "oz/yd" else 1.0)
        if not 0 < gsm <= HEAVIEST:
            raise PriceError(f"{text!r} is not a weight of cloth: write more than 0, and at most {HEAVIEST:g} g/m²")
        return cls(gsm, text.strip())

    def kilograms(self, length: float, width: float) -> float:
        """What a length of cloth of some full width weighs, both in mm."""
        return self.gsm * length * width / 1e9
