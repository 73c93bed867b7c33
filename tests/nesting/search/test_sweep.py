"""Tables of many searches, one row each."""

from __future__ import annotations

import csv
import io
from itertools import product
from typing import Any

import pytest

from nesting.cloth.fabric import Fabric
from nesting.search.stop import MaxIterations
from nesting.search.sweep import sweep
from pieces.errors import LengthError, WrongTypeError
from pieces.length import cm, mm
from tests.make.cloth import front, tab

CLOTHS = [Fabric("twill", mm(1000.0)), Fabric("velvet", mm(800.0), nap=True)]


def few() -> MaxIterations:
    """A short search."""
    return MaxIterations(3)


def test_a_row_for_each() -> None:
    """Cloths, widths, gaps, spreads and seeds, each with each, in the order in which they are asked for."""
    rows = sweep(
        [front(), tab()], CLOTHS, ["open", "folded"], few, widths=["60 cm", cm(90)], gaps=["0 mm", "5 mm"], seeds=[1, 2]
    )
    asked = product(["twill", "velvet"], [600.0, 900.0], [0.0, 5.0], ["open", "folded"], [1, 2])
    assert [tuple(row[key] for key in ("cloth", "width_mm", "gap_mm", "spread", "seed")) for row in rows] == [*asked]
    assert all(row["bound_mm"] <= row["length_mm"] + 1e-3 for row in rows)  # type: ignore[operator]
    assert {kind for row in rows for kind in map(type, row.values())} <= {str, float, bool, int}


def test_its_own_width_and_gap_by_default() -> None:
    """Where none are asked for, a cloth is taken as it is; one spread and one cloth need no list."""
    (row,) = sweep([tab()], CLOTHS[0], "open", few)
    assert (row["width_mm"], row["gap_mm"], row["length_mm"], row["refused"]) == (1000.0, 0.0, 80.0, "")
    assert (row["density_percent"], row["is_proved"]) == (pytest.approx(100 * 2 * 80 * 50 / (80 * 1000)), True)


def test_what_cannot_be_laid_has_its_row() -> None:
    """It says why, has no lengths, and the same keys as all others, so that the table has no holes."""
    wide, narrow = sweep([front()], CLOTHS[0], "open", few, widths=["50 cm", "10 cm"])
    assert wide["refused"] == "" and str(narrow["refused"]).startswith("'front' needs ")
    assert wide.keys() == narrow.keys() and narrow["length_mm"] != narrow["length_mm"]
    table = io.StringIO()
    writer = csv.DictWriter(table, [*wide])
    writer.writerows([wide, narrow])
    assert table.getvalue().count("\n") == 2


@pytest.mark.parametrize(
    ("wrong", "error", "said"),
    [
        ({"widths": [1500]}, LengthError, "a width of a sweep, '1500': a bare number has no unit"),
        ({"gaps": [None]}, WrongTypeError, "a gap of a sweep must be a length with its unit"),
        ({"stop": MaxIterations(3)}, WrongTypeError, "must be a function that makes a fresh stop, such as lambda"),
        ({"stop": MaxIterations}, WrongTypeError, "the class MaxIterations cannot be called so"),
    ],
)
def test_what_cannot_be_swept(wrong: dict[str, Any], error: type[Exception], said: str) -> None:
    """Bare numbers, and one stop for all searches, which would have stopped before the second."""
    asked: dict[str, Any] = {"pieces": [tab()], "fabrics": CLOTHS, "spreads": "open", "stop": few}
    with pytest.raises(error, match=said):
        sweep(**asked | wrong)
