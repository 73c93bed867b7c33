"""Plain data in TOML and JSON: what can be neither a number nor text is refused, in a few words."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from pieces.data import json_data, toml_data
from pieces.errors import FormatError

if TYPE_CHECKING:
    from collections.abc import Callable

BAD: list[tuple[Callable[..., Any], str, str]] = [
    (toml_data, f"a = {'9' * 5000}", "more than 18 digits"),
    (toml_data, f"a = [[1, {'9' * 30}]]", "more than 18 digits"),
    (toml_data, "a = " + "[" * 50_000, "nested too deeply"),
    (toml_data, "a = ", "at its end: a value is missing"),
    (toml_data, "a = 1\nb = 'x\n", "at its end: a text has no end"),
    (toml_data, "a = 1\na = 2\n", "a key or a table is there already"),
    (toml_data, 'a = "C:\\Users"', "write two, or single quotes round the text"),
    (toml_data, "a = [1", "a bracket is not closed"),
    (toml_data, "a = 01", "in line 1, column 6: write key = value"),
    (toml_data, 'a = "\x01"', "a sign that cannot be seen"),
    (json_data, f'{{"a": -{"9" * 5000}}}', "more than 18 digits"),
    (json_data, "[" * 100_000, "nested too deeply"),
    (json_data, '{"a": NaN}', "NaN is not a number"),
    (json_data, '{"a": ["x\\ud800"]}', "half a character"),
    (json_data, '{"x\\uDfff": 1}', "half a character"),
    (json_data, '{"a": ', "line 1"),
]


@pytest.mark.parametrize(("read", "text", "why"), BAD)
def test_refused(read: Callable[..., Any], text: str, why: str) -> None:
    """Numbers of thousands of digits (TOML 1.0 asks for 64 bits), deep nesting, NaN (RFC 8259) and halves of signs."""
    with pytest.raises(FormatError, match=why) as error:
        read(text, "a.file", FormatError)
    assert str(error.value).startswith("a.file is not ") and len(str(error.value)) < 200


def test_read() -> None:
    """What makes sense is read as it is: numbers of 64 bits, whole pairs of surrogates."""
    assert toml_data("a = 123456789012345678\nb = '½'", "a", FormatError) == {"a": 123456789012345678, "b": "½"}
    assert json_data('{"a": "\\ud83d\\udc57", "b": -1}', "a", FormatError) == {"a": "👗", "b": -1}


def test_an_object_that_says_a_key_twice() -> None:
    """Only the last of two would be left: it is refused, and named."""
    with pytest.raises(FormatError, match="'front' stands there twice"):
        json_data('{"pieces": {"front": [1], "front": [2]}}', "a.json", FormatError)
