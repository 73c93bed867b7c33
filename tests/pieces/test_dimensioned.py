"""Classes whose lengths are given with their units."""

from __future__ import annotations

import pickle
from dataclasses import FrozenInstanceError, replace
from typing import Any

import pytest

from pieces.dimensioned import NO_LENGTH, NOT_GIVEN, Dimensioned, Mm, MmOrNone
from pieces.errors import LengthError, WrongTypeError
from pieces.length import Length, cm, inches, mm


class Ribbon(Dimensioned):
    """A class of this kind."""

    name: str
    width: Mm
    loop: Mm = NO_LENGTH
    run_out: MmOrNone = NOT_GIVEN
    colour: str = "red"


class Bare(Dimensioned):
    """One without a name, that looks at its lengths once they are in mm."""

    depth: Mm

    def __post_init__(self) -> None:
        super().__post_init__()
        if not self.depth > 10:
            raise ValueError("too shallow")


def test_its_own_checks_see_mm() -> None:
    """They come after the lengths; what has no name is called by its class."""
    with pytest.raises(ValueError, match="too shallow"):
        Bare("1 cm")
    with pytest.raises(LengthError, match="the depth of Bare, '11'"):
        Bare(11)  # type: ignore[arg-type]


def test_text_and_lengths_come_in_mm_are_kept() -> None:
    """Text, and numbers with a unit; what may lack its length is None without it."""
    ribbon = Ribbon("satin", "1 in", cm(2), run_out=inches(3))
    assert (ribbon.width, ribbon.loop, ribbon.run_out) == (25.4, 20.0, pytest.approx(76.2))
    assert all(isinstance(each, float) for each in (ribbon.width, ribbon.loop, ribbon.run_out))
    assert (Ribbon("satin", "1 in").loop, Ribbon("satin", "1 in", run_out=None).run_out) == (0.0, None)


def test_it_is_a_frozen_value() -> None:
    """It cannot be changed, but replaced; equal lengths make equal values; it goes from process to process."""
    ribbon = Ribbon("satin", "1 in")
    with pytest.raises(FrozenInstanceError):
        ribbon.width = "2 in"  # type: ignore[misc]
    assert replace(ribbon, colour="blue", width=mm(50)) == Ribbon("satin", "5 cm", colour="blue")
    again = pickle.loads(pickle.dumps(ribbon))
    assert again == ribbon and isinstance(again.width, Length) and hash(again) == hash(ribbon)
    with pytest.raises(LengthError):
        replace(ribbon, width=50)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("wrong", "error", "said"),
    [
        ({"width": 60}, LengthError, "cannot read the width of 'satin', '60': a bare number has no unit: write"),
        ({"width": "60"}, LengthError, "cannot read the width of 'satin', '60': a bare number has no unit"),
        ({"width": None}, WrongTypeError, "the width of 'satin' must be a length with its unit, such as"),
        ({"run_out": 0}, LengthError, "cannot read the run out of 'satin', '0'"),
        ({"loop": [1]}, WrongTypeError, "the loop of 'satin' must be a length with its unit.* not a list"),
        ({"name": 5}, WrongTypeError, "the name of a Ribbon must be text, not the number 5"),
    ],
)
def test_what_is_no_length(wrong: dict[str, Any], error: type[Exception], said: str) -> None:
    """The error names the length, what it got, and what to write."""
    with pytest.raises(error, match=said):
        Ribbon(**{"name": "satin", "width": "1 in"} | wrong)
