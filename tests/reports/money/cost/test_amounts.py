"""Amounts as an order file writes them."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from pydantic import TypeAdapter, ValidationError

from pieces.errors import LengthError
from reports.money.cost.amounts import Amount, MarginShare, Money, RateText


@pytest.mark.parametrize(
    ("value", "number", "by_length"), [(2, Fraction(2), False), ("1.2 m", Fraction(1200), True), (" 50 cm ", 500, True)]
)
def test_pieces_and_lengths(value: Any, number: Fraction, by_length: bool) -> None:
    """A whole number counts pieces, text is a length in mm, exactly."""
    amount = Amount.parse(value)
    assert (amount.number, amount.by_length, amount.text) == (number, by_length, str(value).strip())


@pytest.mark.parametrize("value", [0, -1, 1.5, True, None, "0 m"])
def test_no_amounts(value: Any) -> None:
    """Nothing, less, a part of a piece, no number at all."""
    with pytest.raises(ValueError, match=r"write|too little"):
        Amount.parse(value)
    with pytest.raises(LengthError):
        Amount.parse("much")


@pytest.mark.parametrize(
    ("kind", "value"), [(RateText, "18.00"), (RateText, "18.00 / m"), (MarginShare, 100), (Money, "-1")]
)
def test_refused_in_a_file(kind: Any, value: Any) -> None:
    """Pay without its time, a margin of all there is, money below 0."""
    with pytest.raises(ValidationError):
        TypeAdapter(kind).validate_python(value)


def test_pay_is_for_time() -> None:
    """An hourly rate."""
    assert TypeAdapter(RateText).validate_python("18.00 / h").kind == "time"
