"""Tests mirror the packages: each module has a test file of its name, or is listed with the one that tests it."""

from __future__ import annotations

import ast
import tomllib
from fnmatch import fnmatchcase
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PACKAGES = ("pieces", "nesting", "reports")
LISTED: dict[str, dict[str, str]] = tomllib.loads((ROOT / "tests" / "mirror.toml").read_text(encoding="utf-8"))
"""Modules that others' tests test, and modules without any, each with the reason."""


def modules() -> list[str]:
    """Every module but those that only hold a package's face, which `tests/test_faces.py` tests."""
    found = (path.relative_to(ROOT) for name in PACKAGES for path in sorted((ROOT / name).rglob("*.py")))
    return [path.as_posix() for path in found if path.stem != "__init__"]


def own_test(module: str) -> Path:
    """The test file of a module's name, in the folder that mirrors its own."""
    path = Path(module)
    return ROOT / "tests" / path.parent / f"test_{path.name}"


def imported(path: Path) -> set[str]:
    """Modules that a file imports, and names that it takes from them."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found |= {node.module, *(f"{node.module}.{alias.name}" for alias in node.names)}
    return found


def test_what_is_imported_is_found(tmp_path: Path) -> None:
    """A module, one taken out of its package, and one within a function."""
    path = tmp_path / "a.py"
    path.write_text("import a.b\nfrom c import d\ndef f():\n    from e.f import g\n")
    assert imported(path) == {"a.b", "c", "c.d", "e.f", "e.f.g"}


def test_each_module_has_a_test_of_its_name_or_is_listed() -> None:
    """None is listed twice, none that has a test of its own, and none that is not there."""
    without = [module for module in modules() if not own_test(module).is_file()]
    together = {module for module in without if any(fnmatchcase(module, pattern) for pattern in LISTED["together"])}
    assert len(modules()) > 300  # they are found at all
    assert sorted([*together, *LISTED["tested_by"], *LISTED["through"]]) == sorted(without)


@pytest.mark.parametrize("module", LISTED["tested_by"])
def test_a_module_tested_by_another_file_is_imported_there(module: str) -> None:
    """The file that is named is there, and takes the module into its hands."""
    named = module.removesuffix(".py").replace("/", ".")
    assert named in imported(ROOT / LISTED["tested_by"][module])


@pytest.mark.parametrize("pattern", LISTED["together"])
def test_no_pattern_is_idle(pattern: str) -> None:
    """Each stands for a module without a test of its own; the test that goes over them is there."""
    assert any(fnmatchcase(module, pattern) and not own_test(module).is_file() for module in modules())
    assert (ROOT / LISTED["together"][pattern]).is_file()


@pytest.mark.parametrize("module", LISTED["through"])
def test_a_module_behind_a_face_has_the_test_that_is_named(module: str) -> None:
    """The file is there."""
    assert (ROOT / LISTED["through"][module]).is_file()
