"""Errors of the packages: which builtin each is, and what it says."""

from __future__ import annotations

import pytest

from pieces import errors


@pytest.mark.parametrize(
    ("error", "builtin"),
    [
        ("LengthError", ValueError),
        ("MeasurementError", ValueError),
        ("DraftError", ValueError),
        ("OutlineError", ValueError),
        ("SizeError", ValueError),
        ("FormatError", ValueError),
        ("WrongTypeError", TypeError),
        ("AccountError", AssertionError),
    ],
)
def test_each_is_caught_as_ours_and_as_a_builtin(error: str, builtin: type[Exception]) -> None:
    """Who knows nothing of this package catches its errors by their builtin parents."""
    kind = getattr(errors, error)
    assert issubclass(kind, errors.PieceError) and issubclass(kind, builtin)


def test_a_length_says_what_it_is_the_length_of() -> None:
    """The error bears what was written and why it cannot be read; where it stands for something, it names that."""
    error = errors.LengthError("60", "a bare number has no unit", "the width")
    assert (error.text, error.why) == ("60", "a bare number has no unit")
    assert str(error) == "cannot read the width, '60': a bare number has no unit"
    assert str(errors.LengthError("60", "no unit")) == "cannot read the length '60': no unit"


def test_a_hint_is_said_last() -> None:
    """What to write in a file follows what is wrong, and can be had apart."""
    error = errors.MeasurementError("bust is missing", hint='write bust = "40 in"')
    assert str(error) == 'bust is missing: write bust = "40 in"'
    assert error.message == "bust is missing"


def test_an_unknown_key_is_told_the_nearest() -> None:
    """A slip of the pen is guessed; where nothing is near, all keys are named."""
    assert unknown("wdith") == "unknown key 'wdith': did you mean 'width'?"
    assert unknown("qqq").startswith("unknown key 'qqq'") and unknown("qqq").endswith("name, width")


def unknown(key: str) -> str:
    """What is said of a key where name and width are known."""
    return errors.unknown_key(key, ["name", "width"])
