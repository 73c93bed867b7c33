"""Bodies, and the ranges they are held against."""

from __future__ import annotations

import json
from pathlib import Path
from typing import get_args

import pytest

from pieces import Body, Units
from pieces.body.ranges import SURVEYS, Wearer, usual_range
from pieces.errors import MeasurementError
from tests.make.lengths import in_mm

INCH = 25.4
STATISTICS = json.loads((Path(__file__).parent / "ansur2.json").read_text(encoding="utf-8"))
"""Bundled with its source and its terms."""
WEARERS = get_args(Wearer)
NAMES = {
    "bust": "chestcircumference",
    "hip": "buttockcircumference",
    "neck": "neckcircumferencebase",
    "upper_arm": "bicepscircumferenceflexed",
    "arm_length": "sleeveoutseam",
}
WOMAN = {"bust": 950.0, "hip": 1020.0, "across_shoulder": 400.0, "neck": 330.0, "upper_arm": 305.0, "wrist": 190.0}


@pytest.mark.parametrize("wearer", ["women", "men"])
def test_table_agrees_with_the_statistics(wearer: str) -> None:
    """Our table agrees with statistics computed from the survey's open data, and 90 % of soldiers are usual."""
    survey = STATISTICS[wearer]
    for name, theirs in NAMES.items():
        mean, deviation = SURVEYS[wearer][name]
        assert (mean, deviation) == pytest.approx((survey[theirs]["mean"], survey[theirs]["sd"]), abs=0.06)
        limits = usual_range(wearer, name)  # type: ignore[arg-type]
        assert limits.low < survey[theirs]["p5"] < survey[theirs]["p95"] < limits.high
    across = (survey["biacromialbreadth"]["mean"] + survey["bideltoidbreadth"]["mean"]) / 2
    assert SURVEYS[wearer]["across_shoulder"].mean == pytest.approx(across, abs=0.06)
    hand = {"women": (186.6, 8.8), "men": (212.3, 10.2)}  # the same survey's hand circumference: a cuff must pass it
    assert tuple(SURVEYS[wearer]["wrist"]) == hand[wearer]
    wrist = usual_range(wearer, "wrist")  # type: ignore[arg-type]
    assert wrist.low < survey["wristcircumference"]["p5"]


@pytest.mark.parametrize("wearer", WEARERS)
@pytest.mark.parametrize("name", [*WOMAN, "arm_length", "armhole_depth"])
def test_ranges_are_nested(wearer: Wearer, name: str) -> None:
    """What is usual is possible, and neither is empty."""
    limits = usual_range(wearer, name)
    assert 0 < limits.least < limits.low < limits.high < limits.most


def test_model_body_is_usual(body: Body) -> None:
    """The check values' body raises no remark."""
    assert body.remarks(Units.INCHES) == []


@pytest.mark.parametrize("name", WOMAN)
@pytest.mark.parametrize("factor", [0.05, 10.0, 25.4, 1 / 25.4, -1.0, 0.0, float("inf"), float("nan")])
def test_absurd_measurements(name: str, factor: float) -> None:
    """A measurement in the wrong unit, negative, none or no number is refused in one line that names it."""
    with pytest.raises(
        MeasurementError, match=rf"^{name} of .* is not plausible for women: .* check the unit"
    ) as error:
        Body(**in_mm(WOMAN | {name: WOMAN[name] * factor}))
    assert "\n" not in str(error.value)


def test_unusual_is_noted() -> None:
    """A bust beyond four deviations is drafted, and remarked upon with the usual range."""
    (line,) = Body(**in_mm(WOMAN | {"bust": 1400.0})).remarks(Units.METRIC)
    assert line == "bust of 140 cm is unusual for women (usual: 61.5 cm to 128 cm)"


def test_wearer_matters() -> None:
    """A child's bust is unusual for a man, and usual for a child."""
    child = {
        "bust": 26 * INCH, "hip": 27 * INCH, "across_shoulder": 11 * INCH, "neck": 11.5 * INCH,
        "upper_arm": 8 * INCH, "wrist": 6 * INCH,
    }  # fmt: skip
    assert Body(**in_mm(child), wearer="children").remarks(Units.INCHES) == []
    assert len(Body(**in_mm(child), wearer="men").remarks(Units.INCHES)) >= 4


def test_only_what_was_given() -> None:
    """Measurements left out are not made up."""
    assert set(Body(**in_mm(WOMAN)).measurements()) == set(WOMAN)
