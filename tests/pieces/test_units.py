"""Lengths in and out. Inch and yard are exact by the international agreement of 1959."""

from __future__ import annotations

import unicodedata
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pieces.errors import LengthError
from pieces.units import (
    Units,
    bound_both,
    format_bound,
    format_cloth,
    format_exact,
    format_fraction,
    format_need,
    format_size,
    metres_bound,
    metres_need,
    need_both,
    parse_length,
    percent_need,
    percent_reached,
    round_up,
    unit_size,
    unit_written,
    whole_steps,
)


@pytest.mark.parametrize(
    ("text", "unit"),
    [("½ yd", "yd"), ("54 Yards 1 foot", "ft"), ('22 1/2"', "in"), ("5000 metres", "m"), ("57cm", "cm")],
)
def test_unit_written(text: Any, unit: Any) -> None:
    """The unit that a length was written in last is known without its words being read again."""
    assert unit_written(text) == unit
    assert unit_size(unit) == parse_length(f"1 {unit}")


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("42 in", 1066.8),
        ('22 1/2"', 571.5),
        ("5¼ in", 133.35),
        ("57cm", 570.0),
        ("1 yd 4 in", 1016.0),
        ("1.2 m", 1200.0),
        ("2 3/8 yd", 2171.7),
        ("7/8 in", 22.225),
        ("1-1/2 in", 38.1),
        ("1½″", 38.1),
        ("⅔ yd", 609.6),
        ("5'2\"", 1574.8),
        ("5 ft 2 in", 1574.8),
        (".5 in", 12.7),
        ("3. mm", 3.0),
        ("1 inch", 25.4),
        ("2 Yards", 1828.8),
        ("1 metre 5 centimetres", 1050.0),
        ("  60 IN ", 1524.0),
        ("22\u00a01/2\u00a0in", 571.5),
        ("0 in", 0.0),
    ],
)
def test_spellings(text: str, mm: float) -> None:
    """Each spelling is read as its length by hand."""
    assert parse_length(text) == pytest.approx(mm, abs=1e-9)


def test_exact_units() -> None:
    """An inch is 25.4 mm and a yard 0.9144 m, exactly."""
    assert parse_length("1 in") == 25.4
    assert parse_length("1 yd") == 914.4
    assert parse_length("1 ft") == 304.8


@pytest.mark.parametrize(
    "text",
    [
        "", " ", "42", "1/2", "½", "in", "1,5 cm", "1,000 mm", "5 furlongs", "5 ells", "-5 in", "−5 in", "5 in -2 in",
        "1/0 in", "1e3 in", "1e9999 m", "nan in", "inf m", "5 in 3", "1 1/2 1/2 in", "1 yd, 4 in", "5 in.5", "²5 in",
        "五 cm", "5 çm", "5 in\x00", "1.5/2 in", "1/2/3 in", "9" * 40 + " mm", "11000 m", "9" * 70 + " mm", "5 in\n6",
        "0x10 in", "5_0 mm", "💥", "5 💥", "+5 in", "m", "1 .. in",
        "5 m 3 m", "5 ft 3 foot",
    ],
)  # fmt: skip
def test_refused(text: str) -> None:
    """What is no length is refused in one line that shows what was written."""
    with pytest.raises(LengthError) as caught:
        parse_length(text)
    assert "\n" not in str(caught.value) and "cannot read the length" in str(caught.value)


@pytest.mark.parametrize("value", [42, 42.0, None, True, ["5 in"]])
def test_not_even_text(value: object) -> None:
    """A bare number is refused, and the error says which units may be written."""
    with pytest.raises(LengthError, match="in, ft, yd, mm, cm or m"):
        parse_length(value)  # type: ignore[arg-type]


def test_unknown_unit_is_named() -> None:
    """An unknown unit is named, and so are the known ones."""
    with pytest.raises(LengthError, match=r"unknown unit 'furlongs'.*in, ft, yd, mm, cm or m"):
        parse_length("5 furlongs")


@given(st.text(max_size=70))
def test_any_text_is_read_or_refused(text: str) -> None:
    """Whatever is written, the answer is a length of 0 or more, or a LengthError."""
    try:
        assert parse_length(text) >= 0
    except LengthError as error:
        assert error.text[:20] == text[:20]


@pytest.mark.parametrize(
    ("value", "parts", "text"),
    [(22.5, 8, "22 1/2"), (0.875, 8, "7/8"), (3.0, 8, "3"), (0.0, 8, "0"), (-1.25, 8, "-1 1/4"), (5 / 16, 16, "5/16")],
)
def test_fractions(value: float, parts: int, text: str) -> None:
    """A fraction is written in lowest terms, as the trade does."""
    assert format_fraction(value, parts) == text


@pytest.mark.parametrize(
    ("mm", "units", "size", "cloth"),
    [
        (571.5, Units.INCHES, "22 1/2 in", "5/8 yd"),
        (1485.9, Units.INCHES, "58 1/2 in", "1 5/8 yd"),
        (1485.95, Units.INCHES, "58 1/2 in", "1 3/4 yd"),
        (571.5, Units.METRIC, "57 cm", "0.60 m"),
        (1200.0, Units.METRIC, "120 cm", "1.20 m"),
    ],
)
def test_written_as_the_trade_does(mm: float, units: Units, size: str, cloth: str) -> None:
    """Sizes go to the nearest 1/8 in or 0.5 cm, cloth up to the next 1/8 yd or 0.05 m; by hand."""
    assert format_size(mm, units) == size
    assert format_cloth(mm, units) == cloth


@given(st.floats(0, 50_000), st.sampled_from(list(Units)), st.sampled_from([8, 16]))
def test_sizes_come_back(mm: float, units: Units, parts: int) -> None:
    """A size read back differs by no more than half of what it was rounded to."""
    step = 25.4 / parts if units is Units.INCHES else 5.0
    assert abs(parse_length(format_size(mm, units, parts)) - mm) <= step / 2 + 1e-6


@given(st.floats(0, 50_000), st.sampled_from(list(Units)))
def test_cloth_is_never_short(mm: float, units: Units) -> None:
    """A length of cloth read back is no shorter, and longer by less than the step it was rounded up to."""
    step = 914.4 / 8 if units is Units.INCHES else 50.0
    assert -1.1e-3 <= parse_length(format_cloth(mm, units)) - mm < step


@given(st.integers(0, 10_000), st.sampled_from([114.3, 228.6, 100.0, 50.0]))
def test_whole_steps_stay(steps: int, step: float) -> None:
    """A whole number of steps is not rounded up to one more."""
    assert round_up(steps * step, step) == pytest.approx(steps * step)


def test_a_need_just_above_a_step() -> None:
    """7 1/4 yd are 6629.4 mm: what a sum of floats is off by takes no step more, a thousandth of a mm takes one."""
    step = 914.4 / 4
    for mm, steps in ((6629.4, 29), (sum([0.1] * 66_294), 29), (6629.4004, 29), (6629.4006, 30), (6629.3, 29)):
        assert whole_steps(mm, step) == steps
        assert round_up(mm, step) == pytest.approx(steps * step)


@given(st.floats(0, 20_000) | st.integers(0, 50_000).map(lambda n: n * 3.175 / 2), st.sampled_from(list(Units)))
def test_directed_rounding(mm: Any, units: Any) -> None:
    """A need is shown no less than it is (to a thousandth of a mm, as it is bought), a bound no more; a step apart."""
    need, bound = (parse_length(write(mm, units)) for write in (format_need, format_bound))
    step = 25.4 / 8 if units is Units.INCHES else 5.0
    assert mm - 1.001e-3 <= need < mm + step
    assert mm - step < bound <= mm + 1.001e-6
    assert bound <= need + 1e-9


def test_bound_seen_rounded_up() -> None:
    """32.715 in can be undercut by no marker; nor could 32 3/4 in, but that was never proved."""
    assert format_bound(32.715 * 25.4, Units.INCHES) == "32 5/8 in"
    assert format_need(32.63 * 25.4, Units.INCHES) == "32 3/4 in"
    assert (need_both(470.01), bound_both(470.01)) == ("18 5/8 in (471 mm)", "18 1/2 in (470 mm)")
    assert (metres_need(1999.2), metres_bound(1999.8)) == ("2.000 m", "1.999 m")


@given(st.floats(0, 1))
def test_percent(share: Any) -> None:
    """What may still be saved is rounded up, what is reached down."""
    saved, reached = (float(write(share).rstrip("%")) / 100 for write in (percent_need, percent_reached))
    assert reached - 1e-8 <= share <= saved + 1e-8
    assert saved - reached <= 0.001 + 1e-9


@pytest.mark.parametrize(
    ("sign", "share"),
    [("½", 1 / 2), ("⅓", 1 / 3), ("⅔", 2 / 3), ("¼", 1 / 4), ("¾", 3 / 4), ("⅛", 1 / 8), ("⅜", 3 / 8)]
    + [("⅝", 5 / 8), ("⅞", 7 / 8)],
)
def test_fractions_of_one_sign(sign: str, share: float) -> None:
    """Each fraction that has a sign of its own, as Unicode names it, alone and after a whole number."""
    assert unicodedata.numeric(sign) == pytest.approx(share)
    assert parse_length(f"{sign} in") == pytest.approx(25.4 * share)
    assert parse_length(f"2{sign} in") == pytest.approx(25.4 * (2 + share))


def test_a_comma_is_named() -> None:
    """Of 1,5 m it is said that a point is meant, and not that a unit is missing."""
    for text in ("1,5 m", "22,5 in"):
        with pytest.raises(LengthError, match="use a point, not a comma"):
            parse_length(text)


@pytest.mark.parametrize(
    ("written", "units", "told"),
    [
        ("60 in", Units.METRIC, "152.4 cm"),
        ("1 yd", Units.METRIC, "91.44 cm"),
        ("1/2 in", Units.METRIC, "1.27 cm"),
        ("1/16 in", Units.METRIC, "0.158 cm"),
        ("60 in", Units.INCHES, "60 in"),
        ("1 3/64 in", Units.INCHES, "1 3/64 in"),
        ("1.2 m", Units.INCHES, "47.244 in"),
    ],
)
def test_what_was_given_is_told_exactly(written: str, units: Units, told: str) -> None:
    """A length given in one unit is told exactly in the other, or a hair less: never more than there is."""
    assert format_exact(parse_length(written), units) == told
    assert parse_length(told) <= parse_length(written) + 1e-9
