"""What is said of a command line that will not do, in our own words."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import typer

_SAYINGS = {
    "int_parsing": "write a whole number, such as 2, not {got}",
    "int_parsing_size": "write a whole number, such as 2, not {got}",
    "int_from_float": "write a whole number, such as 2, not {got}",
    "float_parsing": "write a plain number, such as 2.5, not {got}",
    "finite_number": "write a plain number, such as 2.5, not {got}",
    "greater_than_equal": "write {ge:g} or more, not {got}",
    "less_than_equal": "write {le:g} or less, not {got}",
}
"""What to do about each kind of value that options do not take."""

_NEGATIVE = re.compile(r"-[.\d]")
"""What looks like an option to who reads a command line, and is a number to who writes it."""

_LONGEST = 40


def usage_words(error: typer.TyperException) -> str:
    """What is wrong on a command line: the option, what it needs, what it got."""
    option = str(getattr(error, "option_name", ""))
    if _NEGATIVE.fullmatch(option):
        return f"'{option} …' begins with a minus: write a length or number of 0 or more, without it"
    cause: Any = error.__cause__
    details = cause.errors()[0] if hasattr(cause, "errors") else {}
    kind = details.get("type", "")
    said = str(details["ctx"]["error"]) if kind == "value_error" else _SAYINGS.get(kind)
    parameter: Any = getattr(error, "param", None)
    if said is None or parameter is None:
        return error.format_message()
    got = str(details["input"])
    got = f"'{got if len(got) <= _LONGEST else got[:_LONGEST] + '…'}'"
    named = parameter.get_error_hint().strip("'")
    return f"{named}: {said if kind == 'value_error' else said.format(got=got, **details.get('ctx', {}))}"
