"""Paper: sheets and rolls to print on at full scale."""

from __future__ import annotations

import re
from dataclasses import dataclass

from pieces.errors import LengthError
from pieces.units import INCH, bound_both, need_both, parse_length
from reports.errors import PaperError

ISO_216 = {"A4": (210, 297), "A3": (297, 420), "A2": (420, 594), "A1": (594, 841), "A0": (841, 1189)}
"""Trimmed sizes of the A series, mm. ISO 216, from memory; checked by its rule of halving."""

ASME_Y14_1 = {"A": (8.5, 11.0), "B": (11.0, 17.0), "C": (17.0, 22.0), "D": (22.0, 34.0), "E": (34.0, 44.0)}
"""Flat sizes of drawing sheets, inches; A is letter paper. ANSI/ASME Y14.1, from memory; checked by its rule."""

NAMED = {
    **{name.lower(): (float(short), float(long)) for name, (short, long) in ISO_216.items()},
    **{f"ansi {name.lower()}": (short * INCH, long * INCH) for name, (short, long) in ASME_Y14_1.items()},
    "letter": (8.5 * INCH, 11 * INCH),
}
"""Sheets by name, mm: short side, long side."""

MARGIN = 10.0
"""Rim of a sheet that printers may leave bare, mm: common practice, no source."""

LONGEST = 14_400 * INCH / 72
"""No page is longer, mm: 14,400 points, the limit of ISO 32000-1, annex C (from memory)."""

SHORT_SIDE, LONG_SIDE = 180.0, 230.0
"""Smaller paper cannot hold the page with the test squares, mm."""

ROLL_NAMES = {"a0": 841.0}
"""Rolls known by the sheet that is cut of them, mm wide."""


@dataclass(frozen=True)
class Paper:
    """What is printed on.

    Parameters
    ----------
    name
        What it is called, such as ``"A4"`` or ``"36 in roll"``.
    width, height
        Of a page, mm; of a roll, the most it may be long.
    margin
        Bare rim, mm.
    is_roll
        Whether a page is cut as long as what is printed on it.
    """

    name: str
    width: float
    height: float
    margin: float = MARGIN
    is_roll: bool = False

    @property
    def wide(self) -> float:
        """Width that may be printed on, mm."""
        return self.width - 2 * self.margin

    @property
    def high(self) -> float:
        """Height that may be printed on, mm."""
        return self.height - 2 * self.margin

    def ways(self) -> tuple[Paper, ...]:
        """The paper upright and on its side; a roll has one way."""
        if self.is_roll or self.width == self.height:
            return (self,)
        return self, Paper(self.name, self.height, self.width, self.margin)


def parse_paper(text: str) -> Paper:
    """A sheet by name (``a4``, ``letter``, ``ansi c``) or by its sides (``21 cm x 29.7 cm``), upright.

    Raises
    ------
    PaperError
        If it is neither, too small for the test squares, or longer than a page may be.
    """
    asked = " ".join(text.lower().split())
    if asked in NAMED:
        return Paper(asked.upper() if asked in ("a0", "a1", "a2", "a3", "a4") else asked, *NAMED[asked])
    sides = re.split(r"\s*[x×]\s*", asked)
    if len(sides) != 2:
        known = ", ".join(NAMED)
        raise PaperError(f"--paper '{text}': name one of {known}, or give both sides, such as \"21 cm x 29.7 cm\"")
    try:
        short, long = sorted(parse_length(side) for side in sides)
    except LengthError as error:
        raise PaperError(f"--paper '{text}': {error}") from error
    if short < SHORT_SIDE or long < LONG_SIDE:
        raise PaperError(
            f"--paper '{text}': the test squares need {need_both(SHORT_SIDE)} by {need_both(LONG_SIDE)}: choose"
            " larger paper"
        )
    if long > LONGEST:
        raise PaperError(f"--paper '{text}': a page is at most {bound_both(LONGEST)} long: choose a --roll instead")
    return Paper(" x ".join(sides), short, long)


def parse_roll(text: str) -> Paper:
    """A roll by its width, such as ``36 in`` or ``A0``.

    Raises
    ------
    PaperError
        If that is no width, or one too narrow for the test squares or wider than a page may be.
    """
    asked = " ".join(text.lower().split())
    try:
        width = ROLL_NAMES[asked] if asked in ROLL_NAMES else parse_length(asked)
    except LengthError as error:
        raise PaperError(f"--roll '{text}': {error}; or name A0, or cloth for a roll as wide as the cloth") from error
    if not LONG_SIDE <= width <= LONGEST:
        raise PaperError(
            f"--roll '{text}': a roll is {need_both(LONG_SIDE)} to {bound_both(LONGEST)} wide: choose another, or"
            " sheets with --paper"
        )
    return Paper(f"{'A0' if asked in ROLL_NAMES else asked} roll", width, LONGEST, is_roll=True)
