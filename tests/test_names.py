"""One name, one meaning: no two public classes or types of the packages have the same name."""

from __future__ import annotations

import ast
from collections import defaultdict
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

ROOT = Path(__file__).parents[1]

ALLOWED: dict[str, str] = {}
"""Names that two modules may define, each with the reason."""


def names(source: str) -> Iterator[str]:
    """Public classes, and names of types, that a module defines."""
    for node in ast.parse(source).body:
        if isinstance(node, ast.ClassDef):
            name = node.name
        elif isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name):
            name = node.targets[0].id
        elif isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
            name = node.target.id
        else:
            continue
        if name[0].isupper() and not name.isupper():
            yield name


def test_names_are_found() -> None:
    """Classes, aliases and annotated aliases count; constants, functions and what is private do not."""
    source = (
        'class One:\n    class Inner: ...\nTwo = int | str\nThree: TypeAlias = "int"\nFOUR = 4\n'
        "five = 5\n_Six = int\ndef Seven(): ...\nT = TypeVar('T')\n"
    )
    assert list(names(source)) == ["One", "Two", "Three"]


def test_one_name_one_meaning() -> None:
    """A public name of a type is defined once in all three packages, but for those that are listed with a reason."""
    found = defaultdict(list)
    for package in ("pieces", "nesting", "reports"):
        for path in sorted((ROOT / package).rglob("*.py")):
            for name in set(names(path.read_text(encoding="utf-8"))):
                found[name].append(str(path.relative_to(ROOT)))
    assert len(found) > 300  # they are found at all
    assert {name: files for name, files in found.items() if len(files) > 1 and name not in ALLOWED} == {}
    assert all(len(found[name]) > 1 for name in ALLOWED)  # none is listed that need not be
