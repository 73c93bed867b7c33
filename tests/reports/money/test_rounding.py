"""What is printed is true: no bound above the true one, no need below it, and columns that add up."""

from __future__ import annotations

import json
import re
from fractions import Fraction
from typing import TYPE_CHECKING

import pytest

from tests.make.model import with_fabrics

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tests.reports.conftest import Ran

WIDTHS = ("46 in", "51.3 in", "60 in", "149 cm")
LENGTH = r"((?:\d+ )?\d+/\d+|\d+(?:\.\d+)?) (in|cm)"
MM = {"in": Fraction(254, 10), "cm": Fraction(10)}
STEPS = {"in": "1/8 yd", "cm": "0.1 m"}


def mm(number: str, unit: str) -> float:
    """A length as printed, mm, read by other code than the program's."""
    return float(sum(map(Fraction, number.split(" "))) * MM[unit])


@pytest.mark.parametrize("units", ["in", "cm"])
def test_buy_prints_no_bound_too_high(job_file: Callable[[str], Path], run: Callable[..., Ran], units: str) -> None:
    """`buy` on several cloths: bounds, markers, percentages and sums as printed, held against its own JSON."""
    cloths = (
        f'name = "c{i}"\nwidth = "{wide}"\nspread = "open"\nsold_by = "{STEPS[units]}"' for i, wide in enumerate(WIDTHS)
    )
    job = job_file(with_fabrics(*cloths).replace('units = "in"', f'units = "{units}"'))
    plain = json.loads(run("buy", job, "--effort", 0, "--json").out)["fabrics"]
    said = run("buy", job, "--effort", 0).out
    assert len(plain) == len(WIDTHS)
    bounds = re.findall(rf"No marker can be shorter than {LENGTH} .*, at most (\d+\.\d)% shorter than this one", said)
    open_ones = [cloth for cloth in plain if not cloth["proof"]["proved"]]
    assert len(bounds) == len(open_ones) > 0
    for (number, unit, percent), cloth in zip(bounds, open_ones, strict=True):
        assert cloth["proof"]["bound_mm"] - 5 < mm(number, unit) <= cloth["proof"]["bound_mm"]
        saved = 100 * (1 - cloth["proof"]["bound_mm"] / cloth["marker_mm"])
        assert saved <= float(percent) < saved + 0.1
    for cloth in plain:
        lines = cloth["lines"]
        shown = [mm(*re.fullmatch(LENGTH, line["shown"]).groups()) for line in lines]
        assert sum(shown) == pytest.approx(cloth["buy_mm"], abs=2e-3)
        assert shown == pytest.approx([line["shown_mm"] for line in lines])
        assert shown[0] >= cloth["marker_mm"] - 1e-3
        assert [line["what"] for line in lines[1:]] == [addition["what"] for addition in cloth["additions"]]
        assert cloth["proof"]["least_buy_mm"] <= cloth["buy_mm"]
        row = re.search(rf"^{cloth['name']} +{LENGTH} .*", said, re.MULTILINE)
        assert row
        *_, marker, least = (mm(*found) for found in re.findall(LENGTH, row[0]))
        assert marker >= cloth["marker_mm"] - 1e-3 and least <= cloth["proof"]["bound_mm"]
        share = re.search(r"(\d+\.\d)%", row[0])
        assert share
        used = float(share[1])
        assert used <= cloth["density_percent"] < used + 0.1


@pytest.mark.parametrize("length", ["40 in", "42 1/16 in", "101.3 cm"])
def test_fits_prints_needs_up(job_file: Callable[[str], Path], run: Callable[..., Ran], length: str) -> None:
    """`fits`: what the best layout needed is no less than it is, and is more than what there is said to be."""
    job = job_file(with_fabrics('name = "twill"\nwidth = "60 in"'))
    answer = json.loads(run("fits", job, "--remnant", f"60 in x {length}", "--effort", 0, "--json").out)
    said = "\n".join(answer["words"])
    found = re.search(rf"The best needed {LENGTH} .* there are {LENGTH}\.", said)
    assert answer["answer"] == "not found" and found
    needed, there = mm(*found.groups()[:2]), mm(*found.groups()[2:])
    assert there <= answer["remnant"]["length"] < answer["needed_mm"] <= needed + 1e-3
