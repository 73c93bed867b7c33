"""Lengths on the page are read and written as the server does; Node runs the page's module."""

from __future__ import annotations

import json
import shutil
import subprocess
from importlib.resources import files
from pathlib import Path

import pytest

from pieces.errors import LengthError
from pieces.units import (
    INCH,
    Units,
    format_bound,
    format_fraction,
    format_need,
    format_size,
    parse_length,
    percent_reached,
)

MODULE = Path(str(files("reports.page"))) / "static" / "js" / "lib" / "units.js"

READABLE = (
    "22 1/2 in",
    '22.5"',
    "5¼ in",
    "1 yd 4 in",
    "57cm",
    "1.2 m",
    "2 3/8 yd",
    "3-1/2 inches",
    "6′ 2″",
    "12 mm",
    ".5 in",
)
UNREADABLE = ("", "12 bananas", "1,5 cm", "-3 in", "5", "1/0 in", "in", "1.5.2 cm", "22 1/2 in wide", "5 m 3 m")
LENGTHS = [0.0, 3.0, 25.4, 26.9, 99.9, 571.5, 914.4, 1028.7, 1234.56, 2499.9]

SCRIPT = """
const units = await import(process.argv[1]);
const { texts, lengths } = JSON.parse(process.argv[2]);
const read = (text) => { try { return units.parseLength(text); } catch (error) { return error.message; } };
console.log(JSON.stringify({
  read: texts.map(read),
  inches: lengths.map((mm) => units.formatSize(mm, "in")),
  metric: lengths.map((mm) => units.formatSize(mm, "cm")),
  fine: lengths.map((mm) => units.formatField(mm, "in")),
  needs: lengths.map((mm) => [units.formatNeed(mm, "in"), units.formatNeed(mm, "cm")]),
  bounds: lengths.map((mm) => [units.formatBound(mm, "in"), units.formatBound(mm, "cm")]),
  shares: lengths.map((mm) => units.percent(mm / 2500)),
  bare: units.parseLength("22 1/2", "in"),
}));
"""

pytestmark = pytest.mark.skipif(shutil.which("node") is None, reason="Node runs the page's module here")


@pytest.fixture(scope="module")
def told() -> dict[str, list[float | str]]:
    """What the page's module says."""
    asked = json.dumps({"texts": [*READABLE, *UNREADABLE], "lengths": LENGTHS})
    command = ["node", "--input-type=module", "--eval", SCRIPT, MODULE.as_uri(), asked]
    done = subprocess.run(command, capture_output=True, text=True, timeout=30, check=True)
    found: dict[str, list[float | str]] = json.loads(done.stdout)
    return found


def test_lengths_are_read_alike(told: dict[str, list[float | str]]) -> None:
    """Each length that the server can read is as long on the page."""
    assert told["read"][: len(READABLE)] == pytest.approx([parse_length(text) for text in READABLE])
    assert told["bare"] == pytest.approx(22.5 * INCH)


def test_lengths_are_refused_alike(told: dict[str, list[float | str]]) -> None:
    """What the server cannot read, the page cannot either, and says why."""
    for text, said in zip(UNREADABLE, told["read"][len(READABLE) :], strict=True):
        with pytest.raises(LengthError):
            parse_length(text)
        assert isinstance(said, str)
        assert said


def test_sizes_are_written_alike(told: dict[str, list[float | str]]) -> None:
    """Sizes are rounded and written in the same words; those in fields to 1/16 in."""
    assert told["inches"] == [format_size(mm, Units.INCHES) for mm in LENGTHS]
    assert told["metric"] == [format_size(mm, Units.METRIC) for mm in LENGTHS]
    assert told["fine"] == [f"{format_fraction(mm / INCH, 16)} in" for mm in LENGTHS]


def test_needs_and_bounds_are_written_alike(told: dict[str, list[list[str]]]) -> None:
    """The page rounds needs up and bounds and shares down, as the answers in words do."""
    both = Units.INCHES, Units.METRIC
    assert told["needs"] == [[format_need(mm, units) for units in both] for mm in LENGTHS]
    assert told["bounds"] == [[format_bound(mm, units) for units in both] for mm in LENGTHS]
    assert told["shares"] == [percent_reached(mm / 2500).replace("%", " %") for mm in LENGTHS]
