"""Things of the wrong kind are told in a few words."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest

from pieces.errors import WrongTypeError
from pieces.require import require, require_number, require_whole, told


class Armhole:
    """Something of a kind of its own."""


@pytest.mark.parametrize(
    ("given", "words"),
    [
        (None, "None"),
        (True, "True"),
        ("canvas", "the text 'canvas'"),
        ("x" * 41, f"the text '{'x' * 40}…'"),
        (60, "the number 60"),
        (2.50, "the number 2.5"),
        (Armhole, "the class Armhole"),
        (Armhole(), "an Armhole"),
        ([1], "a list"),
    ],
)
def test_told(given: object, words: str) -> None:
    """A kind, or the thing itself where it is short."""
    assert told(given) == words


def test_kinds() -> None:
    """What is of the kind passes; the error says what it is for, what it needs and what it got."""
    require("a", str, "the name", "text")
    with pytest.raises(WrongTypeError, match="the name must be text, not the number 3"):
        require(3, str, "the name", "text")


@pytest.mark.parametrize("number", [1, 1.5, np.float64(2), Fraction(1, 2)])
def test_numbers(number: object) -> None:
    """Of any library; a truth value is none."""
    require_number(number, "it")
    with pytest.raises(WrongTypeError):
        require_number(True, "it")


def test_whole_numbers() -> None:
    """Numpy's as well; 2.0 is none."""
    require_whole(np.int64(2), "it")
    for given in (2.0, False, "2"):
        with pytest.raises(WrongTypeError, match="must be a whole number"):
            require_whole(given, "it")
