"""Plain data as people and programs write it, TOML and JSON: what does not go into numbers and text is refused."""

from __future__ import annotations

import json
import re
import tomllib
from typing import Any

MOST_DIGITS = 18
"""Of a whole number: TOML asks for 64 bits, and no more is ever meant."""


def toml_data(text: str, name: str, kind: type[Exception]) -> dict[str, Any]:
    """The data of TOML text.

    Parameters
    ----------
    name
        What an error calls it.
    kind
        Of error, raised if it is no valid TOML: one line.
    """
    try:
        data = tomllib.loads(text)
        _require_sense(data)
    except tomllib.TOMLDecodeError as error:
        raise kind(f"{name} is not valid TOML{_told(str(error))}") from error
    except (ValueError, RecursionError) as error:
        raise kind(f"{name} is not valid TOML: {_why(error)}") from error
    return data


_TO_DO = {
    r"overwrite|twice|mutate|Duplicate|redefine": "a key or a table is there already: keep one of them",
    r"Unterminated|Expected [\"']{3}|Illegal character '\\n'": "a text has no end: close its quotes in the same line",
    r"Unescaped|escape|hex value": "a backslash stands in a text: write two, or single quotes round the text",
    r"Unclosed": "a bracket is not closed: close it",
    r"Invalid value": "a value is missing or cannot be read: write text in quotes, a plain number, true or false",
    r"Illegal|Found invalid": "a sign that cannot be seen stands there: take it out",
    r"": "write key = value, each on its own line, with text in quotes",
}
"""What to do, by what the reader of TOML says."""


def _told(said: str) -> str:
    """Where TOML cannot be read, and what to do, in our own words."""
    place = re.search(r"at (line \d+, column \d+)", said)
    where = f" in {place[1]}" if place else " at its end"
    return where + ": " + next(to_do for pattern, to_do in _TO_DO.items() if re.search(pattern, said))


def json_data(text: str, name: str, kind: type[Exception]) -> Any:
    """The data of JSON text; see `toml_data`."""
    try:
        data = json.loads(text, parse_constant=_refuse, parse_int=_whole, object_pairs_hook=_object)
        if "\\ud" in text.lower():
            _require_sense(data)
    except _TwiceError as error:
        raise kind(f"{name}: {error}") from error
    except (ValueError, RecursionError) as error:
        raise kind(f"{name} is not JSON, or is cut short: {_why(error)}") from error
    return data


class _TwiceError(ValueError):
    """Something is said twice, and only the last of it would be left."""


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    data = dict(pairs)
    if len(data) < len(pairs):
        twice = next(key for at, (key, _) in enumerate(pairs) if any(key == other for other, _ in pairs[:at]))
        raise _TwiceError(f"'{twice[:60]}' stands there twice: give each its own name")
    return data


def _require_sense(data: Any) -> None:
    """Refuse whole numbers of too many digits, and halves of a sign, which cannot be written anywhere."""
    if isinstance(data, dict):
        for key, value in data.items():
            _require_sense(key)
            _require_sense(value)
    elif isinstance(data, list):
        for value in data:
            _require_sense(value)
    elif isinstance(data, str):
        try:
            data.encode()
        except UnicodeEncodeError:
            raise ValueError("a text holds half a character (a lone surrogate)") from None
    elif isinstance(data, int) and abs(data) >= 10**MOST_DIGITS:
        raise ValueError(_TOO_LONG)


_TOO_LONG = f"a whole number has more than {MOST_DIGITS} digits"


def _why(error: Exception) -> str:
    if isinstance(error, RecursionError):
        return "it is nested too deeply"
    return _TOO_LONG if "integer string conversion" in str(error) else str(error)


def _refuse(constant: str) -> float:
    raise ValueError(f"{constant} is not a number")


def _whole(digits: str) -> int:
    if len(digits) > MOST_DIGITS + 1:
        raise ValueError(_TOO_LONG)
    return int(digits)


def are_points(value: Any) -> bool:
    """Whether plain data is a list of places, each a list of numbers: neither true, nor text, nor nothing is one."""
    return isinstance(value, list) and all(
        isinstance(place, list) and all(type(number) in (int, float) for number in place) for place in value
    )
