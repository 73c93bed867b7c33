"""The body: named measurements, as `pieces.body.measures` says what they are, and how far each may be believed.

Two ranges a measurement: outside the *usual* one a note is made, outside the *possible* one it is refused.
"""

from __future__ import annotations

from dataclasses import fields
from typing import TYPE_CHECKING, Literal, NamedTuple, get_args

from pieces.dimensioned import NOT_GIVEN, Dimensioned, Mm, MmOrNone
from pieces.errors import MeasurementError
from pieces.require import is_one_of, told
from pieces.summary import units_asked
from pieces.units import INCH, format_both, format_size

if TYPE_CHECKING:
    from collections.abc import Mapping

    from pieces.summary import UnitsAsked

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
# The survey's names: chest, buttock, neck base, biceps (flexed) and hand circumference (a cuff must pass the hand);
# sleeve outseam. Across the shoulder lies between its biacromial and bideltoid breadth: their mean is used.
_SURVEYS: Mapping[str, Mapping[str, Survey]] = {
    "women": {
        "bust": Survey(946.9, 82.7),
        "hip": Survey(1021.2, 75.9),
        "across_shoulder": Survey((365.3 + 450.3) / 2, 23.5),
        "neck": Survey(371.2, 19.7),
        "upper_arm": Survey(305.6, 30.8),
        "wrist": Survey(186.6, 8.8),
        "arm_length": Survey(543.6, 29.4),
    },
    "men": {
        "bust": Survey(1058.7, 87.4),
        "hip": Survey(1019.5, 76.7),
        "across_shoulder": Survey((415.7 + 510.4) / 2, 25.9),
        "neck": Survey(434.6, 25.7),
        "upper_arm": Survey(358.1, 34.6),
        "wrist": Survey(212.3, 10.2),
        "arm_length": Survey(593.1, 30.8),
    },
}
USUAL_DEVIATIONS = 4.0
"""Standard deviations around a survey's mean that count as usual: soldiers vary less than the public."""

# Children of about 2 to 14 years: common practice, no source (no open table with these measurements was found).
_CHILDREN = {
    "bust": (20.0, 36.0),
    "hip": (20.0, 38.0),
    "across_shoulder": (8.5, 15.0),
    "neck": (10.0, 16.0),
    "upper_arm": (5.5, 12.5),
    "wrist": (4.0, 8.0),
    "arm_length": (9.5, 23.0),
}
# Depth of the armhole below the shoulder point: common practice, no source.
_ARMHOLE_DEPTH = {"women": (8.0, 13.0), "men": (8.5, 14.0), "children": (5.0, 10.0)}


def usual_range(wearer: Wearer, measurement: str) -> Range:
    """The limits for one measurement of one kind of wearer, mm."""
    if measurement == "armhole_depth":
        low, high = (inches * INCH for inches in _ARMHOLE_DEPTH[wearer])
    elif wearer == "children":
        low, high = (inches * INCH for inches in _CHILDREN[measurement])
    else:
        mean, deviation = _SURVEYS[wearer][measurement]
        low, high = mean - USUAL_DEVIATIONS * deviation, mean + USUAL_DEVIATIONS * deviation
        if measurement == "wrist":
            low -= 50.0  # a bare wrist: the hand is a fifth larger (same survey)
    return Range(low / 2, low, high, high * 2)


def check_measurement(name: str, value: float, wearer: Wearer) -> None:
    """Raise MeasurementError if no body of that kind measures as much, or as little."""
    limits = usual_range(wearer, name)
    if not limits.least <= value <= limits.most:
        raise MeasurementError(
            f"{name} of {format_both(value)} is not plausible for {wearer}: it should be"
            f" between {format_both(limits.low)} and {format_both(limits.high)};"
            " measure again, or check the unit"
        )


class Body(Dimensioned):
    """The measurements of one body, each given with its unit.

    Parameters
    ----------
    bust, hip, neck, upper_arm
        Girths, close to the body; of the neck at its base.
    across_shoulder
        From shoulder point to shoulder point across the back.
    wrist
        Girth with comfort: what the cuff should close to, about the girth of the hand.
    arm_length
        From the shoulder point to the wrist; needed where the style gives no sleeve length.
    armhole_depth
        From the shoulder point straight down to the line under the arm; by default from the bust.
    wearer
        Whose usual ranges the measurements are held against.

    Raises
    ------
    MeasurementError
        If a measurement is outside what a body can have.
    """

    bust: Mm
    hip: Mm
    across_shoulder: Mm
    neck: Mm
    upper_arm: Mm
    wrist: Mm
    arm_length: MmOrNone = NOT_GIVEN
    armhole_depth: MmOrNone = NOT_GIVEN
    wearer: Wearer = "women"

    def __post_init__(self) -> None:
        super().__post_init__()
        if not is_one_of(self.wearer, get_args(Wearer)):
            raise MeasurementError(f"a wearer must be one of {', '.join(get_args(Wearer))}, not {told(self.wearer)}")
        for name, value in self.measurements().items():
            check_measurement(name, value, self.wearer)

    def measurements(self) -> dict[str, float]:
        """All measurements that were given, by name, mm."""
        named = {name: getattr(self, name) for name in measurement_names()}
        return {name: value for name, value in named.items() if value is not None}

    def remarks(self, units: UnitsAsked) -> list[str]:
        """A line for each measurement outside the usual range of its kind of wearer."""
        lines, units = [], units_asked(units)
        for name, value in self.measurements().items():
            limits = usual_range(self.wearer, name)
            if not limits.low <= value <= limits.high:
                usual = f"{format_size(limits.low, units)} to {format_size(limits.high, units)}"
                lines.append(f"{name} of {format_size(value, units)} is unusual for {self.wearer} (usual: {usual})")
        return lines


class Unmeasured(Body):
    """No body: pieces that were not drafted here fit whomever they were made for."""

    def __init__(self) -> None:
        pass

    def measurements(self) -> dict[str, float]:
        """Nothing was measured."""
        return {}


def measurement_names(*, needed: bool = False) -> list[str]:
    """What a body is measured by, in the order of its fields; or only what no body can be without."""
    return [f.name for f in fields(Body) if f.name != "wearer" and not (needed and f.default is None)]
