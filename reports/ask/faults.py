"""What is wrong with a job, in words that a person can act on."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from pieces.errors import unknown_key
from pieces.units import spoken
from reports.errors import JobError

if TYPE_CHECKING:
    from collections.abc import Mapping

    from pydantic import BaseModel, ValidationError
    from pydantic_core import ErrorDetails

_SAYINGS = {
    "bool_type": "write true or false, without quotes, not {got}",
    "dict_type": "write [{key}] on its own line, with its keys below",
    "finite_number": "write a plain number, such as 5, not {got}",
    "float_type": "write a plain number, such as 5, not {got}",
    "greater_than_equal": "write {ge:g} or more, not {got}",
    "int_type": "write a whole number, without quotes, such as 2, not {got}",
    "less_than": "write less than {lt:g}, not {got}",
    "less_than_equal": "write {le:g} or less, not {got}",
    "literal_error": "write {expected}, not {got}",
    "missing": "{key} is missing",
    "model_type": "write [[{key}]], in double brackets, on its own line, with its keys below",
    "string_type": "write text in quotes, not {got}",
    "tuple_type": "write [[{key}]], in double brackets, on its own line, with its keys below",
}
"""What to do about each kind of error that pydantic finds."""

_HINTS = {"missing": "add a line such as {key} = {example}"}
"""What to write in a file, besides."""

WITHIN = {
    "body": ('{ waist = "28 in" }', '{ waist = "71 cm" }'),
    "breaks": ('[{ at_least = "10 yd", price = "12.00 / yd" }]', '[{ at_least = "10 m", price = "12.00 / m" }]'),
    "by_size": ("{ M = 2 }",) * 2,
    "colours": ('["navy"]',) * 2,
    "edges": ('{ bottom = "1 in" }', '{ bottom = "2.5 cm" }'),
    "faults": ('[["20 in", "5 in", "2 in", "2 in"]]', '[["50 cm", "12 cm", "5 cm", "5 cm"]]'),
    "pieces": ('["front", "back"]',) * 2,
    "pleats": ('{ fold = "1 in", spacing = "2 in" }', '{ fold = "3 cm", spacing = "6 cm" }'),
    "sizes": ('["S", "M"]',) * 2,
    "style": ('{ length = "24 in" }', '{ length = "60 cm" }'),
}
"""Tables and lists that stand within an entry, or beside plain keys: an example in inches, and one in centimetres."""

_EXAMPLES = {"garment": '"rib-jacket"', "name": '"zip"', "amount": "1"}
"""What to write where a key is missing; others are lengths."""


class Fault(NamedTuple):
    """Something wrong.

    Parameters
    ----------
    path
        The way to its place in the data.
    where
        That place as a job file writes it.
    said
        What is wrong there.
    hint
        What to write in the file to mend it, where that is more than `said`.
    """

    path: tuple[int | str, ...]
    where: str
    said: str
    hint: str = ""

    @property
    def told(self) -> str:
        """All of it in one line, for who has the file open."""
        said = f"{self.said}: {self.hint}" if self.hint else self.said
        return f"{self.where}: {said}" if self.where else said


def first_fault(error: ValidationError, models: Mapping[str, type[BaseModel]]) -> str:
    """The first thing that pydantic found wrong with a job: where it stands, and what to write there.

    Parameters
    ----------
    models
        Of each kind of table, ``[[fabric]]`` or ``[cutting]``, what checks it.
    """
    first, *others = all_faults(error, models)
    more = f" (and {len(others)} more fault{'s' * (len(others) > 1)})" if others else ""
    return first.told + more


def all_faults(error: ValidationError, models: Mapping[str, type[BaseModel]]) -> list[Fault]:
    """Everything that pydantic found wrong; see `first_fault`."""
    return [_fault(details, models) for details in error.errors()]


def _fault(details: ErrorDetails, models: Mapping[str, type[BaseModel]]) -> Fault:
    numbers = details.get("ctx", {})
    cause = numbers.get("error")
    if not details["loc"]:  # what does not go together
        if isinstance(cause, JobError):
            return Fault((), "", cause.message, cause.hint)
        return Fault((), "", str(cause or details["msg"]))
    found = tuple(part for part in details["loc"] if not str(part).startswith(("function", "union")))
    found += tuple(numbers.get("path", ()))  # of an entry that does not go together with another
    table, *path = found
    where, key = [str(table)], str(table)
    if key in models:
        is_list = any(isinstance(part, int) for part in path[:1]) or details["type"] in ("tuple_type", "model_type")
        head = f"[[{key}]]" if is_list else f"[{key}]"
        where = [head, *(f"number {part + 1}" if isinstance(part, int) else str(part) for part in path)]
        key = str(path[-1]) if path and isinstance(path[-1], str) else key
    elif path and all(isinstance(part, str) for part in path):  # such as a size of a colour
        where = [f"[{key}]", *map(str, path)]
    if details["type"] in ("missing", "extra_forbidden"):
        where.pop()
    hint = ""
    if details["type"] == "extra_forbidden":
        said = unknown_key(key, list(models[str(table)].model_fields))
    elif details["type"] == "model_type" and isinstance(details["input"], list):
        said, where = f"write [{key}], in single brackets, and once", [f"[{key}]", *where[1:]]
    elif details["type"] in ("dict_type", "model_type", "tuple_type") and key in WITHIN and len(found) > 1:
        said = f"write it in brackets, such as {key} = {spoken(*WITHIN[key])}"
        said += f", not {_got(details['input'])}"
    elif details["type"] in _SAYINGS:
        usual = spoken("14.00 / yd", "14.00 / m") if key == "price" else spoken("45 in", "110 cm")
        example = _EXAMPLES.get(key, f'"{usual}"')
        words = {"key": key, "got": _got(details["input"]), "example": example, **numbers}
        said, hint = (of.get(details["type"], "").format(**words) for of in (_SAYINGS, _HINTS))
    else:
        said = str(cause) if cause else details["msg"]
    return Fault(found, " ".join(where), said, hint)


def _got(value: Any) -> str:
    """A value as a job file has it, cut short."""
    if isinstance(value, dict | list):
        return "a table" if isinstance(value, dict) else "a list"
    text = str(value).lower() if isinstance(value, bool) else f'"{value}"' if isinstance(value, str) else str(value)
    return text if len(text) <= 40 else text[:40] + "…"
