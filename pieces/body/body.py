"""The body: named measurements, as `pieces.body.measures` says what they are, held against `pieces.body.ranges`."""

from __future__ import annotations

from dataclasses import fields
from typing import TYPE_CHECKING, get_args

from pieces.body.corrections import Corrections
from pieces.body.ranges import Wearer, usual_range
from pieces.dimensioned import NOT_GIVEN, Dimensioned, Mm, MmOrNone
from pieces.errors import MeasurementError
from pieces.require import is_one_of, told
from pieces.summary import units_asked
from pieces.units import format_both, format_size

if TYPE_CHECKING:
    from pieces.summary import UnitsAsked


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
    """The measurements of one body, each given with its unit; a garment says which of them it cannot do without.

    Parameters
    ----------
    bust, hip, neck, upper_arm
        Girths, close to the body; of the neck at its base.
    across_shoulder
        From shoulder point to shoulder point across the back.
    wrist
        Girth with comfort: what the cuff should close to, about the girth of the hand.
    arm_length
        From the shoulder point to the wrist.
    armhole_depth
        How deep the armhole shall be, straight down from the shoulder point; by default by the fit and the bust.
    nape_to_armhole
        From the nape straight down to the line under the arm.
    waist
        Girth where a string round the middle settles.
    nape_to_waist, front_length
        To the waist: down the back from the nape; from the neck point over the fullest part of the bust.
    back_width, chest_width
        From arm to arm halfway down the armhole, across the back and across the front.
    shoulder_slope
        How far the shoulder point lies below the neck point.
    crotch_depth
        From the waist to the seat of a chair, sitting.
    hip_depth
        From the waist straight down to the line of the hip.
    inside_leg
        From the crotch to the floor.
    thigh
        Girth at its fullest.
    head
        Girth above the brows: what a closed neckline must pass.
    tried_on
        What a try-on has shown to be drafted otherwise.
    wearer
        Whose usual ranges the measurements are held against.

    Raises
    ------
    MeasurementError
        If a measurement is outside what a body can have.
    """

    bust: Mm = NOT_GIVEN
    hip: Mm = NOT_GIVEN
    across_shoulder: Mm = NOT_GIVEN
    neck: Mm = NOT_GIVEN
    upper_arm: Mm = NOT_GIVEN
    wrist: Mm = NOT_GIVEN
    arm_length: MmOrNone = NOT_GIVEN
    armhole_depth: MmOrNone = NOT_GIVEN
    nape_to_armhole: MmOrNone = NOT_GIVEN
    waist: MmOrNone = NOT_GIVEN
    nape_to_waist: MmOrNone = NOT_GIVEN
    front_length: MmOrNone = NOT_GIVEN
    back_width: MmOrNone = NOT_GIVEN
    chest_width: MmOrNone = NOT_GIVEN
    shoulder_slope: MmOrNone = NOT_GIVEN
    crotch_depth: MmOrNone = NOT_GIVEN
    hip_depth: MmOrNone = NOT_GIVEN
    inside_leg: MmOrNone = NOT_GIVEN
    thigh: MmOrNone = NOT_GIVEN
    head: MmOrNone = NOT_GIVEN
    tried_on: Corrections = Corrections()
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


def measurement_names() -> list[str]:
    """What a body is measured by, in the order of its fields."""
    return [f.name for f in fields(Body) if f.name not in ("tried_on", "wearer")]
