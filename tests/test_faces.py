"""The public faces of the packages, and what importing them costs."""

from __future__ import annotations

import ast
import importlib
import subprocess
import sys
from pathlib import Path

import pytest

from pieces.face import shown

PACKAGES = ("pieces", "nesting", "reports")
FACES = {"pieces": 10, "nesting": 11, "reports": 10}
"""The faces, and how many names each has at the most."""

HEAVY = ("numpy", "shapely", "matplotlib", "ortools", "numba", "pieces.garments")


def files(package: str) -> set[str]:
    """Names of a package's own modules."""
    module = importlib.import_module(package)
    assert module.__file__
    return {path.stem for path in Path(module.__file__).parent.glob("[a-z]*.py")}


@pytest.mark.parametrize("package", PACKAGES)
def test_typed(package: str) -> None:
    """Every package tells type checkers that it is typed."""
    module = importlib.import_module(package)
    assert module.__file__ and (Path(module.__file__).parent / "py.typed").exists()


@pytest.mark.parametrize("package", FACES)
def test_face_is_sorted_and_whole(package: str) -> None:
    """What `__all__` lists is sorted (constants first, as ruff sorts it), few, and there."""
    module = importlib.import_module(package)
    face = list(module.__all__)
    assert face == sorted(set(face), key=lambda name: (not name.isupper(), name)) and len(face) <= FACES[package]
    assert all(getattr(module, name) is not None for name in face)


@pytest.mark.parametrize("package", FACES)
def test_face_hides_no_file(package: str) -> None:
    """No file is named as something the face exports."""
    module = importlib.import_module(package)
    assert not files(package) & set(module.__all__)


@pytest.mark.parametrize("package", FACES)
def test_face_is_complete(package: str) -> None:
    """Every class or function that a face imports is listed."""
    module = importlib.import_module(package)
    public = {
        name
        for name, value in vars(module).items()
        if not name.startswith("_") and getattr(value, "__module__", "").startswith(PACKAGES)
    }
    assert public <= set(module.__all__)


@pytest.mark.parametrize("package", FACES)
def test_face_says_where_its_names_are(package: str) -> None:
    """The names that are imported when asked for are those that type checkers are told of."""
    module = importlib.import_module(package)
    source = Path(module.__file__ or "").read_text(encoding="utf-8")
    told = {
        alias.name: node.module
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.ImportFrom) and node.module and node.module.startswith(f"{package}.")
        for alias in node.names
        if not alias.asname
    }
    found = {name: importlib.import_module(where) for name, where in told.items()}
    assert set(told) == set(module.__all__) and set(told) <= set(dir(module))
    assert all(getattr(module, name) is getattr(where, name) for name, where in found.items())
    with pytest.raises(AttributeError, match="no attribute 'nothing'"):
        module.nothing  # noqa: B018


def test_shown_where_it_is() -> None:
    """A name is that of the module that is said to have it."""
    get, known = shown("pieces", {"INCH": "units"})
    assert get("INCH") == 25.4 and "INCH" in known()


@pytest.mark.parametrize("package", PACKAGES)
def test_light_imports(package: str) -> None:
    """Importing a package alone loads none of the heavy libraries."""
    script = f"import sys, {package}; print([name for name in {HEAVY} if name in sys.modules])"
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
