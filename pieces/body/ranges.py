"""How large each measurement of a body may be: what is usual for women, men and children, and what nobody measures.

Outside the *usual* range a note is made, outside the *possible* one a measurement is refused.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, NamedTuple

from pieces.units import INCH

if TYPE_CHECKING:
    from collections.abc import Mapping

Wearer = Literal["women", "men", "children"]


class Range(NamedTuple):
    """Limits in mm: refused below `least` and above `most`, noted outside `low` to `high`."""

    least: float
    low: float
    high: float
    most: float


class Survey(NamedTuple):
    """Mean and standard deviation of a measurement, mm, in a published survey."""

    mean: float
    deviation: float


# ANSUR II, public data (Gordon and others 2014, NATICK/TR-15/007): 1,986 women and 4,082 men, all soldiers.
# The survey's names: chest, buttock, neck base, waist (at the navel), biceps (flexed), head and hand circumference (a
# cuff must pass the hand); sleeve outseam; interscye, with the arms forward. Across the shoulder lies between its
# biacromial and bideltoid breadth: their mean is used.
SURVEYS: Mapping[str, Mapping[str, Survey]] = {
    "women": {
        "bust": Survey(946.9, 82.7),
        "hip": Survey(1021.2, 75.9),
        "across_shoulder": Survey((365.3 + 450.3) / 2, 23.5),
        "neck": Survey(371.2, 19.7),
        "upper_arm": Survey(305.6, 30.8),
        "wrist": Survey(186.6, 8.8),
        "arm_length": Survey(543.6, 29.4),
        "waist": Survey(860.9, 99.9),
        "back_width": Survey(372.6, 29.8),
        "head": Survey(561.1, 19.4),
    },
    "men": {
        "bust": Survey(1058.7, 87.4),
        "hip": Survey(1019.5, 76.7),
        "across_shoulder": Survey((415.7 + 510.4) / 2, 25.9),
        "neck": Survey(434.6, 25.7),
        "upper_arm": Survey(358.1, 34.6),
        "wrist": Survey(212.3, 10.2),
        "arm_length": Survey(593.1, 30.8),
        "waist": Survey(940.6, 111.7),
        "back_width": Survey(430.9, 35.2),
        "head": Survey(574.4, 16.0),
    },
}
USUAL_DEVIATIONS = 4.0
"""Standard deviations around a survey's mean that count as usual: soldiers vary less than the public."""

# In inches, for what no survey at hand has; children of about 2 to 14 years. Common practice, no source (no open table
# with these measurements was found).
HABITS: Mapping[Wearer, Mapping[str, tuple[float, float]]] = {
    "women": {
        "armhole_depth": (6.0, 13.0),
        "nape_to_armhole": (6.0, 13.0),
        "nape_to_waist": (13.0, 19.5),
        "front_length": (13.0, 23.0),
        "chest_width": (10.0, 19.0),
        "shoulder_slope": (0.5, 3.5),
        "crotch_depth": (8.5, 14.5),
        "hip_depth": (5.5, 11.0),
        "inside_leg": (24.0, 37.0),
        "thigh": (16.0, 36.0),
    },
    "men": {
        "armhole_depth": (7.0, 14.0),
        "nape_to_armhole": (7.0, 14.0),
        "nape_to_waist": (14.5, 22.0),
        "front_length": (14.5, 22.0),
        "chest_width": (12.0, 21.0),
        "shoulder_slope": (0.5, 4.0),
        "crotch_depth": (8.5, 14.5),
        "hip_depth": (5.5, 11.0),
        "inside_leg": (25.0, 39.0),
        "thigh": (17.0, 36.0),
    },
    "children": {
        "bust": (20.0, 36.0),
        "hip": (20.0, 38.0),
        "across_shoulder": (8.5, 15.0),
        "neck": (10.0, 16.0),
        "upper_arm": (5.5, 12.5),
        "wrist": (4.0, 8.0),
        "arm_length": (9.5, 23.0),
        "waist": (18.0, 34.0),
        "armhole_depth": (4.0, 10.0),
        "nape_to_armhole": (4.0, 10.0),
        "nape_to_waist": (7.5, 17.5),
        "front_length": (7.5, 18.5),
        "back_width": (7.5, 15.0),
        "chest_width": (7.5, 14.5),
        "shoulder_slope": (0.25, 2.5),
        "crotch_depth": (5.0, 12.0),
        "hip_depth": (3.0, 8.5),
        "inside_leg": (12.0, 33.0),
        "thigh": (10.0, 26.0),
        "head": (17.0, 24.0),
    },
}
BARE_WRIST = 50.0
"""How much less a bare wrist may measure, mm: the hand is a fifth larger (ANSUR II)."""


def usual_range(wearer: Wearer, measurement: str) -> Range:
    """The limits for one measurement of one kind of wearer, mm."""
    survey = SURVEYS.get(wearer, {}).get(measurement)
    if survey is None:
        low, high = (inches * INCH for inches in HABITS[wearer][measurement])
    else:
        reach = USUAL_DEVIATIONS * survey.deviation
        low, high = survey.mean - reach - BARE_WRIST * (measurement == "wrist"), survey.mean + reach
    return Range(low / 2, low, high, high * 2)
