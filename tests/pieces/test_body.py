"""Bodies, and the ranges they are held against."""

from __future__ import annotations

import json
from pathlib import Path
from typing import get_args

import pytest

from pieces import Body, Units
from pieces.body import _SURVEYS, Wearer, usual_range
from pieces.errors import MeasurementError

INCH = 25.4
STATISTICS = Path(__file__).parents[3] / "shared" / "ansur2_stats.json"
WEARERS = get_args(Wearer)
NAMES = {
    "bust": "chestcircumference",
    "hip": "buttockcircumference",
    "neck": "neckcircumference",
    "upper_arm": "bicepscircumferenceflexed",
    "arm_length": "sleeveoutseam",
}
# ANSUR II (Gordon and others 2014, NATICK/TR-15/007, public data): mean and standard deviation, mm, computed from the
# published table: 1,986 women, 4,082 men. Hand circumference stands for the wrist: a cuff must pass the hand.
PUBLISHED = {
    "women": {
        "bust": (946.9, 82.7), "hip": (1021.2, 75.9), "neck": (329.8, 19.2), "upper_arm": (305.6, 30.8),
        "arm_length": (543.6, 29.4), "wrist": (186.6, 8.8),
    },
    "men": {
        "bust": (1058.7, 87.4), "hip": (1019.5, 76.7), "neck": (397.6, 25.8), "upper_arm": (358.1, 34.6),
        "arm_length": (593.1, 30.8), "wrist": (212.3, 10.2),
    },
}  # fmt: skip
WOMAN = {"bust": 950.0, "hip": 1020.0, "across_shoulder": 400.0, "neck": 330.0, "upper_arm": 305.0, "wrist": 190.0}


@pytest.mark.parametrize("wearer", ["women", "men"])
def test_table_is_the_published_one(wearer: str) -> None:
    """Our table holds the published means and deviations."""
    for name, figures in PUBLISHED[wearer].items():
        assert tuple(_SURVEYS[wearer][name]) == figures


@pytest.mark.skipif(not STATISTICS.exists(), reason="the survey's statistics are not beside the checkout")
@pytest.mark.parametrize(("wearer", "sex"), [("women", "female"), ("men", "male")])
def test_table_agrees_with_the_statistics(wearer: str, sex: str) -> None:
    """Our table agrees with statistics computed from the survey's open data, and 90 % of soldiers are usual."""
    survey = json.loads(STATISTICS.read_text())[sex]
    for name, theirs in NAMES.items():
        mean, deviation = _SURVEYS[wearer][name]
        assert (mean, deviation) == pytest.approx((survey[theirs]["mean"], survey[theirs]["sd"]), abs=0.06)
        limits = usual_range(wearer, name)  # type: ignore[arg-type]
        assert limits.low < survey[theirs]["p5"] < survey[theirs]["p95"] < limits.high
    across = (survey["biacromialbreadth"]["mean"] + survey["bideltoidbreadth"]["mean"]) / 2
    assert _SURVEYS[wearer]["across_shoulder"].mean == pytest.approx(across, abs=0.06)
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
        MeasurementError, match=rf"^{name} of .* is no measurement of women: .* check the unit"
    ) as error:
        Body(**(WOMAN | {name: WOMAN[name] * factor}))
    assert "\n" not in str(error.value)


def test_unusual_is_noted() -> None:
    """A bust beyond four deviations is drafted, and remarked upon with the usual range."""
    (line,) = Body(**(WOMAN | {"bust": 1400.0})).remarks(Units.METRIC)
    assert line == "bust of 140 cm is unusual for women (usual: 61.5 cm to 128 cm)"


def test_wearer_matters() -> None:
    """A child's bust is unusual for a man, and usual for a child."""
    child = {
        "bust": 26 * INCH, "hip": 27 * INCH, "across_shoulder": 11 * INCH, "neck": 11.5 * INCH,
        "upper_arm": 8 * INCH, "wrist": 6 * INCH,
    }  # fmt: skip
    assert Body(**child, wearer="children").remarks(Units.INCHES) == []
    assert len(Body(**child, wearer="men").remarks(Units.INCHES)) >= 4


def test_only_what_was_given() -> None:
    """Measurements left out are not made up."""
    assert set(Body(**WOMAN).measurements()) == set(WOMAN)
