"""The options of a question as the page sends them, checked by what the question says of its own."""

from __future__ import annotations

from types import NoneType
from typing import TYPE_CHECKING, Annotated, Any, Literal, get_args, get_origin, get_type_hints

from pieces.body.sizes import TABLES
from pieces.errors import unknown_key
from reports.page.errors import FieldFault, FieldsError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reports.asking.question import Question

SEED = "seed"
"""The one option that all questions have."""

BUILT_IN = {"sizes": tuple(TABLES)}
"""Tables are those built in: no file on this machine is read."""


def options_of(question: Question[Any, Any], sent: dict[str, Any]) -> tuple[Any, int]:
    """The options of a question and the seed; FieldsError if one is unknown or makes no sense."""
    hints = get_type_hints(question.Options, include_extras=True)
    hints = {field: hint for field, hint in hints.items() if field not in question.command_only}
    fields = {_sent_as(field, hint): (field, hint) for field, hint in hints.items()}
    given: dict[str, Any] = {}
    seed = 0
    for key, value in sent.items():
        if key == SEED:
            seed = _checked(key, value, int)
        elif key in fields:
            field, hint = fields[key]
            given[field] = _checked(key, value, hint)
        else:
            raise _fault(key, unknown_key(key, [*fields, SEED]))
    return question.Options(**given), seed


def _sent_as(field: str, hint: Any) -> str:
    """What the page calls an option: as the command line does, without dashes."""
    declared = next(((part.default, *(part.param_decls or ())) for part in get_args(hint)[1:]), ())
    named = [name for name in declared if isinstance(name, str) and name.startswith("--")]
    return named[0].removeprefix("--") if named else field


def _checked(key: str, value: Any, hint: Any) -> Any:
    """A value of an option's type."""
    kind = get_args(hint)[0] if get_origin(hint) is Annotated else hint
    choices = _choices(kind) or BUILT_IN.get(key, ())
    is_number = kind is int
    if kind is bool:
        if type(value) is not bool:
            raise _fault(key, f"write true or false, not {value!r}")
        return value
    if type(value) is not (int if is_number else str) or (is_number and not 0 <= int(value) < 2**31):
        said = "a whole number, 0 or more" if is_number else "text"
        raise _fault(key, f"write {said}, not {value!r}")
    if choices and value not in choices:
        raise _fault(key, f"{value!r} is not one of {', '.join(choices)}")
    return value


def _choices(kind: Any) -> Sequence[str]:
    """What an option allows; empty if it is not chosen from a list."""
    if get_origin(kind) is Literal:
        return get_args(kind)
    return next((_choices(one) for one in get_args(kind) if one is not NoneType), ())


def _fault(key: str, message: str) -> FieldsError:
    return FieldsError([FieldFault(f"options.{key}", message)])
