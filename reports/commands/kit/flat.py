"""Groups of options spread out: a command names a group once, and typer sees each of its options."""

from __future__ import annotations

from inspect import Parameter, Signature, cleandoc, signature
from typing import TYPE_CHECKING, Any, get_type_hints

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator


def flat(run: Callable[..., None]) -> Callable[..., None]:
    """A command that takes the options of each group one by one; a group is a named tuple of annotated options."""
    hints = get_type_hints(run, include_extras=True)
    groups = {name: kind for name, kind in hints.items() if hasattr(kind, "_field_defaults")}

    def command(**given: Any) -> None:
        for name, kind in groups.items():
            given[name] = kind(**{option: given.pop(option) for option in kind._fields})
        run(**given)

    parameters = [
        option
        for name, parameter in signature(run).parameters.items()
        for option in (
            _options(groups[name])
            if name in groups
            else [parameter.replace(annotation=hints[name], kind=Parameter.KEYWORD_ONLY)]
        )
    ]
    command.__doc__, command.__name__ = cleandoc(run.__doc__ or ""), run.__name__
    command.__annotations__ = {option.name: option.annotation for option in parameters}
    command.__signature__ = Signature(parameters)  # type: ignore[attr-defined]
    return command


def _options(group: Any) -> Iterator[Parameter]:
    hints = get_type_hints(group, include_extras=True)
    for name in group._fields:
        default = group._field_defaults.get(name, Parameter.empty)
        yield Parameter(name, Parameter.KEYWORD_ONLY, default=default, annotation=hints[name])
