"""The names that a package shows, imported when they are asked for: whoever needs one of them loads no others."""

from __future__ import annotations

import sys
from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping


def shown(package: str, modules: Mapping[str, str]) -> tuple[Callable[[str], Any], Callable[[], list[str]]]:
    """The `__getattr__` and the `__dir__` of a package.

    Parameters
    ----------
    modules
        The module that has each name, as it is called in the package.
    """

    def get(name: str) -> Any:
        if name not in modules:
            raise AttributeError(f"module {package!r} has no attribute {name!r}")
        return getattr(import_module(f"{package}.{modules[name]}"), name)

    def known() -> list[str]:
        return sorted({*vars(sys.modules[package]), *modules})

    return get, known
