"""Levels of a body, and the girths that a garment covers on its way down."""

from __future__ import annotations

from dataclasses import replace

import pytest

from pieces.body.girths import covered_girth, reaches_hip, to_hip, to_waist
from pieces.body.sizes import find_table
from pieces.length import mm

WOMAN = replace(
    find_table("women").body("88"),
    neck=mm(380.0),
    bust=mm(880.0),
    waist=mm(720.0),
    hip=mm(960.0),
    nape_to_armhole=mm(200.0),
    nape_to_waist=mm(400.0),
    hip_depth=mm(200.0),
)


def test_levels() -> None:
    """The nape lies a twentieth of the neck below the neck point; from there down it is as measured."""
    assert (to_waist(WOMAN), to_hip(WOMAN)) == (pytest.approx(419), pytest.approx(619))
    assert reaches_hip(WOMAN, 619.1) and not reaches_hip(WOMAN, 618.9)


@pytest.mark.parametrize(
    ("waist", "length", "girth"),
    [
        (720, 300, 880),  # cropped: the chest
        (720, 419, 880),
        (720, 569, 900),  # three quarters of the way from waist to hip: 720 + 3/4 of 240
        (720, 619, 960),
        (720, 900, 960),
        (940, 319, 910),  # halfway down to a waist larger than the chest
        (940, 519, 950),
        (1000, 619, 1000),  # a waist larger than all
        (1000, 519, 1000),
    ],
)
def test_covered_girth(waist: float, length: float, girth: float) -> None:
    """By plain arithmetic: the widest of what is passed, and what lies evenly between two measurements."""
    assert covered_girth(replace(WOMAN, waist=mm(waist)), length) == pytest.approx(girth)
