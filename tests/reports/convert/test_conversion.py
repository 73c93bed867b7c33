"""How much at another width: cells of the published chart, ranges, widths between and outside of its columns."""

from __future__ import annotations

import json
from fractions import Fraction
from itertools import permutations
from typing import TYPE_CHECKING

import pytest

from pieces.errors import LengthError
from pieces.units import INCH, YARD, Units
from reports.convert.conversion import convert_length
from reports.convert.published import published
from reports.convert.words import conversion_lines

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.reports.conftest import Ran

CELLS = (
    ("3 1/8 yd", "36 in", "45 in", "2 1/2"),
    ("3 1/8 yd", "36 in", "60 in", "1 7/8"),
    ("2 1/2 yd", "45 in", "54 in", "2"),
    ("1 yd", "58 in", "44 in", "1 3/8"),
    ("4 1/8 yd", "41 in", "66 in", "2 3/4"),
)
"""Cells of the "Fabric conversion chart" (sewwithsarah.com; copies at greenspun.com and hookedonsewing.com)."""


@pytest.mark.parametrize(("length", "width", "other", "cell"), CELLS)
def test_published_cells(length: str, width: str, other: str, cell: str) -> None:
    """A length that the chart has is told with what the same garment takes on the other width; the range holds it."""
    chart = convert_length(length, width, other).told[0]
    told = float(sum(Fraction(part) for part in cell.split())) * YARD
    assert chart.row == pytest.approx(told)
    assert chart.least - 1e-6 <= told <= chart.most + 1e-6


def test_ratios_worked_out_elsewhere() -> None:
    """From 45 to 60 in the chart gives 0.727 to 0.786, a pattern's envelope 0.667 to 0.880: worked out apart.

    The envelope is a retail one of a loose unlined jacket, its brand left out; the range is that of both.
    """
    found = convert_length("1000 mm", "45 in", "60 in")
    chart, envelope = found.told
    assert (chart.least, chart.most) == pytest.approx((727, 786), abs=0.5)
    assert (envelope.least, envelope.most) == pytest.approx((667, 880), abs=0.5)
    assert (found.least, found.most) == (envelope.least, envelope.most)
    assert found.by_area == pytest.approx(750)


def test_every_cell_is_in_its_range() -> None:
    """Whatever garment of a table is asked about, what it takes on the other width lies in the range."""
    for table in published():
        for here, there in permutations(table.columns, 2):
            for own, other in zip(here.yards, there.yards, strict=True):
                found = convert_length(f"{own} yd", f"{here.high / INCH:g} in", f"{there.low / INCH:g} in")
                assert found.least - 1e-6 <= float(other) * YARD <= found.most + 1e-6


def test_between_columns() -> None:
    """47 in lies between 44-45 and 50 in: no less than on 50 in, no more than on 45 in; and the other way round."""
    wider = convert_length("3 yd", "45 in", "47 in")
    (chart,) = wider.told
    assert chart.is_between and chart.row is None
    # By hand: of the 12 garments on 50 and on 45 in, the one of 2 1/8 yd falls most, to 1 3/4.
    assert chart.least == pytest.approx(3 * YARD * (7 / 4) / (17 / 8))
    assert chart.most == pytest.approx(3 * YARD)
    (back,) = convert_length("3 yd", "47 in", "45 in").told
    assert (back.least, back.most) == pytest.approx((3 * YARD, 3 * YARD * (17 / 8) / (7 / 4)))
    assert "47 in lies between its columns of 44-45 in and 50 in" in " ".join(conversion_lines(wider, Units.INCHES))


@pytest.mark.parametrize(("width", "other"), [("45 in", "72 in"), ("34 in", "60 in"), ("80 cm", "45 in")])
def test_outside_of_the_tables(width: str, other: str) -> None:
    """Beyond the columns there is no range: the area alone speaks, and is named a lower figure, not one to buy."""
    found = convert_length("3 yd", width, other)
    assert found.told == ()
    words = " ".join(conversion_lines(found, Units.INCHES))
    assert "a lower figure, not a length to buy" in words and " to " not in words.partition("The area")[0].split(":")[0]


def test_centimetres_are_read_as_they_are_sold() -> None:
    """115 cm is 45.3 in: it is taken as 44-45 in, and the answer says so; 120 cm lies between."""
    found = convert_length("2.3 m", "150 cm", "115 cm")
    assert not found.told[0].is_between
    words = list(conversion_lines(found, Units.METRIC))
    assert any("115 cm is taken as its column of 111.8-114.3 cm" in line for line in words)
    assert any("may not fit across the narrower cloth" in line for line in words)
    assert convert_length("2.3 m", "150 cm", "120 cm").told[0].is_between


def test_range_is_rounded_outwards() -> None:
    """From 45 to 60 in 1 yd is 0.667 to 0.880 yd: shown as 5/8 to 1 yd."""
    first, *_ = conversion_lines(convert_length("1 yd", "45 in", "60 in"), Units.INCHES)
    assert first == "1 yd on cloth 45 in wide is 5/8 to 1 yd on cloth 60 in wide."


@pytest.mark.parametrize(("other", "said"), [("60 in", "5/8 yd or more. Selvedges"), ("100 in", "3/8 yd or more: a")])
def test_area_is_rounded_down(other: str, said: str) -> None:
    """The area is a lower figure: 1 yd of 45 in is 0.75 yd of 60, but 0.9 yd 0.675; of 100 in it is 0.405."""
    words = " ".join(conversion_lines(convert_length("0.9 yd", "45 in", other), Units.INCHES))
    assert f"The area alone says {said}" in words


@pytest.mark.parametrize(
    ("length", "width", "other", "named"),
    [
        ("3", "45 in", "60 in", "the length"),
        ("3 yd", "45", "60 in", "--from"),
        ("3 yd", "45 in", "wide", "--to"),
        ("0 yd", "45 in", "60 in", "the length"),
        ("nan yd", "45 in", "60 in", "the length"),
        ("-1 yd", "45 in", "60 in", "the length"),
        ("3 yd", "0 in", "60 in", "--from"),
        ("3 yd", "45 in", "114.3 cm", "--to"),
    ],
)
def test_mistakes(length: str, width: str, other: str, named: str) -> None:
    """What cannot be read, is nothing, or asks for nothing is refused by its name."""
    with pytest.raises(LengthError, match=named):
        convert_length(length, width, other)


def test_command(run: Callable[..., Ran]) -> None:
    """Units follow the length, unless others are asked for; a mistake is one line and code 2."""
    assert run("convert", "2 1/2 yd", "--from", "45in", "--to", "54in").out.startswith("2 1/2 yd on cloth 45 in")
    assert run("convert", "2 m", "--from", "45in", "--to", "54in").out.startswith("2 m on cloth 114.3 cm")
    said = json.loads(run("convert", "1 yd", "--from", "45in", "--to", "60in", "--units", "cm", "--json").out)
    assert said["units"] == "cm" and said["words"][0].startswith("0.914 m on")
    wrong = run("convert", "x", "--from", "45in", "--to", "54in")
    assert (wrong.code, wrong.err.count("\n")) == (2, 1)
