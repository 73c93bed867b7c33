"""Corrections from a try-on: what a client's garment is drafted longer, wider or lower than the rules say.

They are the client's, like measurements, and go into every draft for that body.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from pieces.dimensioned import NO_LENGTH, Dimensioned, Mm
from pieces.errors import MeasurementError
from pieces.length import Length
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

MOST = 6 * INCH
"""A larger correction is none, but a wrong measurement."""

MOST_OF_SHAPE = 2 * INCH
"""The same of what makes a piece another shape."""

SHAPE = ("blade", "hollow", "balance", "seat", "left_drop")

WORDS: Mapping[str, str] = {
    "blade": "back over the shoulder blades",
    "hollow": "back at the waist",
    "balance": "front from shoulder to chest",
    "fullness": "bust",
    "left_drop": "left shoulder",
    "left_sleeve": "left sleeve",
}
"""What a correction is of, where its name does not say it."""


class Correction(NamedTuple):
    """A correction as a person writes it: of what, in which direction, and in words."""

    of: str
    sign: int
    words: str


CORRECTIONS: Mapping[str, Correction] = {
    "longer": Correction("length", 1, "longer"),
    "shorter": Correction("length", -1, "shorter"),
    "sleeve_longer": Correction("sleeve", 1, "sleeve longer"),
    "sleeve_shorter": Correction("sleeve", -1, "sleeve shorter"),
    "wider": Correction("ease", 1, "wider all round"),
    "narrower": Correction("ease", -1, "narrower all round"),
    "back_wider": Correction("back", 1, "wider across the back"),
    "back_narrower": Correction("back", -1, "narrower across the back"),
    "front_wider": Correction("front", 1, "wider across the front"),
    "front_narrower": Correction("front", -1, "narrower across the front"),
    "armhole_lower": Correction("armhole", 1, "armhole lower"),
    "armhole_higher": Correction("armhole", -1, "armhole higher"),
    "arm_wider": Correction("arm", 1, "sleeve wider round the upper arm"),
    "arm_narrower": Correction("arm", -1, "sleeve narrower round the upper arm"),
    "back_rounder": Correction("blade", 1, "back longer over the shoulder blades"),
    "back_flatter": Correction("blade", -1, "back shorter over the shoulder blades"),
    "back_hollower": Correction("hollow", 1, "back shorter at the waist"),
    "back_straighter": Correction("hollow", -1, "back longer at the waist"),
    "front_longer": Correction("balance", 1, "front longer from shoulder to chest"),
    "front_shorter": Correction("balance", -1, "front shorter from shoulder to chest"),
    "bust_fuller": Correction("fullness", 1, "more room for the bust, in front alone"),
    "bust_flatter": Correction("fullness", -1, "less room for the bust, in front alone"),
    "seat_fuller": Correction("seat", 1, "more room for the seat, behind alone"),
    "seat_flatter": Correction("seat", -1, "less room for the seat, behind alone"),
    "left_shoulder_lower": Correction("left_drop", 1, "left shoulder lower than the right"),
    "left_shoulder_higher": Correction("left_drop", -1, "left shoulder higher than the right"),
    "left_sleeve_longer": Correction("left_sleeve", 1, "left sleeve longer than the right"),
    "left_sleeve_shorter": Correction("left_sleeve", -1, "left sleeve shorter than the right"),
}
"""Every correction by its name in a job file, beside the measurements of the body."""


class Corrections(Dimensioned):
    """By how much a body's garments are drafted otherwise than the rules say; each may be negative.

    Parameters
    ----------
    length, sleeve
        Longer, from the neck point and from the shoulder point.
    ease
        Wider all round the body.
    back, front
        Wider across, from armhole to armhole.
    armhole
        Lower.
    arm
        Wider round the upper arm.
    blade, hollow
        The back longer over the shoulder blades; shorter at the waist, for a hollow back.
    balance
        The front longer from the shoulder to the chest.
    fullness, seat
        More room in front alone, for the bust; behind alone, for the seat.
    left_drop, left_sleeve
        The left shoulder lower, the left sleeve longer than the right.

    Raises
    ------
    MeasurementError
        If one is larger than any correction.
    """

    length: Mm = NO_LENGTH
    sleeve: Mm = NO_LENGTH
    ease: Mm = NO_LENGTH
    back: Mm = NO_LENGTH
    front: Mm = NO_LENGTH
    armhole: Mm = NO_LENGTH
    arm: Mm = NO_LENGTH
    blade: Mm = NO_LENGTH
    hollow: Mm = NO_LENGTH
    balance: Mm = NO_LENGTH
    fullness: Mm = NO_LENGTH
    seat: Mm = NO_LENGTH
    left_drop: Mm = NO_LENGTH
    left_sleeve: Mm = NO_LENGTH

    def __post_init__(self) -> None:
        super().__post_init__()
        for name in self.__dataclass_fields__:
            most = MOST_OF_SHAPE if name in SHAPE else MOST
            if abs(value := getattr(self, name)) > most + 1e-6:
                raise MeasurementError(
                    f"a correction of the {WORDS.get(name, name)} by {format_both(abs(value))} is too large: measure"
                    f" again, or check the unit; at most {format_both(most)} are taken"
                )

    def words(self) -> Iterator[str]:
        """What was corrected, one after another."""
        for correction, value in self.each():
            yield f"{correction.words} by {format_both(value)}"

    def each(self) -> Iterator[tuple[Correction, float]]:
        """Each correction that was made, and by how much, mm."""
        for correction in CORRECTIONS.values():
            value = correction.sign * getattr(self, correction.of)
            if value > 0:
                yield correction, value


def corrections_of(written: Mapping[str, float]) -> Corrections:
    """The corrections of those a person wrote, by their names in a job file, mm; opposite ones are summed up."""
    sums: dict[str, float] = {}
    for name, value in written.items():
        of, sign, _ = CORRECTIONS[name]
        sums[of] = sums.get(of, 0.0) + sign * value
    return Corrections(**{of: Length(value) for of, value in sums.items()})
