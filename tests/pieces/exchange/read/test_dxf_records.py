"""Records in the blocks of a DXF: what they say of a piece."""

from __future__ import annotations

import numpy as np
import pytest

from pieces.exchange.imported import ImportReport
from pieces.exchange.read.dxf_records import take_count, take_lies, take_material
from pieces.exchange.sketch.sketch import Sketch


@pytest.mark.parametrize(
    ("records", "lies", "tilt", "is_told"),
    [
        ({"LIES": "Cross"}, "cross", 0.0, False),
        ({"LIES": "free", "TILT": "2.5"}, "free", 2.5, False),
        ({"LIES": "bias"}, "straight", 0.0, True),
        ({"TILT": "99"}, "straight", 0.0, True),
        ({}, "straight", 0.0, False),
    ],
)
def test_how_it_may_lie(records: dict[str, str], lies: str, tilt: float, is_told: bool) -> None:
    """By two records of our own; what they say otherwise is told."""
    sketch, report = Sketch("a", np.zeros((0, 2))), ImportReport("DXF")
    take_lies(sketch, records, report)
    assert (sketch.lies, sketch.tilt, bool(report.guesses)) == (lies, tilt, is_told)


def test_count_and_material() -> None:
    """A quantity, left and right, and a word for the cloth."""
    sketch, report = Sketch("a", np.zeros((0, 2))), ImportReport("DXF")
    take_count(sketch, "1,1", (1, 0), report)
    take_material(sketch, "Lining", report)
    assert (sketch.cut, sketch.pair, sketch.material, report.guesses) == (2, True, "lining", [])
    take_count(sketch, "some", (1, 0), report)
    assert "'some' cannot be read" in report.guesses[0]
    take_count(sketch, "3,1", (1, 0), report)
    assert (sketch.cut, sketch.pair) == (4, False) and "3 left and 1 right; 4 are cut as drawn" in report.guesses[1]
