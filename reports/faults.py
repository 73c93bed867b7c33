"""What is wrong with a job, in words that a person can act on."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from pieces.errors import unknown_key

if TYPE_CHECKING:
    from collections.abc import Mapping

    from pydantic import BaseModel, ValidationError

_SAYINGS = {
    "bool_type": "write true or false, without quotes, not {got}",
    "dict_type": "write [{key}] on a line of its own, and its keys below",
    "finite_number": "write a plain number, such as 5, not {got}",
    "float_type": "write a plain number, such as 5, not {got}",
    "greater_than_equal": "write {ge:g} or more, not {got}",
    "less_than": "write less than {lt:g}, not {got}",
    "less_than_equal": "write {le:g} or less, not {got}",
    "literal_error": "write {expected}, not {got}",
    "missing": "{key} is missing: add a line such as {key} = {example}",
    "model_type": "write [[{key}]], in double brackets, on a line of its own, and its keys below",
    "string_type": "write text in quotes, not {got}",
    "tuple_type": "write [[{key}]], in double brackets, on a line of its own, and its keys below",
}
"""What to do about each kind of error that pydantic finds."""

_EXAMPLES = {"garment": '"rib-jacket"', "name": '"zip"', "amount": "1", "price": '"14.00 / yd"'}
"""What to write where a key is missing; others are lengths."""


def first_fault(error: ValidationError, models: Mapping[str, type[BaseModel]]) -> str:
    """The first thing that pydantic found wrong with a job: where it stands, and what to write there.

    Parameters
    ----------
    models
        Of each kind of table, ``[[fabric]]`` or ``[cutting]``, what checks it.
    """
    details = error.errors()
    first = details[0]
    if not first["loc"]:  # what does not go together
        return str(first.get("ctx", {}).get("error", first["msg"]))
    table, *path = [part for part in first["loc"] if not str(part).startswith(("function", "union"))]
    where, key = [str(table)], str(table)
    if key in models:
        is_list = any(isinstance(part, int) for part in path[:1]) or first["type"] in ("tuple_type", "model_type")
        head = f"[[{key}]]" if is_list else f"[{key}]"
        where = [head, *(f"number {part + 1}" if isinstance(part, int) else str(part) for part in path)]
        key = str(path[-1]) if path and isinstance(path[-1], str) else key
    if first["type"] in ("missing", "extra_forbidden"):
        where.pop()
    cause = first.get("ctx", {}).get("error")
    if first["type"] == "extra_forbidden":
        said = unknown_key(key, list(models[str(table)].model_fields))
    elif first["type"] in _SAYINGS:
        example = _EXAMPLES.get(key, '"45 in"')
        numbers = first.get("ctx", {})
        said = _SAYINGS[first["type"]].format(key=key, got=_got(first["input"]), example=example, **numbers)
    else:
        said = str(cause) if cause else first["msg"]
    more = f" (and {len(details) - 1} more)" if len(details) > 1 else ""
    return f"{' '.join(where)}: {said}{more}" if where else said + more


def _got(value: Any) -> str:
    """A value as a job file has it, cut short."""
    if isinstance(value, dict | list):
        return "a table" if isinstance(value, dict) else "a list"
    text = str(value).lower() if isinstance(value, bool) else f'"{value}"' if isinstance(value, str) else str(value)
    return text if len(text) <= 40 else text[:40] + "…"
