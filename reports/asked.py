"""What may be asked of many markers, in the words of the options: light, for the command line reads it at its start."""

from __future__ import annotations

from typing import Literal

SpreadAsked = Literal["best", "open", "folded", "double-folded"]

NapAsked = Literal["both", "with", "without"]

FileUnit = Literal["mm", "cm", "in"]
"""What a number in a file of patterns counts."""

UnitsAsked = Literal["in", "cm"]
"""How lengths are written."""
