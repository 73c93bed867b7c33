"""Levels of a body below its neck point, and the girths on the way down."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from pieces.body.rules import measured_or_usual
from pieces.units import INCH

if TYPE_CHECKING:
    from pieces.body.body import Body

NAPE = 0.75 * INCH / (15 * INCH)
"""How far the nape lies below the neck point, as a share of the neck: common practice, no source."""


def to_waist(body: Body) -> float:
    """From the neck point down to the waist, mm."""
    return NAPE * body.neck + measured_or_usual(body, "nape_to_waist")


def to_hip(body: Body) -> float:
    """From the neck point down to the hip, mm."""
    return to_waist(body) + measured_or_usual(body, "hip_depth")


def reaches_hip(body: Body, length: float) -> bool:
    """Whether a garment so long, mm from the neck point, covers the hip."""
    return length >= to_hip(body)


def covered_girth(body: Body, length: float) -> float:
    """The widest girth that a garment so long goes round, mm; between chest, waist and hip girths change evenly.

    So one that ends above the hip is not as wide as the hip. Common practice, no source.
    """
    chest = NAPE * body.neck + measured_or_usual(body, "nape_to_armhole")
    levels = np.maximum.accumulate([chest, to_waist(body), to_hip(body)])
    girths = (body.bust, measured_or_usual(body, "waist"), body.hip)
    passed = (girth for level, girth in zip(levels, girths, strict=True) if level <= length)
    return max(body.bust, float(np.interp(length, levels, girths)), *passed)
