"""Lengths that people give say their unit."""

from __future__ import annotations

import pytest

from pieces.errors import LengthError, WrongTypeError
from pieces.length import Length, cm, inches, length_in_mm, mm


@pytest.mark.parametrize("given", ["60 in", inches(60), cm(152.4), mm(1524)])
def test_sixty_inches_in_four_ways(given: object) -> None:
    """All are 1524 mm."""
    assert length_in_mm(given, "the width") == pytest.approx(1524)
    assert isinstance(length_in_mm(given, "the width"), Length)


@pytest.mark.parametrize("given", [60, 60.0, Length(60) * 1])
def test_a_bare_number_is_refused(given: object) -> None:
    """It could count anything; a product of lengths is a bare number again."""
    with pytest.raises(LengthError, match="the width, '60': a bare number has no unit"):
        length_in_mm(given, "the width")


def test_text_that_is_no_length_names_what_it_is_for() -> None:
    """The error says which length it is."""
    with pytest.raises(LengthError, match="the width, 'wide'"):
        length_in_mm("wide", "the width")


@pytest.mark.parametrize("given", [None, True, [60]])
def test_other_things_are_no_lengths(given: object) -> None:
    """It says what was given instead, and what to write."""
    with pytest.raises(WrongTypeError, match="the width must be a length with its unit"):
        length_in_mm(given, "the width")
    with pytest.raises(WrongTypeError, match=r"inches\(\) must be a number"):
        inches(given)  # type: ignore[arg-type]
